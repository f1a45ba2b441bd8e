package costmodel

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"piececost/costmodel/plan"
	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// RequestColumn is the column of the sheet Quotes that states what was asked for.
const RequestColumn = "Request"

// Quotes are the quotes of a case, read against templates/quotes: the request, what each supplier offered and the lines of his
// breakdown. What is not stated is not there. Facts that the language can't state are added by SetFact before Compile.
type Quotes struct {
	Model   *Model // of the case
	Library *QuoteLibrary
	Request *Record
	Quotes  []*Quote
	Missing []string // of the sheet Quotes, nil where it is there

	Diagnostics table.Diagnostics
	inner       *Model // whose scopes are those of quotes
	rates       map[string]float64
}

// A Quote is a column of the sheet Quotes with its lines.
type Quote struct {
	*Record
	Currency string
	Rate     float64 // of the sheet Currencies: model currency for one of the quote's
	Lines    []*Record
	Prices   []PriceAt       // of rows Price at, ascending
	Included map[string]bool // amounts that the quote calls included, by name
}

// A PriceAt is a price at another annual volume, in the quote's currency per price unit.
type PriceAt struct {
	Volume, Price float64
	Place         table.Place
	Cells         []FactCell // whose number the price is; nil where that is no plain number
}

// ReadQuotes reads the sheets Quotes and Quote lines of a model's case; nil where it has none, or the library no text of quotes. What is
// wrong is among its Diagnostics, each at its cell.
func ReadQuotes(m *Model, lib *QuoteLibrary) *Quotes {
	t := m.Case.Table("Quotes")
	if t == nil || len(t.Columns) == 0 || len(lib.Templates) == 0 {
		return nil
	}
	q := &Quotes{Model: m, Library: lib}
	q.inner = &Model{Case: m.Case, library: lib.library(m.library), unread: map[string]bool{}, lacking: map[string][]string{},
		suspected: map[*Quantity]bool{}, impossible: map[table.Place]bool{}, twoWays: map[table.Place]bool{},
		records: map[string][]*Record{}, byKey: map[string]map[string][]*Record{}}
	var quiet table.Diagnostics
	rates := (&Model{Case: m.Case}).exchangeRates()
	q.rates = rates
	own := q.inner.withOwnProcesses(q.inner.library, m.Schema.Units)
	q.inner.Schema = newSchema(own, m.Schema.Units, m.Schema.curves, nil, &quiet)
	q.Diagnostics = append(q.Diagnostics, quiet...)
	q.inner.records["case"] = []*Record{m.caseRecordIn(q.inner.Schema)}
	if _, ours := t.Column("quantity"); !ours { // a sheet of the user's own
		q.Diagnostics.Warn("heading", t.Place, `the sheet Quotes has no column "Quantity", so it is not read`,
			"its columns are Quantity, Unit, Request and one a quote; rename the sheet if it is your own")
		q.Request = &Record{Scope: "request", Key: RequestColumn, Place: t.Place, Sheet: t.Sheet, texts: map[string]table.Value{}}
		return q
	}
	q.readColumns(t)
	q.readLines(m.Case.Table("Quote lines"))
	q.leaveEmpty()
	q.check()
	q.Diagnostics = append(q.Diagnostics, q.inner.Diagnostics...)
	q.inner.Diagnostics = nil
	return q
}

// caseRecordIn is the record of the case with the fields that another schema knows too.
func (m *Model) caseRecordIn(s *Schema) *Record {
	from := m.caseRecord()
	out := &Record{Scope: "case", Key: from.Key, Place: from.Place, Sheet: from.Sheet, texts: from.texts}
	for _, f := range from.fields {
		if n, ok := s.byName["case"].index[m.Schema.byName["case"].Quantities[f.quantity].Name]; ok {
			f.quantity = n
			out.fields = append(out.fields, f)
		}
	}
	return out
}

