package plan_test

import (
	"fmt"
	"math"
	"math/rand"
	"strings"
	"testing"

	"piececost/costmodel/kernel"
	"piececost/costmodel/plan"
)

// checkPieces walks over a cell and holds every piece against the kernel at every volume: the pieces follow each other,
// nothing changes inside one, something changes where the next begins, and the smooth curve is the cell.
func checkPieces(t *testing.T, name string, p *plan.Compiled, inputs []float64, cell plan.Cell, from, to int) (pieces, open int) {
	t.Helper()
	program := p.Program([]plan.Cell{cell})
	s := program.Kernel.NewScratch(kernel.Lanes)
	for i, v := range inputs {
		for j := range s.Column(i) {
			s.Column(i)[j] = v
		}
	}
	w := p.Pieces(cell, inputs, from, to)
	at, before := from, 0
	for w.Next() {
		pc := w.Piece()
		if pc.From != at || pc.To < pc.From || pc.To > to {
			t.Fatalf("%s: piece %d..%d begins where %d should", name, pc.From, pc.To, at)
		}
		if doubled := pc.From == 2*before+1; (len(pc.Switched) == 0) != (pieces == 0) && !doubled {
			t.Errorf("%s: piece %d..%d: %d jumps", name, pc.From, pc.To, len(pc.Switched))
		}
		for n := pc.From; n <= pc.To; n++ {
			if !w.Stands(n) {
				t.Fatalf("%s: piece %d..%d: a decision changes at %d", name, pc.From, pc.To, n)
			}
		}
		if pc.To < to && pc.To != 2*pc.From && w.Stands(pc.To+1) {
			t.Errorf("%s: piece %d..%d: nothing changes at its end", name, pc.From, pc.To)
		}
		if pc.Cell.Open {
			open++
		} else {
			checkSmooth(t, name, pc, program, s)
		}
		pieces++
		at, before = pc.To+1, pc.From
	}
	if at != to+1 {
		t.Fatalf("%s: the pieces end at %d, not %d", name, at-1, to)
	}
	return pieces, open
}

func checkSmooth(t *testing.T, name string, pc *plan.Piece, program *plan.Program, s *kernel.Scratch) {
	t.Helper()
	for from := pc.From; from <= pc.To; from += kernel.Lanes {
		count := min(kernel.Lanes, pc.To-from+1)
		for i := range count {
			s.Column(0)[i] = float64(from + i)
		}
		s.Run(count)
		for i := range count {
			want := program.Outputs[0].Const
			if c := program.Outputs[0].Column; c >= 0 {
				want = s.Column(c)[i]
			}
			if got := pc.Cell.At(float64(from + i)); !(math.Abs(got-want) <= pc.Cell.Slack) {
				t.Fatalf("%s: piece %d..%d at %d: %v, the kernel says %v; slack %v", name, pc.From, pc.To, from+i, got, want, pc.Cell.Slack)
			}
		}
	}
}

// pieceCases are equations over the volume n and what must be found: the starts of the pieces up to 400, and whether they
// have such a curve.
var pieceCases = []struct {
	equation string
	starts   string
	open     bool
}{
	{"n * 3 + 2", "1", false},
	{"ceil(n / 100)", "1 101 201 301", false},
	{"ceil(n / 100) / n", "1 101 201 301", false},
	{"max(2, ceil(n / 100))", "1 201 301", false},
	{"max(2.5, ceil(n / 100))", "1 201 301", false}, // the least is no whole number
	{"max(0.98, ceil(n / 100 - 0.57))", "1 58 158 258 358", false},
	{"max(n, 150) + ceil(n * 0.01)", "1 101 151 201 301", false},
	{"n > 99 ? 5 : 7", "1 100", false},
	{"n >= 99.5 ? n : 2 * n", "1 100", false},
	{"ceil(100 / n)", "1 2 3 4 5 6 7 8 9 10 12 13 15 17 20 25 34 50 100", false},
	{"ceil(n / 40 + 160 / n)", "1 2 3 4 5 6 7 8 9 10 11 12 13 14 16 17 19 22 26 31 40 80 81 161 210 255 299 342 384", false}, // falls, then rises
	{"ceil(n / 70 - 3)", "1 71 141 211 281 351", false},
	{"min(ceil(n / 70), ceil(n / 30) - 2)", "1 31 61 71 91 121 141 151 181 211 241 271 281 301 331 351 361 391", false},
	{"(ceil(n / 150) * 10 + n) * (3 / (ceil(n / 150) * 10 + n))", "1 151 301", false}, // a pole that is spent again
	{"5 / (n + 30) + ceil(n / 300)", "1 301", false},
	{"n * n", "1", true},
	{"ceil(n ^ 0.5)", "1 2 5 10 17 26 37 50 65 82 101 122 145 170 197 226 257 290 325 362", false},
	{"ceil(n / 200) + n ^ 1.5", "1 201", true},
	{"interpolate(press, n / 100)", "1", true},
	{"floor(n / 100) > 1.5 ? 4 : n", "1 200", false},
	{"(n > 100 and n <= 200) ? 1 : 0", "1 101 201", false},
	{"n == 77 ? 1 : 0", "1 77 78", false},
}

// TestPieces finds the jumps of small equations.
func TestPieces(t *testing.T) {
	for _, c := range pieceCases {
		t.Run(c.equation, func(t *testing.T) {
			g := parseGraph(t, "scope s n y\nrow A\nA.n varies 0\nA.y = "+c.equation)
			wanted := g.cellsOf("A.y")
			p, errs := plan.Compile(g, wanted, plan.Options{Inputs: 1})
			if len(errs) > 0 {
				t.Fatal(errs)
			}
			_, open := checkPieces(t, c.equation, p, []float64{0}, wanted[0], 1, 400)
			var starts []string
			for w := p.Pieces(wanted[0], nil, 1, 400); w.Next(); {
				if len(w.Piece().Switched) > 0 || starts == nil {
					starts = append(starts, fmt.Sprint(w.Piece().From))
				}
			}
			if got := strings.Join(starts, " "); got != c.starts || open > 0 != c.open {
				t.Errorf("pieces begin at %s, want %s; %d open", got, c.starts, open)
			}
		})
	}
}

// TestPiecesOfRandomGraphs walks over cells of random graphs, from the first volumes on and in the thousands.
func TestPiecesOfRandomGraphs(t *testing.T) {
	pieces, open, walked := 0, 0, 0
	for seed := range int64(150) {
		g := generate(t, source{random: rand.New(rand.NewSource(seed))})
		p, errs := plan.Compile(g, nil, plan.Options{Inputs: inputColumns, Optional: g.cells()})
		if len(errs) > 0 {
			t.Fatal(errs)
		}
		for _, c := range g.cells() {
			if !p.Has(c) || !p.Varying(c) {
				continue
			}
			walked++
			for _, from := range []int{1, 99_500} {
				n, o := checkPieces(t, fmt.Sprintf("seed %d, %s", seed, g.labels([]plan.Cell{c})), p, []float64{0, 3.5, 120}, c, from, from+600)
				pieces, open = pieces+n, open+o
			}
		}
	}
	t.Logf("%d cells, %d pieces, %d of them open", walked, pieces, open)
	if pieces < 3*walked || open == 0 || open > pieces/2 {
		t.Errorf("the graphs are no test: %d cells, %d pieces, %d of them open", walked, pieces, open)
	}
}
