package costmodel

import (
	"fmt"
	"math"
	"slices"

	"piececost/costmodel/plan"
	"piececost/costmodel/table"
)

// A QuoteFact is what the program read for a quote, or for a line of it, since the language can't state it. Value is coherent; money is in
// the quote's currency unless the quantity says otherwise.
type QuoteFact struct {
	Of    *Record
	Name  string
	Value float64
	Cells []FactCell // that add up to it, so that a formula can follow them; nil where the program found it otherwise
}

// A FactCell is a cell of an input sheet that a fact rests on, and what one of its number adds to the fact, in coherent units.
type FactCell struct {
	Place table.Place
	Times float64
}

// FactCell is the cell that gives a quantity, times a number; ok is false where none does, or what stands in it is no plain number, which
// a formula could not follow.
func (q *Quotes) FactCell(r *Record, name string, times float64) (cell FactCell, ok bool) {
	f := r.field(q.inner.Schema.byName[r.Scope].MustQuantity(name))
	if f == nil || f.def.failed || f.def.Kind != plan.Given || f.value.Kind != table.Number || f.unit.Zero != 0 {
		return FactCell{}, false
	}
	return FactCell{f.value.Place, (&Given{Value: f.value, unit: f.unit}).Unit().Factor * times}, true
}

// RateCell is the cell of the sheet Currencies that gives a currency its rate; ok is false for the model currency.
func (q *Quotes) RateCell(code string) (cell FactCell, ok bool) {
	t := q.Model.Case.Table("Currencies")
	if t == nil || code == q.Model.Schema.Units.ModelCurrency() {
		return FactCell{}, false
	}
	for _, row := range t.Rows {
		if v := t.ValueAt(row, "rate"); t.TextAt(row, "code") == code && v.Kind == table.Number {
			cell, ok = FactCell{v.Place, 1}, true // the last one counts
		}
	}
	return cell, ok
}

// Given returns what a cell gives a quantity of a request, quote or line, in coherent units.
func (q *Quotes) Given(r *Record, name string) (float64, bool) {
	sc := q.inner.Schema.byName[r.Scope]
	f := r.field(sc.MustQuantity(name))
	if f == nil || f.def.failed || f.def.Kind != plan.Given {
		return 0, false
	}
	return f.def.Value, true
}

// GivenOption returns the word of a choice that a cell gives, or "".
func (q *Quotes) GivenOption(r *Record, name string) string {
	v, ok := q.Given(r, name)
	if !ok {
		return ""
	}
	sc := q.inner.Schema.byName[r.Scope]
	return optionOf(sc.Quantities[sc.MustQuantity(name)], v)
}

// States tells whether a cell gives a quantity or a word, by its name.
func (q *Quotes) States(r *Record, name string) bool {
	sc := q.inner.Schema.byName[r.Scope]
	if n, ok := sc.index[name]; ok && r.field(n) != nil {
		return true
	}
	return r.Text(name) != ""
}

// CellOf is the cell that gives a quantity or a word, or that of the row's key.
func (q *Quotes) CellOf(r *Record, name string) table.Place {
	sc := q.inner.Schema.byName[r.Scope]
	if n, ok := sc.index[name]; ok {
		if f := r.field(n); f != nil {
			return f.value.Place
		}
	}
	return r.TextPlace(name)
}

// ValueOf is a cell as it stands, for what depends on how a number was printed; ok is false where no cell gives the quantity.
func (q *Quotes) ValueOf(r *Record, name string) (v table.Value, ok bool) {
	sc := q.inner.Schema.byName[r.Scope]
	if n, known := sc.index[name]; known {
		if f := r.field(n); f != nil {
			return f.value, true
		}
	}
	return table.Value{}, false
}

