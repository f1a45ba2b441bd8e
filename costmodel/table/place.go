package table

import (
	"fmt"
	"strings"
)

// A Place is a cell of a workbook, or a whole sheet or file where the rest is empty.
type Place struct {
	File, Sheet string
	Row, Col    int // from 1; 0 where the whole sheet is meant
	Char        int // character in the cell, from 1; 0 where the whole cell is meant
}

// Cell returns the name of the cell, "F12".
func (p Place) Cell() string {
	if p.Row == 0 || p.Col == 0 {
		return ""
	}
	return ColumnName(p.Col) + fmt.Sprint(p.Row)
}

// ColumnName returns the letters of a column counted from 1.
func ColumnName(col int) string {
	name := ""
	for ; col > 0; col = (col - 1) / 26 {
		name = string(rune('A'+(col-1)%26)) + name
	}
	return name
}

// String writes "tray.xlsx Parts!F12", with ":7" for the seventh character of the cell.
func (p Place) String() string {
	var b strings.Builder
	b.WriteString(p.File)
	if p.Sheet != "" {
		if p.File != "" {
			b.WriteString(" ")
		}
		b.WriteString(p.Sheet)
		if cell := p.Cell(); cell != "" {
			b.WriteString("!" + cell)
		}
	}
	if p.Char > 0 {
		fmt.Fprintf(&b, ":%d", p.Char)
	}
	return b.String()
}
