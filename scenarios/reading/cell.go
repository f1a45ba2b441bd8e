package reading

import (
	"piececost/costmodel/table"
	"piececost/scenarios/ooxml"
)

// notCalculated is said of a native formula whose value is neither stored nor plain arithmetic.
const notCalculated = "the cell's formula has no stored result"

const saveOnce = "open the workbook in a spreadsheet program and save it once"

// value reads a cell; a native formula is replaced by its stored result, or by its value where it is plain arithmetic.
func (b *Book) value(sheet string, g *grid, row, col int) table.Value {
	c := g.at(row, col)
	if c == nil {
		return table.Value{}
	}
	return b.Value(sheet, c)
}

// Value is what a filled cell of a sheet means, without its place.
func (b *Book) Value(sheet string, c *ooxml.Cell) table.Value {
	if isComputed(c) && !c.HasValue {
		return b.Calculated(sheet, c)
	}
	return b.Stored(c)
}

// Calculated is the value of a cell with a formula and no stored value: that of plain arithmetic, or Broken with the reason.
func (b *Book) Calculated(sheet string, c *ooxml.Cell) table.Value {
	n, err := b.arithmetic(sheet, c.Formula)
	if err != nil {
		return table.Value{Kind: table.Broken, Text: notCalculated + " and " + err.Error(), Help: saveOnce}
	}
	return table.Value{Kind: table.Number, Number: n, Percent: b.Pack.Style(c.Style).Percent}
}
