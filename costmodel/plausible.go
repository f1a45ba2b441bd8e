package costmodel

import (
	"fmt"
	"strconv"

	"piececost/costmodel/plan"
)

// checkPlausible warns of given numbers outside the plausible range of their definition. The most particular
// definition with a range decides: a process's before the shared one.
func (m *Model) checkPlausible() {
	for _, sc := range m.Schema.Scopes {
		for _, r := range m.records[sc.Name] {
			for i := range r.Fields {
				m.checkField(sc, r, &r.Fields[i])
			}
		}
	}
}

func (m *Model) checkField(sc *Scope, r *Record, f *Field) {
	if f.Def.failed || f.Def.Kind != plan.Given || m.twoWays[f.Value.Place] {
		return
	}
	def := sc.definition(m.variantOf(sc, r), f.Quantity)
	if def == nil || def.Item.Plausible == nil {
		return
	}
	shown := def.Unit
	if f.Value.Kind == Number && !f.Value.Percent && f.Unit.Factor > 0 {
		shown = f.Unit // speak in the unit of the user's heading
	}
	k := def.Unit.Factor / shown.Factor
	lo, hi := def.Item.Plausible[0]*k, def.Item.Plausible[1]*k
	v := f.Def.Value / shown.Factor
	if v < lo*(1-1e-9) || v > hi*(1+1e-9) {
		unit := " " + m.ShownUnit(shown)
		if unit == " 1" || unit == " " {
			unit = ""
		}
		m.Diagnostics.warn("range", f.Value.Place, fmt.Sprintf("%s is %s%s, outside the plausible %v to %v%s", sc.Quantities[f.Quantity].Label, strconv.FormatFloat(v, 'g', 6, 64), unit, short(lo), short(hi), unit), "check the value and its unit")
	}
}

// short rounds a converted bound to six digits, for reading.
func short(v float64) float64 {
	n, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 6, 64), 64)
	if err != nil {
		return v
	}
	return n
}

// variantOf returns the form or process of a record, or nil.
func (m *Model) variantOf(sc *Scope, r *Record) *Variant {
	switch sc.Name {
	case "part":
		return sc.variant(r.Text("form"))
	case "operation":
		return sc.variant(r.Text("process"))
	}
	return nil
}

// definition finds how a quantity is defined for a variant: by itself, or by what all rows share; nil if neither.
func (sc *Scope) definition(v *Variant, quantity int32) *Definition {
	if v != nil {
		if d := v.Definitions[quantity]; d != nil {
			return d
		}
	}
	return sc.Variants[0].Definitions[quantity]
}
