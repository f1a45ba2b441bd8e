package costmodel

import "piececost/costmodel/table"

// A CellUse is a cell of an input sheet that a model was made from: a heading, a key, a word or a number. Names, notes
// and a user's own columns are not among them.
type CellUse struct {
	Value   table.Value
	heading string // of its column; of a heading cell, itself
	key     string // of its row; empty for a heading
}

// Names are the words of the columns Row and Column that name the cell: the thing and then the quantity, whichever way round
// its sheet lies. A heading has no thing, and neither has a fact of the case.
func (c CellUse) Names() (row, column string) {
	l := table.LayoutOf(c.Value.Place.Sheet)
	name, _, _ := table.SplitHeading(c.heading)
	if l == nil || l.Shape != table.ColumnsAre || c.key == "" || contains(l.Key, name) || contains(l.Texts, name) || table.IsProvenance(name) {
		return c.key, c.heading
	}
	if l.Scope == "case" {
		return "", c.key
	}
	return c.heading, c.key
}

// A ColumnUse counts the filled cells of a column that matters.
type ColumnUse struct {
	Sheet    string
	Heading  string
	Col      int
	FirstRow int // below the heading
	LastRow  int
	Counted  int // filled cells from FirstRow on, in any row
}

// CountedBelow is how many rows below the last one a filled cell is noticed in.
const CountedBelow = 500

// decorations are word columns that no result depends on.
var decorations = []string{"name", "price_date", "incoterm", "group", "region", "description", "claim_under_test", "scope", "title", "case", "author"}

// CellsRead lists every cell that the costs depend on, by sheet, row and column, and the columns they stand in. Those of quotes are not among
// them.
func (m *Model) CellsRead() ([]CellUse, []ColumnUse) { return m.cellsOf(false) }

// CellsOfQuotes lists every cell of the sheets of quotes in the same way, on which what is shown of quotes rests beside those of the costs.
func (m *Model) CellsOfQuotes() ([]CellUse, []ColumnUse) { return m.cellsOf(true) }

func (m *Model) cellsOf(quotes bool) ([]CellUse, []ColumnUse) {
	var cells []CellUse
	var columns []ColumnUse
	for i := range table.Layouts {
		l := &table.Layouts[i]
		t := m.Case.Table(l.Sheet)
		if t == nil || table.OfQuotes(l.Sheet) != quotes || l.Words { // nothing is reckoned from a record of talks
			continue
		}
		for c, col := range t.Columns {
			if !m.matters(l, col.Heading) {
				continue
			}
			cells = append(cells, CellUse{Value: table.Value{Kind: table.Text, Text: col.Heading, Place: col.Place}, heading: col.Heading})
			use := ColumnUse{Sheet: t.Sheet, Heading: col.Heading, Col: col.Place.Col, FirstRow: col.Place.Row + 1, LastRow: col.Place.Row + 1}
			for _, row := range t.Rows {
				v := row.Cells[c]
				use.LastRow = max(use.LastRow, row.Number)
				if v.Kind != table.Empty || v.Filled {
					use.Counted++
				}
				if v.Kind == table.Empty {
					continue
				}
				if m.decorative(l, t, row) {
					continue
				}
				cells = append(cells, CellUse{Value: v, heading: col.Heading, key: rowKey(l, t, row)})
			}
			for _, row := range m.aside[t.Sheet] { // they fill the column, and no result rests on them
				if v := row.Cells[c]; row.Number <= use.LastRow+CountedBelow && (v.Kind != table.Empty || v.Filled) {
					use.Counted++
				}
			}
			columns = append(columns, use)
		}
	}
	return cells, columns
}

// matters tells whether a column's cells can change a result.
func (m *Model) matters(l *table.Layout, heading string) bool {
	name, _, _ := table.SplitHeading(heading)
	switch {
	case name == "" || table.IsProvenance(name) || contains(decorations, name):
		return false
	case l.Shape == table.ColumnsAre || contains(l.Key, name) || contains(l.Texts, name):
		return true
	case l.Shape == table.Listed && contains(l.Columns, name):
		return name != "count"
	case l.Scope == "":
		return true // Volumes, Currencies, Tables, Processes
	}
	_, ok := m.Schema.byName[l.Scope].byHeading(name)
	return ok
}

// decorative tells whether a row of a sheet on which rows are quantities is words only, or the user's own.
func (m *Model) decorative(l *table.Layout, t *table.Table, row table.Row) bool {
	if l.Shape != table.ColumnsAre || l.Scope == "" {
		return false
	}
	label := "quantity"
	if l.Scope == "scenario" {
		label = "column"
		if t.TextAt(row, "sheet") != "" {
			return false
		}
	}
	name, _, _ := table.SplitHeading(t.TextAt(row, label))
	if contains(decorations, name) {
		return true
	}
	if contains(caseTexts, name) || contains(scenarioTexts, name) {
		return false
	}
	_, ok := m.Schema.byName[l.Scope].byHeading(name)
	return !ok
}

func rowKey(l *table.Layout, t *table.Table, row table.Row) string {
	keys := l.Key
	if l.Scope == "scenario" && t.TextAt(row, "sheet") == "" {
		keys = []string{"column"}
	}
	out := ""
	for i, k := range keys {
		if i > 0 {
			out += "/"
		}
		out += t.TextAt(row, k)
	}
	return out
}

// Plausible returns the plausible range of the quantity a cell gives, or where none is known the possible one, in the unit
// of the cell; ok is false where neither is known or the cell holds no number.
func (m *Model) Plausible(r *Record, at table.Place) (lo, hi float64, ok bool) {
	sc := m.Schema.byName[r.Scope]
	for i := range r.fields {
		f := &r.fields[i]
		if f.value.Place != at || f.value.Kind != table.Number {
			continue
		}
		unit := (&Given{Value: f.value, unit: f.unit}).Unit()
		if def := sc.ranged(m.variantOf(sc, r), f.quantity, hasPlausible); def != nil {
			return def.Unit.In(unit, def.Item.Plausible[0]), def.Unit.In(unit, def.Item.Plausible[1]), true
		}
		in := sc.possible(m.variantOf(sc, r), f.quantity).shown(unit)
		return in.low, in.high, in.Known()
	}
	return 0, 0, false
}
