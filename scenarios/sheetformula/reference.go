package sheetformula

import (
	"strconv"
	"strings"
)

// The size of a sheet.
const (
	LastRow = 1 << 20
	LastCol = 1 << 14
)

// An Area is a rectangle of cells, rows and columns from 1, both ends included. Whole columns and rows go to the last.
type Area struct{ Row1, Col1, Row2, Col2 int }

// Single tells whether the area is one cell.
func (a Area) Single() bool { return a.Row1 == a.Row2 && a.Col1 == a.Col2 }

// Contains tells whether a cell lies in the area.
func (a Area) Contains(row, col int) bool {
	return row >= a.Row1 && row <= a.Row2 && col >= a.Col1 && col <= a.Col2
}

// A Ref is a reference as written.
type Ref struct {
	Book  string // of another workbook: "1" in [1]Sheet!A1
	Sheet string // "" for the cell's own
	Last  string // of Jan:Dec!A1
	Area
	Fixed Fixed
}

// Fixed tells which of Row1, Col1, Row2, Col2 are absolute.
type Fixed [4]bool

// All tells whether nothing moves with the formula.
func (f Fixed) All() bool { return f[0] && f[1] && f[2] && f[3] }

// A corner is one end of a reference: $B$7, B or 7.
type corner struct {
	row, col           int // 0 where it is not there
	rowFixed, colFixed bool
}

// cornerAt reads a corner; end is i where there is none.
func cornerAt(s string, i int) (c corner, end int) {
	at := i
	dollar := at < len(s) && s[at] == '$'
	if dollar {
		at++
	}
	from := at
	for at < len(s) && isLetter(s[at]) && at-from < 4 {
		c.col = c.col*26 + int(s[at]|0x20-'a') + 1
		at++
	}
	if at > from {
		c.colFixed = dollar
		if dollar = at < len(s) && s[at] == '$'; dollar {
			at++
		}
	}
	from = at
	for at < len(s) && isDigit(s[at]) && at-from < 8 {
		c.row = c.row*10 + int(s[at]-'0')
		at++
	}
	c.rowFixed = dollar && at > from
	if dollar && at == from || c.row > LastRow || c.col > LastCol || c.row == 0 && c.col == 0 {
		return corner{}, i
	}
	if at < len(s) && (isWord(s[at]) || strings.IndexByte("(![", s[at]) >= 0) {
		return corner{}, i
	}
	return c, at
}

// rangeAt reads A1, A1:B2, A:B or 1:2 at a place of a formula.
func rangeAt(s string, i int) (a Area, f Fixed, end int, ok bool) {
	from, end := cornerAt(s, i)
	if end == i {
		return a, f, i, false
	}
	to := from
	if end < len(s) && s[end] == ':' {
		if c, e := cornerAt(s, end+1); e > end+1 && (c.row > 0) == (from.row > 0) && (c.col > 0) == (from.col > 0) {
			to, end = c, e
		} else if from.row == 0 || from.col == 0 {
			return a, f, i, false
		}
	} else if from.row == 0 || from.col == 0 {
		return a, f, i, false
	}
	a, f = areaOf(from, to)
	return a, f, end, true
}

// areaOf puts the corners in order; whole columns and rows count as fixed where they are not named.
func areaOf(from, to corner) (Area, Fixed) {
	if from.row == 0 {
		from.row, to.row, from.rowFixed, to.rowFixed = 1, LastRow, true, true
	}
	if from.col == 0 {
		from.col, to.col, from.colFixed, to.colFixed = 1, LastCol, true, true
	}
	if from.row > to.row {
		from.row, to.row, from.rowFixed, to.rowFixed = to.row, from.row, to.rowFixed, from.rowFixed
	}
	if from.col > to.col {
		from.col, to.col, from.colFixed, to.colFixed = to.col, from.col, to.colFixed, from.colFixed
	}
	return Area{from.row, from.col, to.row, to.col}, Fixed{from.rowFixed, from.colFixed, to.rowFixed, to.colFixed}
}

// Relative writes a reference as seen from a cell, so that the same formula copied along has the same text: R[-1]C5.
func (r *Ref) Relative(b *strings.Builder, row, col int) {
	if r.Book != "" {
		b.WriteString("[" + r.Book + "]")
	}
	if r.Sheet != "" || r.Book != "" {
		b.WriteString(strings.ToLower(r.Sheet+":"+r.Last) + "!")
	}
	step(b, 'R', r.Row1, row, r.Fixed[0])
	step(b, 'C', r.Col1, col, r.Fixed[1])
	if !r.Single() || r.Fixed[0] != r.Fixed[2] || r.Fixed[1] != r.Fixed[3] {
		b.WriteByte(':')
		step(b, 'R', r.Row2, row, r.Fixed[2])
		step(b, 'C', r.Col2, col, r.Fixed[3])
	}
}

func step(b *strings.Builder, letter byte, to, from int, fixed bool) {
	b.WriteByte(letter)
	if fixed {
		b.WriteString(strconv.Itoa(to))
		return
	}
	b.WriteString("[" + strconv.Itoa(to-from) + "]")
}

// ParseArea reads "B2:F9" or "B2" as files write ranges; ok is false for anything else.
func ParseArea(text string) (Area, bool) {
	a, _, end, ok := rangeAt(text, 0)
	return a, ok && end == len(text)
}
