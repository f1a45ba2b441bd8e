package costmodel

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"piececost/costmodel/formula"
	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// A Record is one thing of a case: a grade, a machine, a part, a step. Its words and fields keep their cells.
type Record struct {
	Scope  string
	Key    string      // "A01", "A01/20"
	Place  table.Place // of the key
	Sheet  string
	Row    int
	texts  map[string]table.Value // words by column: name, material, alternative, source, ...
	fields []givenField           // in column order
	banded []bandedPrice          // prices that the sheet Price bands gives, sizes that a size series does
	of     *Record                // the row of the sheet that it is a copy of, as a machine of an operation's own size; nil for a row itself
}

// A givenField is a quantity that a cell gives.
type givenField struct {
	quantity int32
	value    table.Value
	unit     units.Unit // of the column
	def      fieldDefinition
	cells    []FactCell        // of a fact of quotes
	provided map[string]string // words of its own row, where the record has several rows
}

// Text returns a word column, trimmed, or "".
func (r *Record) Text(column string) string {
	v := r.texts[column]
	if v.Kind == table.Number {
		return strings.TrimSuffix(fmt.Sprintf("%v", v.Number), ".0")
	}
	return strings.TrimSpace(v.Text)
}

// TextPlace returns the cell of a word column, or the key's where the column is missing.
func (r *Record) TextPlace(column string) table.Place {
	if v, ok := r.texts[column]; ok {
		return v.Place
	}
	return r.Place
}

// Name returns what a person calls the thing, or its key.
func (r *Record) Name() string {
	if n := r.Text("name"); n != "" {
		return n
	}
	return r.Key
}

// Source is the record of the sheet's row: r itself, but where r is a machine of an operation's own size.
func (r *Record) Source() *Record {
	if r.of != nil {
		return r.of
	}
	return r
}

func (r *Record) field(quantity int32) *givenField {
	for i := range r.fields {
		if r.fields[i].quantity == quantity {
			return &r.fields[i]
		}
	}
	return nil
}

// columnUse is what a heading means.
type columnUse struct {
	name     string
	text     bool
	quantity int32 // -1 for none
	unit     units.Unit
	place    table.Place // of the heading, where a finding may be about it
}

// rowRecords reads a sheet on which a row is a thing.
func (m *Model) rowRecords(l *table.Layout, t *table.Table) []*Record {
	sc := m.Schema.byName[l.Scope]
	uses := m.columnUses(l, sc, t)
	if !m.requireColumns(l, t, uses) {
		return nil
	}
	var out []*Record
	for _, row := range t.Rows {
		r := &Record{Scope: l.Scope, Sheet: l.Sheet, Row: row.Number, texts: map[string]table.Value{}}
		for i, v := range row.Cells {
			u := uses[i]
			switch {
			case u.text:
				m.textCell(r, u.name, v)
			case u.quantity >= 0 && v.Kind != table.Empty:
				r.fields = append(r.fields, givenField{quantity: u.quantity, value: v, unit: u.unit})
			}
		}
		m.ownColumns(sc, r)
		if m.setKey(l, t, r) {
			out = append(out, r)
		}
	}
	return out
}

func (m *Model) textCell(r *Record, name string, v table.Value) {
	switch v.Kind {
	case table.Empty:
		v.Text = ""
	case table.Broken:
		if table.IsProvenance(name) { // no cost rests on it
			m.Diagnostics.Warn("cell", v.Place, v.Text+"; the words are left out", v.Help)
		} else {
			m.Diagnostics.Add("cell", v.Place, v.Text, v.Help)
		}
		v.Text = ""
	}
	r.texts[name] = v
}

// setKey joins the key columns; a row without a key is an error, unless it holds no quantity either.
func (m *Model) setKey(l *table.Layout, t *table.Table, r *Record) bool {
	var parts []string
	for _, k := range l.Key {
		parts = append(parts, r.Text(k))
		if r.Text(k) == "" {
			if len(r.fields) > 0 || strings.Join(parts, "") != "" || saysWhat(l, r) {
				place := r.TextPlace(k)
				if place.Row == 0 {
					place = table.Place{File: t.Place.File, Sheet: l.Sheet, Row: r.Row, Col: 1}
				}
				m.Diagnostics.Add("key", place, fmt.Sprintf("the row has no %s", strings.ToLower(table.Label(k))), "fill the cell or clear the row")
			}
			return false
		}
	}
	r.Key, r.Place = strings.Join(parts, "/"), r.TextPlace(l.Key[0])
	return true
}

