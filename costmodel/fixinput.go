package costmodel

import (
	"math"

	"piececost/costmodel/plan"
	"piececost/costmodel/table"
)

// InputOf describes an input as the plan's scenario has it, at the scenario's own volume. Present is false where the
// scenario lacks the row. What can't be moved, and rows that hold different values, are findings.
func (p *Plan) InputOf(in Input) (Varied, *table.Diagnostic) {
	f, d := p.Model.findInput(in)
	if d != nil {
		return Varied{}, &d.Diagnostic
	}
	v := p.graph.varied(f)
	if v.scope == "scenario" && f.scope.Quantities[f.quantity].Name == "annual_volume" {
		v.column = 0
	}
	if v.Input.By != ByValue {
		v.setBaseValue(nil, nil)
		return v, nil
	}
	values := p.plan.Values(p.inputsAt(p.Scenario.Volume))
	for i, c := range v.cells {
		baseValue := math.NaN()
		if p.plan.Has(c) {
			baseValue = values[c]
		}
		if i == 0 {
			v.BaseValue = baseValue
		} else if (baseValue == baseValue) != (v.BaseValue == v.BaseValue) || math.Abs(baseValue-v.BaseValue) > 1e-12*math.Abs(v.BaseValue) {
			d := differentRows(&v, p.Scenario.Name)
			return v, &d
		}
	}
	return v, nil
}

// FixInput gives all rows of an input of InputOf a coherent value, or moves each by it as the input says, for With. It takes the place of what the cell, the
// library
// or the scenario's own change says.
func (p *Plan) FixInput(v *Varied, value float64) []Fixed {
	var out []Fixed
	for _, c := range v.cells {
		e, n := plan.Locate(p.graph, c)
		out = append(out, Fixed{Scope: v.scope, Quantity: p.graph.rows[e].scope.Quantities[n].Name, Row: e, Value: value, by: v.Input.By})
	}
	return out
}
