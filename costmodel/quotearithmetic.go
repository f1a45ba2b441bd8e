package costmodel

import (
	"fmt"
	"math"

	"piececost/costmodel/formula"
	"piececost/costmodel/plan"
	"piececost/costmodel/table"
)

// statedNumber is a cell of a quote that holds arithmetic, 15 + 0.46, as the number that it comes to: what a supplier states does not go by
// other cells of ours, and facts and limits look at it as at any number. Anything else in a definition is left as it is.
func (q *Quotes) statedNumber(def fieldDefinition, label string, v table.Value) fieldDefinition {
	if def.failed || def.Kind != plan.Computed {
		return def
	}
	fail := func(what, help string) fieldDefinition {
		q.Diagnostics.Add("number", v.Place, fmt.Sprintf("%s %q %s", label, table.Shortened(v.Text), what), help)
		return fieldDefinition{failed: true}
	}
	if len(def.Eq.Expr.Names) > 0 {
		return fail("names what a quote does not know", "write the number that the supplier states")
	}
	none := &formula.Curve{X: []float64{0}, Y: []float64{math.NaN()}} // a quote has no curves
	n := formula.Eval(def.Eq.Expr.Root, nil, func(string) *formula.Curve { return none })
	if math.IsNaN(n) || math.IsInf(n, 0) {
		return fail("is no number", "write the number that the supplier states")
	}
	return given(n)
}