// saysWhat tells whether a row without a key is one of the sheet all the same: it has words on which a result would rest.
func saysWhat(l *table.Layout, r *Record) bool {
	for _, name := range neededTexts[l.Sheet] {
		if r.Text(name) != "" {
			return true
		}
	}
	return false
}

// columnUses finds what each heading of a sheet means.
func (m *Model) columnUses(l *table.Layout, sc *Scope, t *table.Table) []columnUse {
	uses := make([]columnUse, len(t.Columns))
	seen, given := map[string]table.Place{}, map[int32]table.Place{}
	for i, c := range t.Columns {
		name, unit, bracket := table.SplitHeading(c.Heading)
		uses[i] = columnUse{name: name, quantity: -1}
		if name == "" {
			continue
		}
		if first, dup := seen[name]; dup {
			m.Diagnostics.Add("heading", c.Place, fmt.Sprintf("heading %q stands twice", c.Heading), "delete or rename one of the two",
				table.Related{Place: first, Note: "first at"})
			continue
		}
		if contains(l.Key, name) || contains(l.Texts, name) || table.IsProvenance(name) {
			uses[i].text = true
			seen[name] = c.Place
			continue
		}
		if n, ok := sc.byHeading(name); ok {
			if first, dup := given[n]; dup {
				m.Diagnostics.Add("heading", c.Place, fmt.Sprintf("heading %q is another name of %s, which stands already", c.Heading, sc.Quantities[n].Label),
					"delete or rename one of the two", table.Related{Place: first, Note: "first at"})
				continue
			}
			given[n] = c.Place
			uses[i].quantity, uses[i].unit = n, m.headingUnit(sc.Quantities[n], c, unit, bracket)
			seen[name] = c.Place
			continue
		}
		if near := m.suspectHeading(l, sc, t, c, name); near != "" {
			uses[i] = m.meantColumn(l, sc, near, unit)
			seen[near] = c.Place
		}
	}
	return uses
}

func contains(list []string, name string) bool {
	for _, x := range list {
		if x == name {
			return true
		}
	}
	return false
}

// headingUnit reads the unit of a heading, which must have the quantity's dimension.
func (m *Model) headingUnit(q *Quantity, c table.Column, unit string, bracket bool) units.Unit {
	if q.Flag || len(q.Options) > 0 {
		return units.One
	}
	return m.columnUnit(q, c.Place, fmt.Sprintf("heading %q", c.Heading), unit, bracket, fmt.Sprintf("write %s [%s]", q.Label, m.ShownUnit(q.Unit)))
}

// columnUnit checks a unit written for a column or row.
func (m *Model) columnUnit(q *Quantity, at table.Place, what, unit string, given bool, help string) units.Unit {
	if !given {
		if q.Unit.Dim != units.None || q.Unit.Factor != 1 {
			m.Diagnostics.Add("unit", at, what+" has no unit", help)
		}
		return q.Unit
	}
	u, err := m.Schema.Units.Parse(unit)
	if err != nil {
		m.Diagnostics.Add("unit", at, fmt.Sprintf("%s: %v", what, err), "")
		return q.Unit
	}
	if !u.Fits(q.Unit) {
		if kind := u.Help(q.Unit); kind != "" {
			help += ": " + kind
		}
		m.Diagnostics.Add("dimension", at, fmt.Sprintf("%s: the unit is %s, but %s is %s", what, u.Describe(), q.Name, q.Unit.Describe()), help)
		return q.Unit
	}
	return u
}

// ShownUnit writes a unit with the model currency's code.
func (m *Model) ShownUnit(u units.Unit) string {
	return m.Schema.shown(u)
}

// suspectHeading reports a heading that is nearly the name of something known and would silently be ignored, and returns
// that name; empty where it is a column of the user's own.
func (m *Model) suspectHeading(l *table.Layout, sc *Scope, t *table.Table, c table.Column, name string) string {
	known := append([]string{}, l.Key...)
	known = append(known, l.Texts...)
	for _, q := range sc.Quantities {
		if q.Check == nil && !q.Structural {
			known = append(known, q.Name, table.Normalise(q.Label))
		}
	}
	near := formula.Nearest(name, known)
	if near == "" {
		return ""
	}
	for _, other := range t.Columns {
		if n, _, _ := table.SplitHeading(other.Heading); n == near {
			return ""
		}
	}
	m.suspect(sc, near)
	m.sayMisspelt(c, near)
	return near
}

// suspect notes that a quantity is probably given under a misspelt name, so that it is not called missing as well.
func (m *Model) suspect(sc *Scope, near string) {
	if n, ok := sc.byHeading(near); ok {
		m.suspected[sc.Quantities[n]] = true
	}
}