// readColumns reads the sheet Quotes: a column is the request or a quote, a row one of its quantities or words.
func (q *Quotes) readColumns(t *table.Table) {
	columns := map[int]*Record{}
	t = q.mendRequest(t)
	for i, c := range t.Columns {
		name, _, _ := table.SplitHeading(c.Heading)
		key := strings.TrimSpace(c.Heading)
		switch {
		case key == "" || name == "quantity" || name == "unit" || table.IsProvenance(name):
		case name == "request" && q.Request != nil:
			q.Diagnostics.Add("duplicate", c.Place, "the column Request stands twice", "rename one of the two", table.Related{Place: q.Request.Place,
				Note: "first at"})
		case name == "request":
			q.Request = &Record{Scope: "request", Key: RequestColumn, Place: c.Place, Sheet: t.Sheet, texts: map[string]table.Value{}}
			columns[i] = q.Request
		default:
			r := &Record{Scope: "quote", Key: key, Place: c.Place, Sheet: t.Sheet, texts: map[string]table.Value{}}
			if slices.ContainsFunc(q.Quotes, func(o *Quote) bool { return strings.EqualFold(o.Key, key) }) {
				q.Diagnostics.Add("duplicate", c.Place, fmt.Sprintf("quote %q stands twice", key), "rename one of the two")
				continue
			}
			columns[i] = r
			q.Quotes = append(q.Quotes, &Quote{Record: r, Included: map[string]bool{}})
		}
	}
	if q.Request == nil {
		q.Diagnostics.Add("heading", t.Place, `the sheet has no column "Request"`, "add it behind Unit; it states what was asked for")
		q.Request = &Record{Scope: "request", Key: RequestColumn, Place: t.Place, Sheet: t.Sheet, texts: map[string]table.Value{}}
	}
	q.currencies(t, columns)
	seen := map[string]table.Place{}
	for _, row := range t.Rows {
		q.quantityRow(t, row, columns, seen)
	}
}

// currencies finds what each quote's money is in, before any amount is read.
func (q *Quotes) currencies(t *table.Table, columns map[int]*Record) {
	model := q.Model.Schema.Units.ModelCurrency()
	for _, i := range sortedColumns(columns) {
		r, code := columns[i], model
		for _, row := range t.Rows {
			if table.Normalise(t.TextAt(row, "quantity")) == "currency" {
				if v := row.Cells[i]; v.Kind == table.Text && strings.TrimSpace(v.Text) != "" {
					code = strings.TrimSpace(v.Text)
					r.texts["currency"] = v
				}
			}
		}
		rate, known := q.rates[code]
		switch {
		case code == model:
			rate = 1
		case !units.IsCurrency(code):
			q.Diagnostics.Add("currency", r.TextPlace("currency"), fmt.Sprintf("%q is not a currency code of ISO 4217", table.Shortened(code)),
				"write three capital letters such as CZK")
			rate = 1
		case !known && q.hasRow(code): // whose rate was said to be wrong
			rate = 1
		case !known:
			q.Diagnostics.Add("currency", r.TextPlace("currency"), fmt.Sprintf("the sheet Currencies has no rate of %s", code),
				"add a row with its code, its rate in "+model+" and the date of the rate to the sheet Currencies")
			rate = 1
		}
		if quote := q.quoteOf(r); quote != nil {
			quote.Currency, quote.Rate = code, rate
		} else {
			r.texts["currency"] = table.Value{Kind: table.Text, Text: code, Place: r.TextPlace("currency")}
		}
	}
}

func (q *Quotes) quoteOf(r *Record) *Quote {
	if i := slices.IndexFunc(q.Quotes, func(o *Quote) bool { return o.Record == r }); i >= 0 {
		return q.Quotes[i]
	}
	return nil
}

// Named finds a quote by its name, or by how it begins where that is one quote alone; nil where none or several do.
func (q *Quotes) Named(name string) *Quote {
	var found *Quote
	for _, o := range q.Quotes {
		if strings.EqualFold(o.Key, name) {
			return o
		}
		if strings.HasPrefix(strings.ToLower(o.Key), strings.ToLower(name)) {
			if found != nil {
				return nil
			}
			found = o
		}
	}
	return found
}

// unitsOf is the system in which the amounts of a quote are read: its own currency is "currency", and codes are worth what the sheet
// Currencies says in it.
func (q *Quotes) unitsOf(r *Record) *units.System {
	quote := q.quoteOf(r)
	model := q.Model.Schema.Units.ModelCurrency()
	if quote == nil || quote.Currency == model || !units.IsCurrency(quote.Currency) {
		return q.Model.Schema.Units
	}
	rates := map[string]float64{model: 1 / quote.Rate}
	for _, code := range slices.Sorted(maps.Keys(q.rates)) {
		if code != quote.Currency {
			rates[code] = q.rates[code] / quote.Rate
		}
	}
	sys, err := units.NewSystem(quote.Currency, rates)
	if err != nil { // both codes were looked at
		return q.Model.Schema.Units
	}
	return sys
}

