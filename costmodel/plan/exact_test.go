package plan_test

import (
	"testing"

	"piececost/costmodel/plan"
)

// TestDivisionIsExact: what is divided by a number is divided, not multiplied by its reciprocal: 49/49 is 1 and 49 x (1/49) is
// 0.9999999999999999 in binary arithmetic (of 1 to 100 it is the first such number), which ceil and == would notice.
func TestDivisionIsExact(t *testing.T) {
	g := parseGraph(t, `
		scope s x factor const is_same
		row A
		A.x varies 0
		A.factor = 49 * x / 49
		A.const = (x + 49) / 49 - x / 49
		A.is_same = (98 * x + 49) / 49 == 2 * x + 1`)
	p, errs := plan.Compile(g, g.cells(), plan.Options{Inputs: 1})
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	values := p.Values([]float64{3})
	for label, want := range map[string]float64{"A.factor": 3, "A.const": 1, "A.is_same": 1} {
		if got := values[g.cell(label)]; got != want {
			t.Errorf("%s is %v, want %v to the last bit", label, got, want)
		}
	}
}
