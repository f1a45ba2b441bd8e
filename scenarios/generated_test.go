package scenarios

import (
	"flag"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"testing"

	"piececost/costmodel"
	"piececost/costmodel/formula"
	"piececost/costmodel/plan"
)

// nearWhole finds a ceil, floor or round whose argument lies so near a whole number that a last binary digit decides; it
// returns "" where there is none. A whole 0 is exact everywhere.
func nearWhole(d *costmodel.Detail) string {
	for e := range plan.Entity(d.Plan.Entities()) {
		for n := range int32(len(d.Plan.RowScope(e).Quantities)) {
			if !d.Plan.Compiled(e, n) {
				continue
			}
			def := d.Plan.Origin(e, n).Active
			for _, eq := range equationsOf(def) {
				if v, near := nearestArgument(d, e, eq); near {
					return fmt.Sprintf("%s, %s: %v", d.Plan.RowLabel(e), d.Plan.RowScope(e).Quantities[n].Name, v)
				}
			}
		}
	}
	return ""
}

func equationsOf(def plan.Definition) (out []*plan.Equation) {
	if def.Kind == plan.Computed {
		out = append(out, def.Eq)
	}
	if def.Base != nil {
		out = append(out, equationsOf(*def.Base)...)
	}
	return out
}

func nearestArgument(d *costmodel.Detail, e plan.Entity, eq *plan.Equation) (at float64, near bool) {
	formula.Walk(eq.Expr.Root, func(n *formula.Node) {
		if n.Kind != formula.Call || n.Fn.Name != "ceil" && n.Fn.Name != "floor" && n.Fn.Name != "round" {
			return
		}
		values := make([]float64, len(eq.Refs))
		for i := range eq.Refs {
			values[i] = valueOfRef(d, e, &eq.Refs[i])
		}
		v := formula.Eval(n.Args[0], values, nil)
		if n.Fn.Name == "round" {
			v += 0.5
		}
		if v != 0 && math.Abs(v-math.Round(v)) < math.Max(1e-7, 1e-14*math.Abs(v)) && len(eq.Refs) > 0 && math.Abs(v) < 1e12 {
			at, near = v, true
		}
	})
	return at, near
}

// valueOfRef is the coherent value of a name, NaN where it leads nowhere.
func valueOfRef(d *costmodel.Detail, e plan.Entity, ref *plan.Ref) float64 {
	if ref.Fixed || ref.Base {
		return ref.Constant
	}
	for i, hop := range ref.Hops {
		if ref.Many && i == len(ref.Hops)-1 {
			total := 0.0
			for _, m := range d.Plan.Members(e, hop) {
				total += d.Of(m, ref.Quantity)
			}
			return total
		}
		if e = d.Plan.Follow(e, hop); e < 0 {
			return math.NaN()
		}
	}
	v := d.Of(e, ref.Quantity)
	if ref.Option > 0 {
		return map[bool]float64{true: 1}[int(v) == ref.Option-1]
	}
	return v
}

// writeDrawn draws a case until no whole count hangs on a last digit, costs it and saves the workbook with its results.
func writeDrawn(t testing.TB, seed uint64, path string) *caseDraw {
	t.Helper()
	for again := uint64(0); again < 20; again++ {
		g := drawCase(seed, again)
		saveTables(t, g.s.files(t), path)
		r := resultOf(t, path)
		if slices.ContainsFunc(r.Details, func(d *costmodel.Detail) bool { return nearWhole(d) != "" }) {
			continue
		}
		w, err := Open(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := w.Write(r); err != nil {
			t.Fatal(err)
		}
		if err := w.Save(path, SaveOptions{Replace: true}); err != nil {
			t.Fatal(err)
		}
		return g
	}
	t.Fatalf("seed %d: every draw hangs on a last digit", seed)
	return nil
}

// generated is the number of cases; 20 in every test, more with `make generated`.
var generated = flag.Int("generated", 20, "number of random cases of TestGenerated")

const casesAStart = 25

// TestGenerated has an independent program compute random cases, and compares every formula of every workbook.
func TestGenerated(t *testing.T) {
	cases := *generated
	type batch struct {
		formulas int
		drawn    map[string]int
	}
	batches := make([]batch, (cases+casesAStart-1)/casesAStart)
	t.Run("batches", func(t *testing.T) {
		for i := range batches {
			t.Run(strconv.Itoa(i), func(t *testing.T) {
				t.Parallel()
				dir := t.TempDir()
				batches[i].drawn = map[string]int{}
				var paths []string
				for seed := i * casesAStart; seed < min(cases, (i+1)*casesAStart); seed++ {
					path := filepath.Join(dir, fmt.Sprintf("case%03d.xlsx", seed))
					g := writeDrawn(t, uint64(seed), path)
					checkFormulas(t, path)
					for name := range g.drawn {
						batches[i].drawn[name]++
					}
					paths = append(paths, path)
				}
				out := recalculate(t, paths...)
				for _, path := range paths {
					n, differences := formulaDifferences(t, path, filepath.Join(out, filepath.Base(path)))
					batches[i].formulas += n
					for _, d := range differences[:min(len(differences), 8)] {
						t.Error(d)
					}
					if n < 500 || len(differences) > 8 {
						t.Errorf("%s: %d formulas, %d differ", filepath.Base(path), n, len(differences))
					}
				}
			})
		}
	})
	total, drawn := 0, map[string]int{}
	for _, b := range batches {
		total += b.formulas
		for name, n := range b.drawn {
			drawn[name] += n
		}
	}
	t.Logf("%d cases, %d formulas; cases with: %v", cases, total, drawn)
}
