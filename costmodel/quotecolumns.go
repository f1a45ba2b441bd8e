package costmodel

import (
	"fmt"
	"slices"

	"piececost/costmodel/formula"
	"piececost/costmodel/table"
)

// mendRequest says of a heading that is nearly Unit or Request, where there is none, what it may be, and goes on with it as that: else it
// would be a quote with nothing in it.
func (q *Quotes) mendRequest(t *table.Table) *table.Table {
	for _, want := range []string{"unit", "request"} {
		if _, there := t.Column(want); there {
			continue
		}
		i := slices.IndexFunc(t.Columns, func(c table.Column) bool {
			name, _, _ := table.SplitHeading(c.Heading)
			return name != "" && name != "quantity" && !table.IsProvenance(name) && formula.Nearest(name, []string{want}) != ""
		})
		if i < 0 {
			continue
		}
		q.Diagnostics.Add("heading", t.Columns[i].Place, fmt.Sprintf("heading %q is not known", table.Shortened(t.Columns[i].Heading)),
			fmt.Sprintf("did you mean %s? If it is a quote, give it a name less alike", table.Label(want)))
		mended := *t
		mended.Columns = slices.Clone(t.Columns)
		mended.Columns[i].Heading = table.Label(want)
		t = &mended
	}
	return t
}

// leaveEmpty leaves out the columns in which nothing is filled in and that no line names: they wait for a quote.
func (q *Quotes) leaveEmpty() {
	q.Quotes = slices.DeleteFunc(q.Quotes, func(o *Quote) bool {
		return len(o.fields)+len(o.Prices)+len(o.Included)+len(o.Lines) == 0 && !o.saysAnything()
	})
}

func (r *Record) saysAnything() bool {
	for name := range r.texts {
		if r.Text(name) != "" {
			return true
		}
	}
	return false
}

// ReferenceError is what is wrong with a word that should be a key of a scope of the case, nil where it is one: a plant, a part, a grade.
func (q *Quotes) ReferenceError(key, scope string) *table.Diagnostic {
	i := slices.IndexFunc(table.Layouts, func(l table.Layout) bool { return l.Scope == scope })
	return q.Model.referenceError(key, scope, scope, table.Layouts[i].Sheet)
}

// hasRow tells whether a code stands in the sheet Currencies.
func (q *Quotes) hasRow(code string) bool {
	t := q.Model.Case.Table("Currencies")
	return t != nil && slices.ContainsFunc(t.Rows, func(row table.Row) bool { return t.TextAt(row, "code") == code })
}

// datedRates warns of a rate of the sheet Currencies that a quote takes and that has no date: all quotes are brought to the model currency at
// one dated rate.
func (q *Quotes) datedRates() {
	t := q.Model.Case.Table("Currencies")
	if t == nil {
		return
	}
	model := q.Model.Schema.Units.ModelCurrency()
	for _, row := range t.Rows {
		code := t.TextAt(row, "code")
		taken := slices.ContainsFunc(q.Quotes, func(o *Quote) bool { return o.Currency == code })
		if code == model || !taken || t.TextAt(row, "date") != "" {
			continue
		}
		at := t.ValueAt(row, "date").Place
		if _, there := t.Column("date"); !there {
			at = t.ValueAt(row, "code").Place
		}
		q.Diagnostics.Warn("currency", at, fmt.Sprintf("the rate of %s in the sheet Currencies has no date", code),
			"write the day of the rate in its column Date, as 2025-03-01")
	}
}
