package kernel_test

import (
	"math"
	"testing"

	"piececost/costmodel/kernel"
)

// everyOp is a program with each operation once.
func everyOp() *kernel.Program {
	p := &kernel.Program{Inputs: columns, Slots: columns}
	for _, c := range opCases() {
		op := c.op
		op.Dst = colDst
		if op.Code != kernel.Select {
			op.A, op.B, op.C = colA, colB, colC
		}
		p.Ops = append(p.Ops, op)
	}
	return p
}

func TestRunAllocatesNothing(t *testing.T) {
	s := everyOp().NewScratch(kernel.Lanes)
	fill(s)
	for _, n := range []int{0, 1, 3, kernel.Lanes} {
		if allocs := testing.AllocsPerRun(100, func() { s.Run(n) }); allocs != 0 {
			t.Errorf("a run of %d lanes allocates %v times", n, allocs)
		}
	}
}

// TestConstColumns: a constant holds in every lane and after every run; scratches of one program share nothing.
func TestConstColumns(t *testing.T) {
	p := &kernel.Program{Inputs: 1, Slots: 3, Consts: []kernel.Const{{Slot: 1, Value: 2.5}},
		Ops: []kernel.Op{{Code: kernel.Mul, Dst: 2, A: 0, B: 1}}}
	s, other := p.NewScratch(4), p.NewScratch(4)
	for run := range 3 {
		for i := range s.Column(0) {
			s.Column(0)[i] = float64(run + i)
		}
		s.Run(4)
		for i := range 4 {
			if got, want := s.Column(2)[i], 2.5*float64(run+i); got != want || s.Column(1)[i] != 2.5 {
				t.Errorf("run %d, lane %d: %v, want %v", run, i, got, want)
			}
		}
	}
	if other.Column(2)[3] != 0 || s.Lanes() != 4 || len(s.Column(0)) != 4 || cap(s.Column(0)) != 4 {
		t.Errorf("the other scratch holds %v; a column has %d of %d lanes", other.Column(2), len(s.Column(0)), cap(s.Column(0)))
	}
}

// TestLanesAreIndependent: the operations run in order, and a lane has the same result in any block.
func TestLanesAreIndependent(t *testing.T) {
	p := &kernel.Program{Inputs: 2, Slots: 5, Ops: []kernel.Op{
		{Code: kernel.Linear, Dst: 2, K: 1, Terms: []kernel.Term{{Slot: 0, Factor: 2}, {Slot: 1, Factor: -1}}},
		{Code: kernel.Max, Dst: 3, A: 2, B: 0},
		{Code: kernel.Div, Dst: 4, A: 3, B: 1},
	}}
	whole, single := p.NewScratch(kernel.Lanes), p.NewScratch(1)
	for i := range kernel.Lanes {
		whole.Column(0)[i], whole.Column(1)[i] = float64(i%37)-5, float64(i%11)+1
	}
	whole.Run(kernel.Lanes)
	for i := range kernel.Lanes {
		a, b := whole.Column(0)[i], whole.Column(1)[i]
		single.Column(0)[0], single.Column(1)[0] = a, b
		single.Run(1)
		want := math.Max(1+2*a-b, a) / b
		if got := whole.Column(4)[i]; got != want || single.Column(4)[0] != want {
			t.Fatalf("lane %d: %v in the block, %v alone, want %v", i, got, single.Column(4)[0], want)
		}
	}
}
