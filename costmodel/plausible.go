package costmodel

import (
	"fmt"
	"strconv"

	"piececost/costmodel/plan"
	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// checkPlausible warns of given numbers outside the plausible range of their definition. The most particular
// definition with a range decides: a process's before the shared one.
func (m *Model) checkPlausible() {
	for _, sc := range m.Schema.Scopes {
		for _, r := range m.records[sc.Name] {
			for i := range r.fields {
				m.checkField(sc, r, &r.fields[i])
			}
		}
	}
}

func (m *Model) checkField(sc *Scope, r *Record, f *givenField) {
	if f.def.failed || f.def.Kind != plan.Given || m.twoWays[f.value.Place] {
		return
	}
	def := sc.ranged(m.variantOf(sc, r), f.quantity, hasPlausible)
	if def == nil || m.impossible[f.value.Place] {
		return
	}
	shown := shownIn(def, f.value, f.unit)
	lo, hi := def.Unit.In(shown, def.Item.Plausible[0]), def.Unit.In(shown, def.Item.Plausible[1])
	v := shown.Shown(f.def.Value)
	if !IsPlausible(v, lo, hi) {
		unit := m.unitAfter(shown)
		m.Diagnostics.Warn("range", f.value.Place, fmt.Sprintf("%s is %s%s, outside the plausible %v to %v%s", sc.Quantities[f.quantity].Label,
			strconv.FormatFloat(v, 'g', 6, 64), unit, short(lo), short(hi), unit), "check the value and its unit")
	}
}

// IsPlausible tells whether a number lies in a plausible range, its ends included, as Interval.Contains reads them.
func IsPlausible(v, lo, hi float64) bool { return Interval{low: lo, high: hi}.Contains(v) }

// PlausibleTest writes IsPlausible as a spreadsheet's condition over cells.
func PlausibleTest(v, lo, hi string) string {
	return fmt.Sprintf("AND(%[1]s>=%[2]s-%[4]s*ABS(%[2]s),%[1]s<=%[3]s+%[4]s*ABS(%[3]s))", v, lo, hi, strconv.FormatFloat(slack, 'E', -1, 64))
}

// short rounds a converted bound to six digits, for reading.
func short(v float64) float64 {
	n, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 6, 64), 64)
	if err != nil {
		return v
	}
	return n
}

// ranged finds the most particular definition of a quantity that has a range of the wanted kind: that of a form or process
// before the one that all rows share; nil if neither has.
func (sc *Scope) ranged(v *Variant, quantity int32, has func(*Item) bool) *Definition {
	if v != nil {
		if d := v.Definitions[quantity]; d != nil && has(&d.Item) {
			return d
		}
	}
	if d := sc.Variants[0].Definitions[quantity]; d != nil && has(&d.Item) {
		return d
	}
	return nil
}

func hasPlausible(it *Item) bool { return it.Plausible != nil }

// shownIn is the unit in which a number is spoken of: that of the user's heading where the cell holds a bare number.
func shownIn(def *Definition, v table.Value, heading units.Unit) units.Unit {
	if v.Kind == table.Number && !v.Percent && heading.Factor > 0 {
		return heading
	}
	return def.Unit
}

// unitAfter writes a unit to follow a number, "" for a plain number.
func (m *Model) unitAfter(u units.Unit) string {
	if text := m.ShownUnit(u); text != "1" && text != "" {
		return " " + text
	}
	return ""
}

// variantOf returns the grade, form or process of a record, or nil.
func (m *Model) variantOf(sc *Scope, r *Record) *Variant {
	if sc.Name == gradeScope {
		return m.gradeVariant(r.Text(gradeColumn), r.Key)
	}
	if column := variantColumns[sc.Name]; column != "" {
		return sc.variant(r.Text(column))
	}
	return nil
}

// variantColumns are the columns that name the variant of a row, by scope.
var variantColumns = map[string]string{"part": "form", "operation": "process", toolKindScope: "tool_kind", machineScope: sizeColumn}

// definition finds how a quantity is defined for a variant: by itself, or by what all rows share; nil if neither.
func (sc *Scope) definition(v *Variant, quantity int32) *Definition {
	if v != nil {
		if d := v.defined(quantity); d != nil {
			return d
		}
	}
	return sc.Variants[0].defined(quantity)
}
