package costmodel

import (
	"fmt"
	"slices"
	"strings"

	"piececost/costmodel/formula"
	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// readLines reads the sheet Quote lines. A heading without a unit has the declared one: seconds, percent, the quote's currency an hour.
func (q *Quotes) readLines(t *table.Table) {
	if t == nil {
		return
	}
	sc := q.inner.Schema.byName["quote line"]
	uses := q.lineColumns(t, sc)
	for _, name := range []string{"quote", "line", "element"} {
		if !slices.ContainsFunc(uses, func(u columnUse) bool { return u.name == name }) {
			q.Diagnostics.Add("heading", t.Place, fmt.Sprintf("the sheet has no column %q", table.Label(name)), "add it to the heading row")
			return
		}
	}
	for _, row := range t.Rows {
		q.line(t, row, uses)
	}
}

// lineColumns finds what each heading means.
func (q *Quotes) lineColumns(t *table.Table, sc *Scope) []columnUse {
	uses := make([]columnUse, len(t.Columns))
	names := []string{"quote", "line"}
	for _, w := range q.Library.Words[sc.Name] {
		names = append(names, w.Name)
	}
	seen := map[string]table.Place{}
	for i, c := range t.Columns {
		name, unit, _ := table.SplitHeading(c.Heading)
		uses[i] = columnUse{name: name, quantity: -1, place: c.Place}
		if first, dup := seen[name]; dup && name != "" {
			q.Diagnostics.Add("heading", c.Place, fmt.Sprintf("heading %q stands twice", table.Shortened(c.Heading)), "delete or rename one of the two",
				table.Related{Place: first, Note: "first at"})
			uses[i].name = ""
			continue
		}
		seen[name] = c.Place
		n, ok := sc.byHeading(name)
		switch {
		case contains(names, name) || table.IsProvenance(name):
			uses[i].text = true
		case ok && !sc.Variants[0].Definitions[n].Item.Fact && sc.Variants[0].Definitions[n].Item.Input:
			uses[i].quantity = n
			uses[i].unit.Text = strings.TrimSpace(unit)
		case name == "":
		default:
			known := slices.Clone(names)
			for _, it := range q.Library.template(sc.Name).Items {
				if it.Input && !it.Fact {
					known = append(known, it.Name)
				}
			}
			if near := formula.Nearest(name, known); near != "" {
				q.Diagnostics.Add("heading", c.Place, fmt.Sprintf("heading %q is not known", table.Shortened(c.Heading)), "did you mean "+table.Label(near)+"?")
			}
		}
	}
	return uses
}

func (q *Quotes) line(t *table.Table, row table.Row, uses []columnUse) {
	r := &Record{Scope: "quote line", Sheet: t.Sheet, Row: row.Number, texts: map[string]table.Value{}}
	filled := false
	for i, v := range row.Cells {
		if uses[i].text {
			q.inner.textCell(r, uses[i].name, v)
		}
		filled = filled || v.Kind != table.Empty
	}
	if !filled {
		return
	}
	quote := q.Called(r.Text("quote"))
	at := r.TextPlace("quote")
	if at.Row == 0 {
		at = table.Place{File: t.Place.File, Sheet: t.Sheet, Row: row.Number, Col: 1}
	}
	switch {
	case r.Text("quote") == "":
		q.Diagnostics.Add("key", at, "the line names no quote", "write the heading of a column of the sheet Quotes")
		return
	case quote == nil:
		q.Diagnostics.Add("reference", at, fmt.Sprintf("quote %q is not in the sheet Quotes", table.Shortened(r.Text("quote"))), q.Listed())
		return
	case r.Text("line") == "":
		q.Diagnostics.Add("key", r.TextPlace("line"), "the line has no number", "number the lines of a quote 1, 2, 3")
		return
	}
	r.Key, r.Place = quote.Key+"/"+r.Text("line"), at
	if i := slices.IndexFunc(quote.Lines, func(o *Record) bool { return o.Key == r.Key }); i >= 0 {
		q.Diagnostics.Add("duplicate", r.TextPlace("line"), fmt.Sprintf("line %s stands twice", r.Key), "number the lines apart",
			table.Related{Place: quote.Lines[i].Place, Note: "first at"})
		return
	}
	q.lineFields(quote, r, row, uses)
	quote.Lines = append(quote.Lines, r)
}

// Called finds the quote of exactly that name; nil where there is none.
func (q *Quotes) Called(name string) *Quote {
	if i := slices.IndexFunc(q.Quotes, func(o *Quote) bool { return strings.EqualFold(o.Key, name) }); i >= 0 {
		return q.Quotes[i]
	}
	return nil
}

// Listed says which quotes there are.
func (q *Quotes) Listed() string {
	var names []string
	for _, o := range q.Quotes {
		names = append(names, o.Key)
	}
	return "the quotes are " + strings.Join(names, ", ")
}

// lineFields reads the numbers of a line in the currency of its quote.
func (q *Quotes) lineFields(quote *Quote, r *Record, row table.Row, uses []columnUse) {
	sc := q.inner.Schema.byName["quote line"]
	for i, v := range row.Cells {
		if n := uses[i].quantity; n >= 0 && v.Kind != table.Empty {
			before := len(r.fields)
			q.field(quote.Record, r, n, statedUnit{uses[i].unit.Text, uses[i].place}, sc.Quantities[n].Label,
				q.rateOfUnit(quote, r, sc.Quantities[n], v))
			if len(r.fields) > before {
				r.fields[before].value = v // as it stands: 1330 EUR/t, whose digits were printed
			}
		}
	}
	q.unitOfLine(r)
	n := sc.MustQuantity("element")
	if r.field(n) == nil {
		q.Diagnostics.Add("choice", r.Place, fmt.Sprintf("line %s has no element", r.Key), "write one of "+strings.Join(sc.Quantities[n].Options, ", "))
	}
}

// unitOfLine warns of a unit that is none, so that what it weighs is not known. Pieces and sets are counted.
func (q *Quotes) unitOfLine(r *Record) {
	text := r.Text("unit")
	if text == "" || slices.Contains([]string{"piece", "pieces", "pcs", "pc", "set", "sets", "each"}, strings.ToLower(text)) {
		return
	}
	if _, err := q.Model.Schema.Units.Parse(text); err != nil {
		q.Diagnostics.Warn("unit", r.TextPlace("unit"), fmt.Sprintf("Unit of line %s: %v, so its mass is not known", r.Key, err),
			"write kg, g, t, lb, m or pieces")
	}
}

// rateOfUnit takes a rate that is typed with a unit of its own, 1330 EUR/t, as that of one of the line's unit.
func (q *Quotes) rateOfUnit(quote *Quote, r *Record, quantity *Quantity, v table.Value) table.Value {
	if quantity.Name != "rate" || v.Kind != table.Text {
		return v
	}
	sys := q.unitsOf(quote.Record)
	typed, err := sys.ParseTyped(strings.TrimSpace(v.Text))
	unit, uerr := sys.Parse(r.Text("unit"))
	if err != nil || uerr != nil || typed.Bare || typed.Unit.Dim != units.Currency.Div(unit.Dim) {
		return v
	}
	v.Kind, v.Number, v.Text = table.Number, typed.Coherent()*unit.Factor, ""
	return v
}

// Mass is what a line's quantity weighs, in kg; ok is false where its unit is none of mass.
func (q *Quotes) Mass(line *Record) (kg float64, ok bool) {
	unit, err := q.Model.Schema.Units.Parse(line.Text("unit"))
	quantity, given := q.Given(line, "quantity")
	if err != nil || !given || unit.Dim != units.Mass {
		return 0, false
	}
	return unit.Coherent(quantity), true
}

// MassCells are the cells of a line's mass; nil where it is no plain number.
func (q *Quotes) MassCells(line *Record) []FactCell {
	unit, err := q.Model.Schema.Units.Parse(line.Text("unit"))
	if err != nil {
		return nil
	}
	if cell, ok := q.FactCell(line, "quantity", unit.Factor); ok {
		return []FactCell{cell}
	}
	return nil
}
