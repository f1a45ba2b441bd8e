package kernel_test

import (
	"fmt"
	"math"
	"math/rand"
	"testing"

	"piececost/costmodel/kernel"
)

// The columns of the programs under test: three inputs and a result, each between guard columns that nothing may touch.
const (
	colA, colB, colC, colD, colDst, columns = 1, 3, 5, 7, 9, 11

	guard = -987654.321
)

// An opCase is an operation and its plain reading for one lane.
type opCase struct {
	name string
	op   kernel.Op
	want func(a, b, c, d, dst float64) float64
}

func terms(factors ...float64) []kernel.Term {
	slots := []int32{colA, colB, colC, colD}
	out := make([]kernel.Term, len(factors))
	for i, f := range factors {
		out[i] = kernel.Term{Slot: slots[i%len(slots)], Factor: f}
	}
	return out
}

func opCases() []opCase {
	cases := []opCase{
		{"mul", kernel.Op{Code: kernel.Mul}, func(a, b, _, _, _ float64) float64 { return a * b }},
		{"div", kernel.Op{Code: kernel.Div}, func(a, b, _, _, _ float64) float64 { return a / b }},
		{"ceil", kernel.Op{Code: kernel.Ceil, S: 1}, func(a, _, _, _, _ float64) float64 { return math.Ceil(a - 1e-9) }},
		{"ceil of a multiple", kernel.Op{Code: kernel.Ceil, S: -1.5, K: 7}, func(a, _, _, _, _ float64) float64 { return math.Ceil(7 - 1.5*a - 1e-9) }},
		{"ceil, at least", kernel.Op{Code: kernel.CeilMax, S: 2, K: 1, K2: 2.5}, func(a, _, _, _, _ float64) float64 {
			return math.Max(math.Ceil(1+2*a-1e-9), 2.5)
		}},
		{"max", kernel.Op{Code: kernel.Max}, func(a, b, _, _, _ float64) float64 { return greater(a, b) }},
		{"max of a constant", kernel.Op{Code: kernel.MaxConst, K: 2.5}, func(a, _, _, _, _ float64) float64 { return greater(a, 2.5) }},
		{"min", kernel.Op{Code: kernel.Min}, func(a, b, _, _, _ float64) float64 { return -greater(-a, -b) }},
		{"min of a constant", kernel.Op{Code: kernel.MinConst, K: 2.5}, func(a, _, _, _, _ float64) float64 { return -greater(-a, -2.5) }},
		{"less", kernel.Op{Code: kernel.Less}, func(a, b, _, _, _ float64) float64 { return truth(a < b) }},
		{"less or equal", kernel.Op{Code: kernel.LessEq}, func(a, b, _, _, _ float64) float64 { return truth(a <= b) }},
		{"equal", kernel.Op{Code: kernel.Equal}, func(a, b, _, _, _ float64) float64 { return truth(a == b) }},
		{"select", kernel.Op{Code: kernel.Select, A: colC, B: colA, C: colB}, func(a, b, c, _, _ float64) float64 {
			if c != 0 {
				return a
			}
			return b
		}},
		{"call of one", kernel.Op{Code: kernel.Call1, Fn: func(v []float64) float64 { return math.Sqrt(v[0]) + float64(len(v)) }},
			func(a, _, _, _, _ float64) float64 { return math.Sqrt(a) + 1 }},
		{"call of two", kernel.Op{Code: kernel.Call2, Fn: func(v []float64) float64 { return math.Hypot(v[0], v[1]) + float64(len(v)) }},
			func(a, b, _, _, _ float64) float64 { return math.Hypot(a, b) + 2 }},
	}
	for n := range 14 { // sums of 0 to 13 terms, which run in passes of 4, 2 and 1
		factors := make([]float64, n)
		for i := range factors {
			factors[i] = float64(i) - 2.25
		}
		cases = append(cases,
			opCase{fmt.Sprintf("linear of %d", n), kernel.Op{Code: kernel.Linear, K: 0.75, Terms: terms(factors...)},
				func(a, b, c, d, _ float64) float64 { return total(0.75, factors, a, b, c, d) }},
			opCase{fmt.Sprintf("accumulate %d", n), kernel.Op{Code: kernel.Accumulate, Terms: terms(factors...)},
				func(a, b, c, d, dst float64) float64 { return total(dst, factors, a, b, c, d) }})
	}
	return cases
}

// greater is max, and NaN where one side is.
func greater(a, b float64) float64 {
	switch {
	case a != a || b != b:
		return math.NaN()
	case a > b:
		return a
	}
	return b
}