// Compile joins facts to the rows and compiles them. The plan has a row for the case, the request, each quote and each line; what rests
// on something that nobody stated is not among its quantities. The quotes themselves are not changed.
func (q *Quotes) Compile(facts []QuoteFact) (*Plan, table.Diagnostics) {
	m := *q.inner
	m.Diagnostics = nil
	with := func(r *Record) *Record {
		out := *r
		out.fields = append([]givenField(nil), r.fields...)
		sc := m.Schema.byName[r.Scope]
		for _, f := range facts {
			if f.Of == r {
				n := sc.MustQuantity(f.Name)
				out.fields = append(out.fields, givenField{quantity: n, value: table.Value{Kind: table.Reckoned, Number: f.Value, Place: r.Place},
					unit: sc.Quantities[n].Unit, def: given(f.Value), cells: f.Cells})
			}
		}
		return &out
	}
	var ds table.Diagnostics
	s := &Scenario{Name: "Quotes", changes: map[*Record]*changed{}, record: &Record{Scope: "scenario", Key: "Quotes", Place: q.Request.Place}}
	st := &structure{model: &m, scenario: s, ds: &ds}
	g := &graph{model: &m, st: st, start: map[string]int32{}}
	g.addRow("case", m.caseRecord(), nil)
	g.addRow("scenario", s.record, nil)
	g.rows[1].volume = true
	g.addRow("request", with(q.Request), nil)
	for _, o := range q.Quotes {
		g.addRow("quote", with(o.Record), nil)
	}
	for _, o := range q.Quotes {
		for _, l := range o.Lines {
			g.addRow("quote line", with(l), nil)
		}
	}
	g.fix(nil)
	g.relateQuotes(q)
	g.vary(nil, &ds)
	p, errs := plan.Compile(g, nil, plan.Options{Inputs: g.columns, Optional: g.optional(), Quiet: func() { g.quiet = true }})
	ds = append(ds, unexplained(errs, ds, false)...)
	if ds.HasErrors() {
		return nil, ds
	}
	out := &Plan{Model: &m, Scenario: s, graph: g, plan: p}
	out.sweep = p.Program(nil)
	return out, ds
}

func (g *graph) relateQuotes(q *Quotes) {
	g.one = make([][]plan.Entity, len(Relations))
	g.many = make([][][]plan.Entity, len(Relations))
	request, at := g.start["request"], g.start["quote line"]
	for i, o := range q.Quotes {
		g.follow("quote", "request", request)
		g.members("quote", "lines", span(at, len(o.Lines)))
		for range o.Lines {
			g.follow("quote line", "quote", g.start["quote"]+int32(i))
			g.follow("quote line", "request", request)
		}
		at += int32(len(o.Lines))
	}
}

// Assumed tells whether a quantity of a quote is one that the supplier did not state: it rests on the request, the should-cost or a
// default.
func (o Origin) Assumed() bool {
	return o.Kind == FromEquation && o.Definition.Item.Input || o.Otherwise
}

// check reports what a request and a quote must state, and numbers that are not possible or plausible.
func (q *Quotes) check() {
	m := q.inner
	m.records["request"] = []*Record{q.Request}
	for _, o := range q.Quotes {
		m.records["quote"] = append(m.records["quote"], o.Record)
		m.records["quote line"] = append(m.records["quote line"], o.Lines...)
	}
	need := func(r *Record, name, what string) {
		if sc := m.Schema.byName[r.Scope]; r.field(sc.MustQuantity(name)) == nil {
			q.Diagnostics.Add("missing", r.Place, fmt.Sprintf("%s of %s is missing", sc.Quantities[sc.MustQuantity(name)].Label, what),
				"fill its cell in the column "+r.Key+" of the sheet Quotes")
		}
	}
	if len(q.Quotes) > 0 {
		need(q.Request, "annual_volume", "the request")
	}
	for _, o := range q.Quotes {
		if o.Text("currency") == "" {
			q.Diagnostics.Add("missing", o.Place, fmt.Sprintf("Currency of quote %s is missing", o.Key),
				"fill its cell in the column "+o.Key+" of the sheet Quotes")
		}
		need(o.Record, "price", "quote "+o.Key)
		need(o.Record, "annual_volume", "quote "+o.Key)
	}
	q.datedRates()
	m.checkPossible()
	m.checkPlausible()
}

// CaseValue is a number of the sheet Case in coherent units, NaN where no cell gives it.
func (q *Quotes) CaseValue(name string) float64 {
	if v, ok := q.Given(q.inner.records["case"][0], name); ok {
		return v
	}
	return math.NaN()
}

// Ask gives the request another number or word than its cell has, which bears its place.
func (q *Quotes) Ask(name string, v table.Value) {
	v.Place = q.CellOf(q.Request, name)
	sc := q.inner.Schema.byName["request"]
	n, ok := sc.index[name]
	if !ok {
		q.Request.texts[name] = v
		return
	}
	q.Request.fields = slices.DeleteFunc(q.Request.fields, func(f givenField) bool { return f.quantity == n })
	q.field(q.Request, q.Request, n, statedUnit{}, sc.Quantities[n].Label, v)
}
