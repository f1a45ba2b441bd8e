package costmodel

import (
	"errors"
	"fmt"
	"strings"

	"piececost/costmodel/formula"
	"piececost/costmodel/plan"
	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// fieldDefinition is a field read: where its value comes from, or that it could not be read.
type fieldDefinition struct {
	plan.Definition
	failed bool
}

// readFields parses the cells of a record. What is wrong is reported at the cell.
func (m *Model) readFields(r *Record) {
	sc := m.Schema.byName[r.Scope]
	for i := range r.fields {
		f := &r.fields[i]
		f.def = m.readField(sc, f.quantity, f.value, f.unit, nil)
	}
}

// readField turns a cell into a definition of a quantity. base is what `base` measures in a scenario change.
func (m *Model) readField(sc *Scope, quantity int32, v table.Value, u units.Unit, base *formula.Type) fieldDefinition {
	q := sc.Quantities[quantity]
	bad := fieldDefinition{failed: true}
	fail := func(code, summary, help string) fieldDefinition {
		m.Diagnostics.Add(code, v.Place, summary, help)
		return bad
	}
	if q.Structural {
		return fail("heading", fmt.Sprintf("%s follows from the structure and can't be given", q.Name), "rename or clear the column")
	}
	if summary, help := m.monthlyRate(q, v, u); summary != "" {
		return fail("interest_rate", summary, help)
	}
	switch v.Kind {
	case table.Broken:
		return fail("cell", fmt.Sprintf("%s: %s", q.Label, v.Text), v.Help)
	case table.Date:
		return fail("cell", fmt.Sprintf("%s is formatted as a date", q.Label), "format the cell as a number and type the value again")
	case table.Flag:
		if !q.Flag {
			return fail("cell", fmt.Sprintf("%s is TRUE or FALSE, wanted is a number", q.Label), "")
		}
		return given(v.Number)
	case table.Number:
		return m.numberField(q, v, u, fail)
	}
	if len(q.Options) > 0 {
		if n := optionIndex(q.Options, v.Text); n >= 0 {
			return given(float64(n))
		}
		help := "write one of " + strings.Join(q.Options, ", ")
		if near := formula.Nearest(strings.ToLower(v.Text), q.Options); near != "" {
			help = "did you mean " + near + "?"
		}
		return fail("choice", fmt.Sprintf("%s %q is not a choice", q.Label, table.Shortened(v.Text)), help)
	}
	return m.textField(sc, q, v, u, base, fail)
}

func given(v float64) fieldDefinition {
	return fieldDefinition{Definition: plan.Definition{Kind: plan.Given, Value: v}}
}

func (m *Model) numberField(q *Quantity, v table.Value, u units.Unit, fail func(code, summary, help string) fieldDefinition) fieldDefinition {
	switch {
	case len(q.Options) > 0:
		return fail("choice", fmt.Sprintf("%s is a number", q.Label), "write one of "+strings.Join(q.Options, ", "))
	case q.Flag:
		return fail("cell", fmt.Sprintf("%s is a number", q.Label), "write yes or no")
	case v.Percent:
		factor, ok := fractionFactor(u)
		if !ok {
			return fail("cell", fmt.Sprintf("%s is formatted as percent, but its unit is %s", q.Label, m.ShownUnit(u)), "format the cell as a number")
		}
		return given(v.Number * factor)
	}
	return given(u.Coherent(v.Number))
}

// fractionFactor is what a fraction (a cell formatted as percent) is multiplied by in a column of the given unit: its
// percent sign is taken out. It fails for a unit that percent can't stand in.
func fractionFactor(u units.Unit) (float64, bool) {
	if strings.Contains(u.Text, "%") {
		return u.Factor * 100, true
	}
	if u.Dim == units.None && !u.Angle() || u.Dim == units.PerYear {
		return u.Factor, true
	}
	return 0, false
}

// textField reads a quantity with a unit, or an expression.
func (m *Model) textField(sc *Scope, q *Quantity, v table.Value, u units.Unit, base *formula.Type,
	fail func(code, summary, help string) fieldDefinition) fieldDefinition {
	text := strings.TrimSpace(v.Text)
	if q.Flag {
		switch strings.ToLower(text) {
		case "yes", "true":
			return given(1)
		case "no", "false":
			return given(0)
		}
	}
	n, err := m.Schema.Units.ParseTyped(text)
	switch {
	case err == nil && q.Flag:
	case err == nil && n.Bare:
		return given(u.Coherent(n.Number))
	case err == nil && n.Unit.Dim == units.None && u.Dim == units.PerYear && strings.Contains(n.Unit.Text, "%"):
		factor, _ := fractionFactor(u)
		return given(n.Coherent() * factor) // "6%" of a rate per year, as in a cell formatted as percent
	case err == nil && !n.Unit.Fits(u):
		return fail("dimension", fmt.Sprintf("%s %q is %s, wanted is %s", q.Label, text, n.Unit.Describe(), u.Describe()), n.Unit.Help(u))
	case err == nil:
		return given(n.Coherent())
	case !errors.Is(err, units.ErrNotQuantity):
		if help := hedgedHelp(text); help != "" {
			return fail("number", fmt.Sprintf("%s %q is no number", q.Label, text), help)
		}
		return fail("number", fmt.Sprintf("%s %q: %v", q.Label, table.Shortened(text), err), "")
	}
	return m.expressionField(sc, q, v, u, base, fail)
}

func (m *Model) expressionField(sc *Scope, q *Quantity, v table.Value, u units.Unit, base *formula.Type,
	fail func(code, summary, help string) fieldDefinition) fieldDefinition {
	text := v.Text
	shift := 0
	if i := strings.Index(text, "="); i >= 0 && strings.TrimSpace(text[:i]) == "" {
		shift = len([]rune(text[:i+1]))
		text = text[i+1:]
	}
	want := formula.Type{Flag: q.Flag, Unit: u}
	if v.Percent {
		if factor, ok := fractionFactor(u); ok {
			want.Unit.Factor = factor
		}
	}
	eq, err := m.Schema.equation(sc, text, formula.Rules{Want: want, Grace: true}, base)
	var fe *formula.Error
	switch {
	case errors.As(err, &fe):
		if help := hedgedHelp(text); help != "" {
			return fail("number", fmt.Sprintf("%s %q is no number", q.Label, strings.TrimSpace(text)), help)
		}
		v.Place.Char = fe.From + 1 + shift
		help := fe.Help
		if len(strings.Fields(text)) == 1 && !strings.ContainsAny(text, "+-*/(<>?") && help == "" && !strings.Contains(fe.Msg, "did you mean") {
			help = fmt.Sprintf("write a number, a number with a unit (%s) or a formula", exampleOf(q, m.ShownUnit(u)))
		}
		m.Diagnostics.Add("formula", v.Place, fmt.Sprintf("%s %q: %s", q.Label, table.ShortenedAt(strings.TrimSpace(v.Text), v.Place.Char), fe.Msg), help)
		return fieldDefinition{failed: true}
	case err != nil:
		return fail("formula", fmt.Sprintf("%s %q: %v", q.Label, table.Shortened(v.Text), err), "")
	}
	if want.Unit.Factor != u.Factor {
		m.noteFractions(sc, q, v, text, u, base, eq)
	}
	return fieldDefinition{Definition: plan.Definition{Kind: plan.Computed, Eq: eq}}
}

func exampleOf(q *Quantity, unit string) string {
	if unit == "1" || unit == "" {
		return "12"
	}
	return "12 " + unit
}
