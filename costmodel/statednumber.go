package costmodel

import (
	"errors"
	"fmt"
	"math"

	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// statedNumber reads a cell of a sheet that lists no things of the case, as Targets and Benchmarks: a number in the unit, or one with a unit
// of its own. It returns the coherent value, NaN for what it reported: what is no such number, or one that can't be computed with.
func (m *Model) statedNumber(code, label string, unit units.Unit, v table.Value) float64 {
	n := m.numberInUnit(code, label, unit, v)
	if math.IsNaN(n) || PossibleNumber(n) {
		return n
	}
	shown := n
	if unit.Factor > 0 {
		shown = unit.Shown(shown)
	}
	m.Diagnostics.Add("possible", v.Place, fmt.Sprintf("%s is %s", label, Beyond(shown)), "check the value and its unit")
	return math.NaN()
}

func (m *Model) numberInUnit(code, label string, unit units.Unit, v table.Value) float64 {
	fail := func(summary, help string) float64 {
		m.Diagnostics.Add(code, v.Place, label+": "+summary, help)
		return math.NaN()
	}
	switch v.Kind {
	case table.Number:
		if v.Percent {
			f, ok := fractionFactor(unit)
			if !ok {
				return fail("the cell is formatted as percent, but the unit is "+m.ShownUnit(unit), "format the cell as a number")
			}
			return v.Number * f
		}
		return unit.Coherent(v.Number)
	case table.Text:
		n, err := m.Schema.Units.ParseTyped(v.Text)
		switch {
		case errors.Is(err, units.ErrNotQuantity):
			return fail(fmt.Sprintf("%q is no number", v.Text), "write a number, or a number with a unit")
		case err != nil:
			return fail(fmt.Sprintf("%q: %v", v.Text, err), "")
		case n.Bare:
			return unit.Coherent(n.Number)
		case n.Unit.Dim != unit.Dim:
			return fail(fmt.Sprintf("%q is %s, wanted is %s", v.Text, n.Unit.Dim.Describe(), unit.Dim.Describe()), "write it in "+m.ShownUnit(unit))
		}
		return n.Coherent()
	case table.Broken:
		return fail(v.Text, v.Help)
	case table.Date:
		return fail("the cell is formatted as a date", "format it as a number and type the value again")
	}
	return fail("the cell is TRUE or FALSE, wanted is a number", "type the number")
}
