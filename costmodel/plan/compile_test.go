package plan_test

import (
	"math"
	"strings"
	"testing"

	"piececost/costmodel/plan"
)

// TestErrors compiles small graphs that can't be computed: each mistake is said once, at its cell, and not again by what
// needs it; all are found in one compile.
func TestErrors(t *testing.T) {
	for _, c := range []struct {
		name, graph, wanted string
		errors              []string
	}{
		{"a cell that needs itself", `
			scope s x
			row A
			A.x = x + 1`, "A.x",
			[]string{"cycle: A.x"}},
		{"two that need each other", `
			scope s x y z
			row A
			A.x = y * 2
			A.y = 1 + x
			A.z = x + y`, "A.z A.x A.y",
			[]string{"cycle: A.x, A.y"}},
		{"the same, met from the other side", `
			scope s x y z
			row A
			A.x = y * 2
			A.y = 1 + x
			A.z = y + x`, "A.z",
			[]string{"cycle: A.y, A.x"}},
		{"three in a ring over rows, and one before it", `
			scope s x
			one next s
			row A B C D
			D.next -> A
			A.next -> B
			B.next -> C
			C.next -> A
			A.x = next.x + 1
			B.x = next.x * 2
			C.x = next.x - 1
			D.x = next.x`, "D.x A.x B.x C.x",
			[]string{"cycle: A.x, B.x, C.x"}},
		{"through a sum", `
			scope s x
			many parts s
			row A B C
			A.parts => B C
			C.parts => A
			A.x = sum(parts.x)
			B.x 1
			C.x = sum(parts.x)`, "A.x",
			[]string{"cycle: A.x, C.x"}},
		{"through the unchanged value", `
			scope s x y
			row A
			A.x = base * 1.1 | = y
			A.y = x`, "A.x",
			[]string{"cycle: A.x, A.y"}},
		{"two rings that do not touch", `
			scope s x y
			row A B
			A.x = y
			A.y = x
			B.x = x`, "A.x B.x",
			[]string{"cycle: A.x, A.y", "cycle: B.x"}},
		{"a row that is not there", `
			scope s x y
			one next s
			row A
			A.x = 1 + next.y
			A.y = x * x`, "A.y A.x",
			[]string{"absent: A.x needs next.y"}},
		{"a quantity that is not given", `
			scope s x y
			row A
			A.x = y + y`, "A.x",
			[]string{"A.y is not given"}},
		{"what the graph has reported already", `
			scope s x y
			row A
			A.x = y + 1
			A.y failed`, "A.x",
			nil},
		{"division by a constant zero", `
			scope s x y z
			row A B
			A.x = y / z
			A.y varies 0
			A.z 0
			B.x = 1
			B.y = x / (x - 1)`, "A.x B.y",
			[]string{"not finite: A.x", "not finite: B.y"}},
		{"no number at all", `
			scope s x y z
			row A
			A.x = sqrt(-1)
			A.y = ln(0)
			A.z = x + y`, "A.z A.y A.x",
			[]string{"not finite: A.x", "not finite: A.y"}},
		{"a factor beyond all numbers", `
			scope s x
			row A B
			A.x varies 0
			B.x = 1e308 * 100 * pi`, "B.x",
			[]string{"not finite: B.x"}},
		{"all kinds at once", `
			scope s w x y z
			one next s
			row A
			A.w = w
			A.x = next.x
			A.y = 0 / 0
			A.z = w + x + y`, "A.z A.w A.x A.y",
			[]string{"cycle: A.w", "absent: A.x needs next.x", "not finite: A.y"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			g := parseGraph(t, c.graph)
			_, errs := plan.Compile(g, g.cellsOf(c.wanted), plan.Options{Inputs: 1})
			var got []string
			for _, err := range errs {
				got = append(got, err.Error())
			}
			if strings.Join(got, "; ") != strings.Join(c.errors, "; ") {
				t.Errorf("got %q\nwant %q", got, c.errors)
			}
		})
	}
}

