package scenarios

import (
	"flag"
	"fmt"
	"math"
	"path/filepath"
	"slices"
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
	walk(eq.Expr.Root, func(n *formula.Node) {
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
		saveResults(t, path, r)
		return g
	}
	t.Fatalf("seed %d: every draw hangs on a last digit", seed)
	return nil
}

// generated is the number of cases; 6 in every test, more in make check and with `make generated`.
var generated = flag.Int("generated", 6, "number of random cases of TestGenerated; 20 in make check")

const (
	casesAStart     = 25 // of LibreOffice
	formulasAtLeast = 500
)

// TestGenerated has gnumeric, and with -office-files LibreOffice too, compute random cases from poisoned values, and compares every formula
// of every workbook.
func TestGenerated(t *testing.T) {
	dir := t.TempDir()
	var paths []string
	drawn := map[string]int{}
	for seed := range *generated {
		path := filepath.Join(dir, fmt.Sprintf("case%03d.xlsx", seed))
		for name := range writeDrawn(t, uint64(seed), path).drawn {
			drawn[name]++
		}
		checkFormulas(t, path)
		poison(t, path, poisonedOf(path))
		paths = append(paths, path)
	}
	t.Run("gnumeric", func(t *testing.T) {
		formulas := 0
		for _, path := range paths {
			n, differences := poisonedDifferences(t, path, poisonedOf(path))
			checkRandomCase(t, path, n, differences)
			formulas += n
		}
		t.Logf("%d cases, %d formulas; cases with: %v", len(paths), formulas, drawn)
	})
	if *officeFiles {
		t.Run("LibreOffice", func(t *testing.T) { checkInOffice(t, paths) })
	}
}

// checkInOffice has LibreOffice compute the cases.
func checkInOffice(t *testing.T, paths []string) {
	formulas := 0
	for some := range slices.Chunk(paths, casesAStart) {
		var poisoned []string
		for _, path := range some {
			poisoned = append(poisoned, poisonedOf(path))
		}
		out := recalculate(t, poisoned...)
		for i, path := range some {
			n, differences := formulaDifferences(t, path, filepath.Join(out, filepath.Base(poisoned[i])))
			checkRandomCase(t, path, n, differences)
			formulas += n
		}
	}
	t.Logf("%d cases, %d formulas", len(paths), formulas)
}

func poisonedOf(path string) string { return path + ".poisoned.xlsx" }

// checkRandomCase says what differs between the formulas of a case and a recalculated copy.
func checkRandomCase(t *testing.T, path string, n int, differences []string) {
	t.Helper()
	for _, d := range differences[:min(len(differences), 8)] {
		t.Error(d)
	}
	if n < formulasAtLeast || len(differences) > 8 {
		t.Errorf("%s: %d formulas, %d differ", filepath.Base(path), n, len(differences))
	}
}

// walk calls visit for a node and everything below it, parents first.
func walk(n *formula.Node, visit func(*formula.Node)) {
	visit(n)
	for _, a := range n.Args {
		walk(a, visit)
	}
}