// requireColumns reports columns without which a sheet can't be read, each once; false where the rows have no keys.
func (m *Model) requireColumns(l *table.Layout, t *table.Table, uses []columnUse) bool {
	missing := func(name string) bool {
		for _, u := range uses {
			if u.name == name {
				return false
			}
		}
		m.Diagnostics.Add("heading", t.Place, fmt.Sprintf("the sheet has no column %q", table.Label(name)), "add it to the heading row")
		return true
	}
	keyed := true
	for _, k := range l.Key {
		keyed = !missing(k) && keyed
	}
	if !keyed {
		m.unreadable(l.Scope)
		return false
	}
	if len(t.Rows) > 0 {
		for _, name := range neededTexts[l.Sheet] {
			if missing(name) {
				m.lacking[l.Scope] = append(m.lacking[l.Scope], name)
			}
		}
	}
	return true
}

// columnRecords reads a sheet on which a column is a thing and a row is one of its quantities (Case, Plants).
func (m *Model) columnRecords(l *table.Layout, t *table.Table) []*Record {
	sc := m.Schema.byName[l.Scope]
	key, unit := -1, -1
	var out []*Record
	byColumn := map[int]*Record{}
	for i, c := range t.Columns {
		name, _, _ := table.SplitHeading(c.Heading)
		switch {
		case name == "quantity":
			key = i
		case name == "unit":
			unit = i
		case name == "" || table.IsProvenance(name):
		default:
			r := &Record{Scope: l.Scope, Sheet: l.Sheet, Key: strings.TrimSpace(c.Heading), Place: c.Place, texts: map[string]table.Value{}}
			byColumn[i] = r
			out = append(out, r)
		}
	}
	if key < 0 {
		m.Diagnostics.Add("heading", t.Place, `the sheet has no column "Quantity"`, "add it to the heading row")
		m.unreadable(l.Scope)
		return out
	}
	seen := map[string]table.Place{}
	for _, row := range t.Rows {
		m.quantityRow(l, sc, row, key, unit, byColumn, seen)
	}
	return out
}

// caseTexts are the facts in words of the sheets Case and Plants.
var caseTexts = []string{"model_currency", "price_date", "claim_under_test", "scope", "title", "region", "case", "author", "product"}

func (m *Model) quantityRow(l *table.Layout, sc *Scope, row table.Row, key, unit int, byColumn map[int]*Record, seen map[string]table.Place) {
	k := row.Cells[key]
	name, inHeading, bracket := table.SplitHeading(k.Text)
	if name == "" {
		return
	}
	if first, dup := seen[name]; dup {
		m.Diagnostics.Add("key", k.Place, fmt.Sprintf("%q stands twice", k.Text), "delete one of the two", table.Related{Place: first, Note: "first at"})
		return
	}
	seen[name] = k.Place
	if contains(caseTexts, name) {
		for _, i := range slices.Sorted(maps.Keys(byColumn)) {
			m.textCell(byColumn[i], name, row.Cells[i])
		}
		return
	}
	n, ok := sc.byHeading(name)
	if !ok {
		m.suspectRow(sc, k, name)
		return
	}
	q := sc.Quantities[n]
	if unit >= 0 && !bracket && row.Cells[unit].Kind == table.Text {
		inHeading, bracket = row.Cells[unit].Text, true
	} else if unit >= 0 && !bracket && row.Cells[unit].Kind == table.Number {
		inHeading, bracket = fmt.Sprint(row.Cells[unit].Number), true
	}
	u := units.One
	if !q.Flag && len(q.Options) == 0 {
		u = m.columnUnit(q, k.Place, fmt.Sprintf("%q", k.Text), inHeading, bracket, fmt.Sprintf("write %s in the column Unit", m.ShownUnit(q.Unit)))
	}
	for i, r := range byColumn {
		if v := row.Cells[i]; v.Kind != table.Empty {
			r.fields = append(r.fields, givenField{quantity: n, value: v, unit: u})
		}
	}
}

// suspectRow reports a row label that is nearly a quantity; any other unknown label is the user's own.
func (m *Model) suspectRow(sc *Scope, k table.Value, name string) {
	known := append([]string{}, caseTexts...)
	for _, q := range sc.Quantities {
		if q.Check == nil {
			known = append(known, q.Name)
		}
	}
	if near := formula.Nearest(name, known); near != "" {
		m.suspect(sc, near)
		m.Diagnostics.Add("key", k.Place, fmt.Sprintf("%q is not known", k.Text),
			fmt.Sprintf("did you mean %s? If the row is your own, give it a name less alike", table.Label(near)))
	}
}
