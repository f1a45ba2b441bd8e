package plan_test

import (
	"fmt"
	"math/rand"
	"reflect"
	"slices"
	"strings"
	"testing"

	"piececost/costmodel/kernel"
	"piececost/costmodel/plan"
)

// TestRestart walks anew over another range, in the middle of a walk too: the pieces are those of a new walk.
func TestRestart(t *testing.T) {
	walked := func(w *plan.Walker) (out []string) {
		for w.Next() {
			out = append(out, fmt.Sprintf("%+v", *w.Piece()))
		}
		return out
	}
	for seed := range int64(20) {
		g := generate(t, source{random: rand.New(rand.NewSource(seed))})
		p, errs := plan.Compile(g, nil, plan.Options{Inputs: inputColumns, Optional: g.cells()})
		if len(errs) > 0 {
			t.Fatal(errs)
		}
		inputs := []float64{0, 3.5, 120}
		for _, c := range g.cells() {
			if !p.Has(c) || !p.Varying(c) {
				continue
			}
			w := p.Pieces(c, inputs, 1, 500)
			for range 3 {
				w.Next()
			}
			for _, from := range []int{700, 2, 40_000} {
				w.Restart(from, from+300)
				if got, want := walked(w), walked(p.Pieces(c, inputs, from, from+300)); !reflect.DeepEqual(got, want) {
					t.Fatalf("seed %d from %d: %v, want %v", seed, from, got, want)
				}
			}
		}
	}
}

// TestChanges counts what differs between two volumes.
func TestChanges(t *testing.T) {
	for _, c := range []struct {
		equation string
		from, to int
		want     float64
	}{
		{"n * 3", 1, 400, 0},
		{"ceil(n / 100)", 1, 400, 3},
		{"ceil(n / 100) + ceil(n / 7)", 1, 400, 3 + 57}, // 1 -> 4, 1 -> 58
		{"n > 99 ? ceil(n / 200) : 7", 50, 400, 1 + 1 + 1},
		{"ceil(1000 * n)", 1, 3, 2}, // never more than there are volumes
		{"ceil(40000 / (n * n)) + ceil(n / 100)", 300, 400, 1},
	} {
		g := parseGraph(t, "scope s n y\nrow A\nA.n varies 0\nA.y = "+c.equation)
		wanted := g.cellsOf("A.y")
		p, errs := plan.Compile(g, wanted, plan.Options{Inputs: 1})
		if len(errs) > 0 {
			t.Fatal(errs)
		}
		w := p.Pieces(wanted[0], []float64{0}, c.from, c.to)
		w.Next()
		if got := w.Changes(c.from, c.to); got != c.want {
			t.Errorf("%s from %d to %d: %v changes, want %v", c.equation, c.from, c.to, got, c.want)
		}
	}
}

// TestMove: a jump goes into a cell where a new piece begins with one, and nowhere else but where a function that may jump
// moves; the values are those of each lane alone.
func TestMove(t *testing.T) {
	jumped := 0
	for _, c := range pieceCases {
		g := parseGraph(t, "scope s n y\nrow A\nA.n varies 0\nA.y = "+c.equation)
		wanted := g.cellsOf("A.y")
		p, errs := plan.Compile(g, wanted, plan.Options{Inputs: 1})
		if len(errs) > 0 {
			t.Fatal(errs)
		}
		call := strings.Contains(c.equation, "^") || strings.Contains(c.equation, "interpolate") || strings.Contains(c.equation, "floor")
		w := p.Pieces(wanted[0], nil, 1, 400)
		w.Next()
		for n := 2; n <= 400; n++ {
			want := false
			if n > w.Piece().To {
				w.Next()
				want = slices.ContainsFunc(w.Piece().Switched, isSwitch)
			}
			var m plan.Move
			p.Move(&m, []float64{float64(n - 1)}, []float64{float64(n)})
			if got := m.Jumped[wanted[0]]; got != want && !(got && call) {
				t.Errorf("%s at %d: jumped %v, want %v", c.equation, n, got, want)
			}
			if b, a := p.Values([]float64{float64(n - 1)}), p.Values([]float64{float64(n)}); !slices.Equal(m.Before, b) || !slices.Equal(m.After, a) {
				t.Fatalf("%s at %d: other values", c.equation, n)
			}
			if want {
				jumped++
			}
		}
	}
	if jumped < 50 {
		t.Errorf("only %d jumps", jumped)
	}
}

// isSwitch leaves out where another one of two is taken: the cell bends there.
func isSwitch(j plan.Switch) bool {
	return !slices.Contains([]kernel.Code{kernel.Max, kernel.MaxConst, kernel.Min, kernel.MinConst}, j.Code)
}
