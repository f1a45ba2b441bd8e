package handedits

import (
	"piececost/costmodel/table"
	"piececost/scenarios/ooxml"
	"piececost/scenarios/reading"
)

const (
	// OverridesSheet keeps what was set by hand; costmodel reads it.
	OverridesSheet = "Overrides"
	overridesNote  = "Kept from run to run. A row sets a quantity against the model; change its value, write another state than \"in force\" to " +
		"switch it off, or delete the row."
	overridesHead = 5
	notTaken      = "not taken over"
)

// An overrideSheet is the sheet Overrides as it is to be written: what stood in it, and new rows.
type overrideSheet struct {
	table *table.Table // as the case reads it
	cells map[int]map[int]overrideCell
	last  int // row
}

type overrideCell struct {
	value   table.Value
	formula string
	date    bool
}

// newOverrideSheet makes a sheet without rows.
func newOverrideSheet(file string) *overrideSheet {
	s := &overrideSheet{table: &table.Table{Sheet: OverridesSheet, Place: table.Place{File: file, Sheet: OverridesSheet}},
		cells: map[int]map[int]overrideCell{}, last: overridesHead}
	for i, h := range table.OverrideColumns {
		at := table.Place{File: file, Sheet: OverridesSheet, Row: overridesHead, Col: i + 1}
		s.table.Columns = append(s.table.Columns, table.Column{Heading: h, Place: at})
		s.put(overridesHead, i+1, overrideCell{value: table.Value{Kind: table.Text, Text: h}})
	}
	for i, text := range []string{"Results set by hand", overridesNote} {
		s.put(i+1, 1, overrideCell{value: table.Value{Kind: table.Text, Text: text}})
	}
	return s
}

func (s *overrideSheet) put(row, col int, c overrideCell) {
	if s.cells[row] == nil {
		s.cells[row] = map[int]overrideCell{}
	}
	s.cells[row][col] = c
	s.last = max(s.last, row)
}

// column finds a column by its heading; 0 where a person has taken it out.
func (s *overrideSheet) column(heading string) int {
	c, _ := s.table.Column(table.Normalise(heading))
	return c.Place.Col
}

func (s *overrideSheet) set(row int, heading string, v table.Value) {
	if col := s.column(heading); col > 0 {
		s.put(row, col, overrideCell{value: v})
	}
}

// tableRow makes the row of the table from the cells.
func (s *overrideSheet) tableRow(row int) {
	r := table.Row{Number: row, Cells: make([]table.Value, len(s.table.Columns))}
	for i, c := range s.table.Columns {
		r.Cells[i] = s.cells[row][c.Place.Col].value
		r.Cells[i].Place = table.Place{File: s.table.Place.File, Sheet: OverridesSheet, Row: row, Col: c.Place.Col}
	}
	s.table.Rows = append(s.table.Rows, r)
}

// carry takes a cell over as it stands.
func (s *overrideSheet) carry(b *reading.Book, c *ooxml.Cell) {
	v := b.Stored(c)
	out := overrideCell{value: v, formula: c.Formula, date: v.Kind == table.Date && c.Type == ooxml.Number}
	if v.Kind == table.Broken {
		out.value = table.Value{Kind: table.Text, Text: c.Value}
	}
	s.put(c.Row, c.Col, out)
}

func replaceTable(tables []*table.Table, t *table.Table) []*table.Table {
	var out []*table.Table
	for _, old := range tables {
		if old.Sheet != t.Sheet {
			out = append(out, old)
		}
	}
	return append(out, t)
}