// TestReportedCellIsNotThere: a cell that failed for a reason known already makes no error, but has no value either.
func TestReportedCellIsNotThere(t *testing.T) {
	g := parseGraph(t, `
		scope s x y z
		row A
		A.x = y + 1
		A.y failed
		A.z 3`)
	p, errs := plan.Compile(g, g.cells(), plan.Options{})
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	for label, want := range map[string]bool{"A.x": false, "A.y": false, "A.z": true} {
		if p.Has(g.cell(label)) != want {
			t.Errorf("%s is there: %v", label, !want)
		}
		if _, constant := p.Constant(g.cell(label)); constant != want {
			t.Errorf("%s is constant: %v", label, !want)
		}
	}
}

// TestOptionalCells: what can't be had is left out, and nothing that can be had goes with it. Values by hand at x = 4.
func TestOptionalCells(t *testing.T) {
	g := parseGraph(t, `
		scope s a b c d e f g x
		one next s
		row A
		A.x varies 0
		A.a = x * 2
		A.b = next.a + a
		A.c = c + a
		A.d = a / 0
		A.e = b + 1
		A.f = a + ceil(x / 3)
		A.g = f * f`)
	p, errs := plan.Compile(g, g.cellsOf("A.a"), plan.Options{Inputs: 1, Optional: g.cells()})
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	values := p.Values([]float64{4})
	for label, want := range map[string]float64{"A.x": 4, "A.a": 8, "A.f": 10, "A.g": 100} {
		if c := g.cell(label); !p.Has(c) || values[c] != want {
			t.Errorf("%s is %v (there: %v), want %v", label, values[c], p.Has(c), want)
		}
	}
	for _, label := range []string{"A.b", "A.c", "A.d", "A.e"} {
		if p.Has(g.cell(label)) {
			t.Errorf("%s is there", label)
		}
	}
}

// countingGraph counts how often each cell's definition is asked for.
type countingGraph struct {
	*memGraph
	asked map[plan.Cell]int
}

func (g countingGraph) Define(e plan.Entity, quantity int32) (plan.Definition, error) {
	g.asked[g.FirstCell(e)+quantity]++
	return g.memGraph.Define(e, quantity)
}

// TestDeadBranches: behind a condition that does not vary, the other branch is never looked at, whatever is wrong with it.
func TestDeadBranches(t *testing.T) {
	for _, text := range []string{
		"is_on ? ok : dead", "not is_on ? dead : ok", "is_on or dead > 1 ? ok : dead", "is_on and 1 < 2 ? ok : dead",
		"not is_on and dead > 1 ? dead : ok", "rule.o1 ? ok : dead", "rule.o0 or rule.o2 ? dead : ok", "is_on ? ok : next.x", "ok > 1 ? ok : dead",
		"(is_on ? 1 : dead) * ok", "is_on ? (is_on ? ok : dead) : dead",
	} {
		g := countingGraph{parseGraph(t, `
			scope s is_on rule ok dead x
			one next s
			row A
			A.is_on 1
			A.rule 1
			A.ok 5
			A.dead = dead / 0
			A.x = `+text), map[plan.Cell]int{}}
		p, errs := plan.Compile(g, g.cellsOf("A.x"), plan.Options{})
		if len(errs) > 0 {
			t.Errorf("%s: %v", text, errs)
			continue
		}
		if v, constant := p.Constant(g.cell("A.x")); v != 5 || !constant {
			t.Errorf("%s is %v, constant %v", text, v, constant)
		}
		if n := g.asked[g.cell("A.dead")]; n != 0 {
			t.Errorf("%s: the dead cell was asked for %d times", text, n)
		}
	}
}

// TestLaneWithoutNumber: what is infinite at some inputs only is no error of compiling; it passes through.
func TestLaneWithoutNumber(t *testing.T) {
	g := parseGraph(t, `
		scope s x y z
		row A
		A.x varies 0
		A.y = 1 / (x - 2)
		A.z = x < 3 ? 7 : y`)
	p, errs := plan.Compile(g, g.cellsOf("A.z A.y"), plan.Options{Inputs: 1})
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	values := p.Values([]float64{2})
	if y, z := values[g.cell("A.y")], values[g.cell("A.z")]; !math.IsInf(y, 0) || z != 7 {
		t.Errorf("y is %v, z %v", y, z)
	}
}
