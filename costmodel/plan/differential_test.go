package plan_test

import (
	"math"
	"math/rand"
	"testing"

	"piececost/costmodel/kernel"
	"piececost/costmodel/plan"
)

// lanes are the inputs at which every graph is evaluated.
var lanes = [][]float64{{1, 2, 3}, {60000, 0.5, 7}, {0.25, 0.1, -3}, {3, 3, 3}}

// A tally counts what the differential test saw, so that it can't pass by looking away.
type tally struct {
	graphs, cells, compared, doubtful, broken int
	codes                                     map[kernel.Code]int
}

// TestReadingsAgree compares, for random graphs of random equations, four readings of every cell: the slow reference
// (formula.Eval, cell by cell), the compiled plan, the plan without folding, and programs over a block of lanes.
func TestReadingsAgree(t *testing.T) {
	seen := &tally{codes: map[kernel.Code]int{}}
	for seed := range 2000 {
		s := source{random: rand.New(rand.NewSource(int64(seed)))}
		if compare(t, generate(t, s), seen); t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
	t.Logf("%d graphs, %d values: %d compared, %d too close to call, %d not to be had; operations %v",
		seen.graphs, seen.cells, seen.compared, seen.doubtful, seen.broken, seen.codes)
	if seen.compared < 3*seen.cells/4 || seen.doubtful > seen.cells/20 {
		t.Errorf("%d of %d values compared, %d too close to call", seen.compared, seen.cells, seen.doubtful)
	}
	for code := kernel.Linear; code <= kernel.Call2; code++ {
		if seen.codes[code] < 100 {
			t.Errorf("operation %d met %d times only", code, seen.codes[code])
		}
	}
}

// FuzzPlan lets bytes make the choices of the generator.
func FuzzPlan(f *testing.F) {
	for seed := range 20 {
		b := make([]byte, 50*(seed+1))
		rand.New(rand.NewSource(int64(seed))).Read(b)
		f.Add(b)
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		if len(b) > 4000 {
			return
		}
		compare(t, generate(t, source{bytes: b}), &tally{codes: map[kernel.Code]int{}})
	})
}

// compare holds the readings of one graph against each other. Cells that nothing keeps from being compiled are wanted:
// they must compile without an error.
func compare(t *testing.T, g *memGraph, seen *tally) {
	t.Helper()
	refs := make([]*reference, len(lanes))
	for i, inputs := range lanes {
		refs[i] = newReference(t, g, inputs)
	}
	var wanted, optional []plan.Cell
	for _, c := range g.cells() {
		sound := true
		for _, r := range refs {
			sound = sound && !r.cell(c).broken
		}
		if sound {
			wanted = append(wanted, c)
		} else {
			optional = append(optional, c)
		}
	}
	seen.graphs++
	for _, plain := range []bool{false, true} {
		p, errs := plan.Compile(g, wanted, plan.Options{Inputs: inputColumns, Optional: optional, Plain: plain})
		if len(errs) > 0 {
			t.Errorf("plain %v: %v\n%s", plain, errs, g.about(wanted...))
			return
		}
		compareValues(t, g, p, refs, seen)
		comparePrograms(t, g, p, refs, seen)
		if !plain {
			compareNarrow(t, g, p)
		}
	}
}

func compareValues(t *testing.T, g *memGraph, p *plan.Compiled, refs []*reference, seen *tally) {
	t.Helper()
	for lane, inputs := range lanes {
		values := p.Values(inputs)
		for _, c := range g.cells() {
			n := refs[lane].cell(c)
			seen.cells++
			switch {
			case !p.Has(c) && !n.broken:
				t.Errorf("%s is not compiled\n%s", g.labels([]plan.Cell{c}), g.about(c))
			case !p.Has(c) || !finite(n.v):
				seen.broken++
			case n.doubt || 8*n.err > tolerance(n):
				seen.doubtful++
			default:
				seen.compared++
				differ(t, g, c, lane, "Values", values[c], n)
			}
		}
	}
}

// tolerance is 1e-9 of the value, or of the largest operand on the way to it.
func tolerance(n number) float64 { return 1e-9 * max(math.Abs(n.v), n.most) }

func differ(t *testing.T, g *memGraph, c plan.Cell, lane int, reading string, got float64, n number) {
	t.Helper()
	if t.Failed() {
		return // one is enough to look at
	}
	limit := min(tolerance(n), max(1e-9*math.Abs(n.v), 8*n.err))
	if !(math.Abs(got-n.v) <= limit) {
		t.Errorf("%s at %v is %v by %s, %v by the reference (within %v)\n%s", g.labels([]plan.Cell{c}), lanes[lane], got, reading, n.v, limit, g.about(c))
	}
}

// comparePrograms runs a program of all compiled cells, and one of a few whose columns are used again and again.
func comparePrograms(t *testing.T, g *memGraph, p *plan.Compiled, refs []*reference, seen *tally) {
	t.Helper()
	var all, few []plan.Cell
	for i, c := range g.cells() {
		if p.Has(c) {
			all = append(all, c)
			if i%7 == 0 {
				few = append(few, c)
			}
		}
	}
	for _, cells := range [][]plan.Cell{all, few} {
		program := p.Program(cells)
		for _, op := range program.Kernel.Ops {
			seen.codes[op.Code]++
		}
		s := program.Kernel.NewScratch(len(lanes))
		for lane, inputs := range lanes {
			for i, v := range inputs {
				s.Column(i)[lane] = v
			}
		}
		s.Run(len(lanes))
		s.Run(len(lanes)) // inputs and constants are still there
		for i, c := range cells {
			for lane := range lanes {
				n := refs[lane].cell(c)
				if n.doubt || !finite(n.v) || 8*n.err > tolerance(n) {
					continue
				}
				differ(t, g, c, lane, "Program", outputAt(program, s, i, lane), n)
			}
		}
	}
}

// compareNarrow fixes the inputs at the first lane and moves one of them to where other lanes have it.
func compareNarrow(t *testing.T, g *memGraph, p *plan.Compiled) {
	t.Helper()
	var cells []plan.Cell
	for _, c := range g.cells() {
		if p.Has(c) {
			cells = append(cells, c)
		}
	}
	point := p.At(cells, lanes[0])
	for input := range inputColumns {
		program := point.Program(input)
		s := program.Kernel.NewScratch(2)
		moved := [][]float64{append([]float64(nil), lanes[0]...), append([]float64(nil), lanes[0]...)}
		for lane, from := range []int{1, 2} {
			moved[lane][input] = lanes[from][input]
			s.Column(0)[lane] = lanes[from][input]
		}
		s.Run(2)
		for lane := range moved {
			r := newReference(t, g, moved[lane])
			for i, c := range cells {
				if n := r.cell(c); !n.broken && !n.doubt && finite(n.v) && 8*n.err <= tolerance(n) {
					differ(t, g, c, lane, "a narrow program", outputAt(program, s, i, lane), n)
				}
			}
		}
	}
}

func outputAt(p *plan.Program, s *kernel.Scratch, output, lane int) float64 {
	if o := p.Outputs[output]; o.Column >= 0 {
		return s.Column(o.Column)[lane]
	}
	return p.Outputs[output].Const
}