func (q *Quotes) quantityRow(t *table.Table, row table.Row, columns map[int]*Record, seen map[string]table.Place) {
	key := t.ValueAt(row, "quantity")
	name, inHeading, _ := table.SplitHeading(key.Text)
	if name == "" || name == "currency" {
		return
	}
	if first, dup := seen[name]; dup {
		q.Diagnostics.Add("key", key.Place, fmt.Sprintf("%q stands twice", table.Shortened(key.Text)), "delete one of the two",
			table.Related{Place: first, Note: "first at"})
		return
	}
	name = q.meantRow(t, key, name, columns)
	seen[name] = key.Place
	unit := statedUnit{strings.TrimSpace(inHeading), key.Place}
	if text := t.TextAt(row, "unit"); text != "" {
		unit = statedUnit{text, t.ValueAt(row, "unit").Place}
	}
	for _, i := range sortedColumns(columns) {
		q.cell(columns[i], name, unit, key, row.Cells[i])
	}
}

func sortedColumns(columns map[int]*Record) []int { return slices.Sorted(maps.Keys(columns)) }

// cell takes a cell of the sheet Quotes.
func (q *Quotes) cell(r *Record, name string, unit statedUnit, key, v table.Value) {
	if slices.ContainsFunc(q.Library.Words[r.Scope], func(w Word) bool { return w.Name == name }) {
		q.inner.textCell(r, name, v)
		return
	}
	if volume, ok := strings.CutPrefix(name, "price_at_"); ok {
		q.priceAt(r, volume, unit, key, v)
		return
	}
	if name == "duty" && (isShare(unit.text, v)) {
		name = "duty_share"
	}
	n, ok := q.rowQuantity(r.Scope, name)
	if !ok || v.Kind == table.Empty {
		return
	}
	if quote := q.quoteOf(r); quote != nil && v.Kind == table.Text && strings.EqualFold(strings.TrimSpace(v.Text), "included") {
		quote.Included[q.inner.Schema.byName[r.Scope].Quantities[n].Name] = true
		return
	}
	q.field(r, r, n, unit, key.Text, v)
}

// isShare tells whether an amount is given as a share.
func isShare(unit string, v table.Value) bool {
	return strings.Contains(unit, "%") || v.Percent || v.Kind == table.Text && strings.Contains(v.Text, "%")
}

// field reads a cell of a record in the units of its quote.
func (q *Quotes) field(quote, r *Record, n int32, unit statedUnit, heading string, v table.Value) {
	sc := q.inner.Schema.byName[r.Scope]
	quantity := sc.Quantities[n]
	sys := q.unitsOf(quote)
	u := quantity.Unit
	if unit.text != "" && !quantity.Flag && len(quantity.Options) == 0 {
		given, err := sys.Parse(unit.text)
		switch {
		case err != nil:
			q.Diagnostics.Add("unit", unit.place, fmt.Sprintf("%q: %v", table.Shortened(heading), err), "")
			return
		case !given.Fits(quantity.Unit):
			q.Diagnostics.Add("dimension", unit.place, fmt.Sprintf("%q: the unit is %s, but %s is %s", table.Shortened(heading), given.Describe(),
				quantity.Label, quantity.Unit.Describe()), given.Help(quantity.Unit))
			return
		}
		u = given
	} else if same, err := sys.Parse(quantity.Unit.Text); err == nil {
		u = same
	}
	shared := q.inner.Schema.Units
	q.inner.Schema.Units = sys
	def := q.statedNumber(q.inner.readField(sc, n, v, u, nil), quantity.Label, v)
	q.inner.Schema.Units = shared
	r.fields = append(r.fields, givenField{quantity: n, value: v, unit: u, def: def})
}

// priceAt reads a row such as Price at 150000.
func (q *Quotes) priceAt(r *Record, volume string, unit statedUnit, key, v table.Value) {
	n, err := q.Model.Schema.Units.ParseQuantity(strings.ReplaceAll(volume, "_", ""))
	if err != nil || !(n.Number > 0) {
		q.Diagnostics.Add("key", key.Place, fmt.Sprintf("%q names no annual volume", table.Shortened(key.Text)), "write Price at 150000")
		return
	}
	quote := q.quoteOf(r)
	if quote == nil || v.Kind == table.Empty {
		return
	}
	sc := q.inner.Schema.byName["quote"]
	before := len(r.fields)
	q.field(r, r, sc.MustQuantity("price"), unit, key.Text, v)
	if len(r.fields) > before {
		f := r.fields[before]
		r.fields = r.fields[:before]
		if !f.def.failed && f.def.Kind == plan.Given {
			at := PriceAt{Volume: n.Number, Price: f.def.Value, Place: v.Place}
			if v.Kind == table.Number {
				at.Cells = []FactCell{{v.Place, (&Given{Value: v, unit: f.unit}).Unit().Factor}}
			}
			quote.Prices = append(quote.Prices, at)
			slices.SortFunc(quote.Prices, func(a, b PriceAt) int { return compareFloats(a.Volume, b.Volume) })
		}
	}
}

func compareFloats(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}
