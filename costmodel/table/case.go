package table

import (
	"fmt"
	"strings"
)

// A Case is the data of a workbook: its known sheets as tables, each cell with its place.
type Case struct {
	File   string
	Tables []*Table
}

// Table returns the table of a sheet, or nil.
func (c *Case) Table(sheet string) *Table {
	for _, t := range c.Tables {
		if t.Sheet == sheet {
			return t
		}
	}
	return nil
}

// A Table is a sheet: one heading row, then rows of cells under its columns. Empty rows are left out.
type Table struct {
	Sheet   string
	Place   Place // of the sheet
	Columns []Column
	Rows    []Row
	Merged  []Merge // merged cells in the heading row
	Joined  []Merge // merged cells of several rows below it; each holds the value of the first
}

// Column finds a column by the name of its heading, whatever its unit; ok is false where there is none.
func (t *Table) Column(name string) (c Column, ok bool) {
	for _, c := range t.Columns {
		if n, _, _ := SplitHeading(c.Heading); n == name {
			return c, true
		}
	}
	return Column{}, false
}

// TextAt returns the words of a cell by heading name, "" where there are none.
func (t *Table) TextAt(row Row, name string) string {
	v := t.ValueAt(row, name)
	if v.Kind == Number {
		return fmt.Sprint(v.Number)
	}
	return strings.TrimSpace(v.Text)
}

// ValueAt returns a cell by heading name.
func (t *Table) ValueAt(row Row, name string) Value {
	for i, c := range t.Columns {
		if n, _, _ := SplitHeading(c.Heading); n == name {
			return row.Cells[i]
		}
	}
	return Value{Place: Place{File: t.Place.File, Sheet: t.Sheet, Row: row.Number, Col: 1}}
}

// A Merge is a merged range that covers a cell.
type Merge struct {
	Place Place
	Range string // "B1:C1"
}

// A Column is a heading; a blank one has an empty Heading.
type Column struct {
	Heading string
	Place   Place
}

// A Row holds one Value for each column.
type Row struct {
	Number int // row of the sheet, from 1
	Cells  []Value
}
