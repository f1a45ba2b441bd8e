package live

import (
	"fmt"
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/plan"
	"piececost/costmodel/table"
)

// A Sheet is the calculation of one scenario.
type Sheet struct {
	Name   string
	Blocks []*Block
	Plan   *costmodel.Plan
	Detail *costmodel.Detail
	Inputs *Inputs // cells of the input sheets that formulas link to, shared by all sheets of a workbook

	main     map[string]*Block             // by scope
	variants map[*costmodel.Variant]*Block // by form or process
	uses     *Block                        // links grouped by child
	ofQuote  map[*costmodel.Quantity]bool  // in the currency of the quote, on a sheet of quotes
}

// A Block is a table on the sheet: five heading rows (title, source, formula in words, unit, heading), then a row for each
// entity.
type Block struct {
	Title   string
	Scope   *costmodel.Scope
	Variant *costmodel.Variant
	Rows    []plan.Entity
	Columns []*Column
	First   int // sheet row of the first data row, from 1

	byQuantity map[int32]*Column
	pulled     map[string]*Column
	rowOf      map[plan.Entity]int
}

// HeadingRows is the number of rows of a block above its data.
const HeadingRows = 5

// A Column is one quantity, a link to another block, or a key.
type Column struct {
	Heading string
	Unit    string // as shown
	Words   string // formula in words
	Source  string
	Note    string
	Factor  float64 // coherent value of 1 more as shown
	Zero    float64 // what is shown at the coherent value 0: 32 in degF, else 0
	Percent bool    // shown as percent
	Whole   bool    // counts whole things
	Text    bool
	Kind    ColumnKind
	At      int // column of the sheet, from 1

	quantity int32
	fill     func(row int, e plan.Entity) Cell
}

// A ColumnKind says what a column is for; it decides its look.
type ColumnKind uint8

// The kinds of column.
const (
	Key      ColumnKind = iota // the row's key as it was
	Link                       // a value of an input sheet or of another block
	Quantity                   // an equation
)

// A CellKind says what a cell's value is.
type CellKind uint8

// The kinds of cell.
const (
	Blank CellKind = iota
	Number
	Word
)

// A Cell is a formula with its value, or a constant where Formula is empty.
type Cell struct {
	Formula string
	Kind    CellKind
	Num     float64
	Text    string
	Input   bool // links to an input cell
	Found   bool // a number that the program found at the run; no formula follows it
}

// Last returns the sheet row of the block's last data row.
func (b *Block) Last() int { return b.First + len(b.Rows) - 1 }

// address returns the cell of a column in a data row.
func (b *Block) address(c *Column, row int) string {
	return fmt.Sprintf("%s%d", table.ColumnName(c.At), b.First+row)
}

// Range returns all data cells of a column, absolute.
func (b *Block) Range(c *Column) string {
	col := table.ColumnName(c.At)
	return fmt.Sprintf("$%s$%d:$%s$%d", col, b.First, col, b.Last())
}

// Cell computes the content of a data cell.
func (b *Block) Cell(c *Column, row int) Cell { return c.fill(row, b.Rows[row]) }

// find returns the address, on its own sheet, of a quantity of a row, and its column; ok is false where it has none.
func (s *Sheet) find(e plan.Entity, name string) (address string, c *Column, ok bool) {
	b := s.main[s.Plan.RowScope(e).Name]
	n := s.Plan.RowScope(e).MustQuantity(name)
	if b == nil {
		return "", nil, false
	}
	c = b.byQuantity[n]
	row, there := b.rowOf[e]
	if c == nil || !there || !s.Plan.Compiled(e, n) {
		return "", nil, false
	}
	return b.address(c, row), c, true
}

// Qualified writes an address of this sheet for use on another one.
func (s *Sheet) Qualified(address string) string { return QuoteSheet(s.Name) + "!" + address }

// Main returns the block of a scope.
func (s *Sheet) Main(scope string) *Block { return s.main[scope] }

// columnOf returns the column of a quantity of the block's scope, or nil where the block does not show it.
func (b *Block) columnOf(name string) *Column {
	return b.byQuantity[b.Scope.MustQuantity(name)]
}

// QuoteSheet writes a sheet name for a formula.
func QuoteSheet(name string) string {
	for i, r := range name {
		plain := r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' || r == '_' || i > 0 && r >= '0' && r <= '9'
		if !plain {
			return "'" + strings.ReplaceAll(name, "'", "''") + "'"
		}
	}
	// a name such as A1 or R1C1 would be read as a cell
	if strings.ContainsAny(name, "0123456789") {
		return "'" + name + "'"
	}
	return name
}

// textLiteral writes a text for a formula.
func textLiteral(text string) string { return `"` + strings.ReplaceAll(text, `"`, `""`) + `"` }