func truth(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

func total(v float64, factors []float64, columns ...float64) float64 {
	for i, f := range factors {
		v += f * columns[i%len(columns)]
	}
	return v
}

// TestOpsAgainstPlainLoops runs each operation over blocks of several lengths and compares it lane by lane. Sums may be
// taken in another order; everything else is the same to the bit.
func TestOpsAgainstPlainLoops(t *testing.T) {
	for _, c := range opCases() {
		for _, n := range []int{0, 1, 3, 1023, kernel.Lanes} {
			t.Run(fmt.Sprintf("%s/%d", c.name, n), func(t *testing.T) { runOp(t, c, n) })
		}
	}
}

func runOp(t *testing.T, c opCase, n int) {
	op := c.op
	op.Dst = colDst
	if op.Code != kernel.Select {
		op.A, op.B, op.C = colA, colB, colC
	}
	p := kernel.Program{Ops: []kernel.Op{op}, Inputs: columns, Slots: columns}
	s := p.NewScratch(kernel.Lanes)
	fill(s)
	before := make([][]float64, columns)
	for i := range before {
		before[i] = append([]float64(nil), s.Column(i)...)
	}
	s.Run(n)
	for i := range columns {
		first := 0
		if i == colDst {
			first = n // lanes beyond the block stay as they were
		}
		for lane := first; lane < kernel.Lanes; lane++ {
			if !identical(s.Column(i)[lane], before[i][lane]) {
				t.Fatalf("lane %d of column %d was written", lane, i)
			}
		}
	}
	for lane := range n {
		a, b, cc, d := before[colA][lane], before[colB][lane], before[colC][lane], before[colD][lane]
		dst := before[colDst][lane]
		got, want := s.Column(colDst)[lane], c.want(a, b, cc, d, dst)
		operands := math.Abs(a) + math.Abs(b) + math.Abs(cc) + math.Abs(d) + math.Abs(op.K)
		if op.Code == kernel.Accumulate {
			operands += math.Abs(dst)
		}
		if op.Terms != nil && !math.IsInf(operands, 0) && math.Abs(got-want) <= 1e-14*operands {
			continue
		}
		if !identical(got, want) {
			t.Fatalf("lane %d of %v, %v, %v, %v: %v, want %v", lane, a, b, cc, d, got, want)
		}
	}
}

// fill puts guards everywhere, and numbers of all kinds into the inputs: small whole ones, so that equal ones meet, large
// and tiny ones, and the special ones in every combination of two.
func fill(s *kernel.Scratch) {
	r := rand.New(rand.NewSource(1))
	for i := range columns {
		for lane := range s.Column(i) {
			s.Column(i)[lane] = guard
		}
	}
	special := []float64{0, math.Copysign(0, -1), 1, -1, math.Inf(1), math.Inf(-1), math.NaN()}
	for _, i := range []int{colA, colB, colC, colD} {
		for lane := range s.Column(i) {
			v := float64(r.Intn(7) - 3)
			switch lane % 4 {
			case 1:
				v = r.NormFloat64() * 100
			case 2:
				v = math.Ldexp(r.Float64(), r.Intn(60)-30)
			}
			s.Column(i)[lane] = v
		}
	}
	for i, a := range special {
		for j, b := range special {
			lane := 100 + i*len(special) + j
			s.Column(colA)[lane], s.Column(colB)[lane], s.Column(colC)[lane] = a, b, a
		}
	}
}

// identical compares to the bit, except that any NaN equals any other and 0 equals -0.
func identical(a, b float64) bool { return a == b || a != a && b != b }

// TestPassesSpecialValues spells out what becomes of NaN and infinity in one row, where the loops above compare with
// plain Go: they pass through, and a condition of NaN is false.
func TestPassesSpecialValues(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		code       kernel.Code
		a, b, want float64
	}{
		{kernel.Max, nan, 1, nan}, {kernel.Max, 1, nan, nan}, {kernel.Min, nan, 1, nan}, {kernel.Min, 1, nan, nan},
		{kernel.Max, inf, 1, inf}, {kernel.Min, 1, -inf, -inf}, {kernel.Div, 1, 0, inf}, {kernel.Div, 0, 0, nan},
		{kernel.Mul, 0, inf, nan}, {kernel.Less, nan, 1, 0}, {kernel.LessEq, nan, nan, 0}, {kernel.Equal, nan, nan, 0},
		{kernel.Equal, inf, inf, 1}, {kernel.Less, inf, inf, 0}, {kernel.LessEq, -inf, inf, 1}, {kernel.MaxConst, nan, 0, nan},
		{kernel.MinConst, nan, 0, nan}, {kernel.Ceil, nan, 0, nan}, {kernel.CeilMax, nan, 0, nan}, {kernel.Ceil, inf, 0, inf},
	} {
		p := kernel.Program{Ops: []kernel.Op{{Code: c.code, Dst: 2, A: 0, B: 1, S: 1}}, Inputs: 2, Slots: 3}
		if got := runOne(&p, c.a, c.b); !identical(got, c.want) {
			t.Errorf("operation %d of %v and %v gives %v, want %v", c.code, c.a, c.b, got, c.want)
		}
	}
}

// runOne runs a program of two inputs for one lane; its result is column 2.
func runOne(p *kernel.Program, a, b float64) float64 {
	s := p.NewScratch(1)
	s.Column(0)[0], s.Column(1)[0] = a, b
	s.Run(1)
	return s.Column(2)[0]
}
