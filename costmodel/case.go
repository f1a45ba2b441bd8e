package costmodel

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

// A ValueKind says what a cell holds.
type ValueKind uint8

// The kinds of value.
const (
	Empty  ValueKind = iota
	Number           // Number; Percent where the cell is formatted as percent
	Text             // Text
	Flag             // Number is 1 or 0
	Date             // a date or time; no quantity has one
	Broken           // no usable value: Text says why, Help what to do
)

// A Value is the content of a cell, a native formula replaced by its result.
type Value struct {
	Kind    ValueKind
	Number  float64
	Text    string
	Help    string
	Percent bool
	Filled  bool // of an Empty value: the cell holds blanks or an empty result, which a spreadsheet counts as filled
	Place   Place
}
