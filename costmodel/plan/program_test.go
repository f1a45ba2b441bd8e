package plan_test

import (
	"fmt"
	"math"
	"strings"
	"sync"
	"testing"

	"piececost/costmodel/kernel"
	"piececost/costmodel/plan"
)

// ladder is a chain of so many rows, each of which buys whole things for the row before; the last sums them all.
func ladder(t testing.TB, rows int) *memGraph {
	var b strings.Builder
	b.WriteString("scope s n need whole cost total\none before s\nmany all s\nrow V\n")
	for i := range rows {
		fmt.Fprintf(&b, "row R%d\n", i)
	}
	b.WriteString("row T\nV.need varies 0\n")
	for i := range rows {
		before := "V"
		if i > 0 {
			before = fmt.Sprintf("R%d", i-1)
		}
		fmt.Fprintf(&b, "R%d.before -> %s\nT.all => R%d\nR%d.n %d\n", i, before, i, i, i+1)
		fmt.Fprintf(&b, "R%d.need = before.need * 1.01\nR%d.whole = max(1, ceil(need / (n * 10)))\nR%d.cost = whole * n + need\n", i, i, i)
	}
	b.WriteString("T.total = sum(all.cost)")
	return parseGraph(t, b.String())
}

// ladderTotal computes the same by hand, in a loop.
func ladderTotal(rows int, need float64) float64 {
	total := 0.0
	for n := 1; n <= rows; n++ {
		need *= 1.01
		total += math.Max(1, math.Ceil(need/(10*float64(n))-1e-9))*float64(n) + need
	}
	return total
}

// TestLongSums: sums below and above 48 terms, where a linear sum becomes a register.
func TestLongSums(t *testing.T) {
	for _, rows := range []int{1, 3, 4, 5, 47, 48, 49, 50, 97, 200} {
		for _, plain := range []bool{false, true} {
			g := ladder(t, rows)
			wanted := g.cellsOf("T.total")
			p, errs := plan.Compile(g, wanted, plan.Options{Inputs: 1, Plain: plain})
			if len(errs) > 0 {
				t.Fatal(errs)
			}
			program := p.Program(wanted)
			s := program.Kernel.NewScratch(3)
			needs := []float64{0, 137.5, 4000}
			copy(s.Column(0), needs)
			s.Run(3)
			for lane, need := range needs {
				want := ladderTotal(rows, need)
				byValues, byProgram := p.Values([]float64{need})[wanted[0]], outputAt(program, s, 0, lane)
				if math.Abs(byValues-want) > 1e-12*want || math.Abs(byProgram-want) > 1e-12*want {
					t.Errorf("%d rows, plain %v, at %v: Values %v, Program %v, by hand %v", rows, plain, need, byValues, byProgram, want)
				}
			}
		}
	}
}

// TestColumnsAreReused: a program with one output of a long chain needs a few columns; one with every cell as output keeps
// them all and gives what Values gives.
func TestColumnsAreReused(t *testing.T) {
	const rows = 60
	g := ladder(t, rows)
	p, errs := plan.Compile(g, g.cellsOf("T.total"), plan.Options{Inputs: 1, Optional: g.cells()})
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	few := p.Program(g.cellsOf("T.total")).Kernel
	if few.Slots > 12 || len(few.Ops) < rows {
		t.Errorf("%d operations take %d columns", len(few.Ops), few.Slots)
	}
	var cells []plan.Cell
	for _, c := range g.cells() {
		if p.Has(c) {
			cells = append(cells, c)
		}
	}
	program := p.Program(cells)
	s := program.Kernel.NewScratch(kernel.Lanes)
	for lane := range kernel.Lanes {
		s.Column(0)[lane] = float64(lane * 13)
	}
	s.Run(kernel.Lanes)
	for lane := 0; lane < kernel.Lanes; lane += 111 {
		values := p.Values([]float64{float64(lane * 13)})
		for i, c := range cells {
			if got := outputAt(program, s, i, lane); math.Abs(got-values[c]) > 1e-12*math.Abs(values[c]) {
				t.Fatalf("%s at %d: Program %v, Values %v", g.labels([]plan.Cell{c}), lane*13, got, values[c])
			}
		}
	}
}

// TestOutputTwice: the same cell, a constant and an input may all be wanted, in any order and more than once.
func TestOutputTwice(t *testing.T) {
	g := parseGraph(t, `
		scope s x y z
		row A
		A.x varies 0
		A.y = ceil(x / 2) * 3
		A.z 9`)
	wanted := g.cellsOf("A.y A.z A.x A.y")
	p, _ := plan.Compile(g, wanted, plan.Options{Inputs: 1})
	program := p.Program(wanted)
	s := program.Kernel.NewScratch(1)
	s.Column(0)[0] = 5
	s.Run(1)
	for i, want := range []float64{9, 9, 5, 9} { // by hand: ceil(5/2)*3
		if got := outputAt(program, s, i, 0); got != want {
			t.Errorf("output %d is %v, want %v", i, got, want)
		}
	}
}

// TestPlanIsShared: programs made and run at once from one plan do not disturb each other (for the race detector).
func TestPlanIsShared(t *testing.T) {
	g := ladder(t, 55)
	wanted := g.cellsOf("T.total R7.cost")
	p, _ := plan.Compile(g, wanted, plan.Options{Inputs: 1})
	var wg sync.WaitGroup
	for i := range 4 {
		wg.Go(func() {
			program := p.Program(wanted)
			s := program.Kernel.NewScratch(1)
			s.Column(0)[0] = float64(100 * i)
			s.Run(1)
			if got, want := outputAt(program, s, 0, 0), ladderTotal(55, float64(100*i)); math.Abs(got-want) > 1e-12*want {
				t.Errorf("at %d: %v, want %v", 100*i, got, want)
			}
		})
	}
	wg.Wait()
}

// TestOrderAndNeeds: every cell comes after what it needs; Needs names the compiled cells of a definition, Varying and
// Constant tell the two kinds apart.
func TestOrderAndNeeds(t *testing.T) {
	g := parseGraph(t, `
		scope s a b c d x
		one next s
		many parts s
		row A B C
		A.next -> B
		A.parts => B C
		A.x varies 0
		A.a = next.b + sum(parts.c) + x
		A.b = 2 > 1 ? c : d
		A.c 4
		A.d = base * a | = b
		B.b = c * 2
		B.c 1
		C.c = next.x > 1 ? 1 : 2`)
	_, errs := plan.Compile(g, g.cellsOf("A.a A.b A.d"), plan.Options{Inputs: 1})
	if len(errs) != 1 || errs[0].Error() != "absent: C.c needs next.x" {
		t.Fatal(errs)
	}
	g.statement(t, "C.c 2")
	p, errs := plan.Compile(g, g.cellsOf("A.a A.b A.d"), plan.Options{Inputs: 1})
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	for label, needs := range map[string]string{
		"A.a": "B.b, B.c, C.c, A.x", "A.b": "A.c, A.d", "A.d": "A.a, A.b", "B.b": "B.c", "A.x": "", "A.c": "",
	} {
		var got []plan.Cell
		p.Needs(g.cell(label), func(c plan.Cell) { got = append(got, c) })
		if g.labels(got) != needs {
			t.Errorf("%s needs %s, not %s", label, needs, g.labels(got))
		}
	}
	place := map[plan.Cell]int{}
	for i, c := range p.Order() {
		if _, twice := place[c]; twice || !p.Has(c) {
			t.Errorf("%s stands twice or is not there", g.labels([]plan.Cell{c}))
		}
		place[c] = i
	}
	for c, at := range place {
		p.Needs(c, func(n plan.Cell) {
			if place[n] > at && g.labels([]plan.Cell{n}) != "A.d" { // named in the branch of A.b that can't be reached
				t.Errorf("%s comes before %s", g.labels([]plan.Cell{c}), g.labels([]plan.Cell{n}))
			}
		})
	}
	for label, varying := range map[string]bool{"A.a": true, "A.b": false, "A.d": true, "A.x": true, "B.b": false} {
		if _, constant := p.Constant(g.cell(label)); constant == varying || p.Varying(g.cell(label)) != varying {
			t.Errorf("%s varies: %v", label, !varying)
		}
	}
	if p.Graph() != plan.Graph(g) || p.Has(g.cell("B.a")) {
		t.Error("another graph, or a cell that nobody wants")
	}
}

// TestWhatCancelsDoesNotVary: a quantity from which the input drops out is a constant, with its value by hand.
func TestWhatCancelsDoesNotVary(t *testing.T) {
	for text, want := range map[string]float64{
		"x * 0 + 2": 2, "x - x + 3": 3, "(2 * x + 1) - (x + x)": 1, "x / x": 1, "(6 * x) / (4 * x)": 1.5, "0 / x * 7": 0, "-(x - x) * x": 0,
		"x > 1 and 1 > 2 ? x : 4": 4, "(x - x) * ceil(x) + 5": 5,
	} {
		g := parseGraph(t, "scope s x y\nrow A\nA.x varies 0\nA.y = "+text)
		p, errs := plan.Compile(g, g.cellsOf("A.y"), plan.Options{Inputs: 1})
		if v, constant := p.Constant(g.cell("A.y")); len(errs) > 0 || !constant || v != want {
			t.Errorf("%s is %v, constant %v, want %v (%v)", text, v, constant, want, errs)
		}
	}
}

// TestLocate finds every cell again in a graph of scopes of different size.
func TestLocate(t *testing.T) {
	g := parseGraph(t, `
		scope s x y z
		row A
		scope t u
		row B C
		scope v a b c d
		row D`)
	for e := range g.rows {
		for q := range g.rows[e].scope.quantities {
			gotE, gotQ := plan.Locate(g, g.first[e]+plan.Cell(q))
			if gotE != plan.Entity(e) || gotQ != int32(q) {
				t.Errorf("cell %d is located at %d, %d", g.first[e]+plan.Cell(q), gotE, gotQ)
			}
		}
	}
}
