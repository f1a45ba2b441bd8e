package lint

import (
	"strconv"
	"strings"
)

const (
	lastRow = 1 << 20
	lastCol = 1 << 14
)

// An area is a rectangle of cells, rows and columns from 1, both ends included. Whole columns and rows go to the last.
type area struct{ row1, col1, row2, col2 int }

func (a area) single() bool { return a.row1 == a.row2 && a.col1 == a.col2 }

func (a area) contains(row, col int) bool {
	return row >= a.row1 && row <= a.row2 && col >= a.col1 && col <= a.col2
}

// A ref is a reference as written.
type ref struct {
	book  string // of another workbook: "1" in [1]Sheet!A1
	sheet string // "" for the cell's own
	last  string // of Jan:Dec!A1
	area
	fixed fixed
}

// fixed tells which of row1, col1, row2, col2 are absolute.
type fixed [4]bool

func (f fixed) all() bool { return f[0] && f[1] && f[2] && f[3] }

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
	if dollar && at == from || c.row > lastRow || c.col > lastCol || c.row == 0 && c.col == 0 {
		return corner{}, i
	}
	if at < len(s) && (isWord(s[at]) || strings.IndexByte("(![", s[at]) >= 0) {
		return corner{}, i
	}
	return c, at
}

// rangeAt reads A1, A1:B2, A:B or 1:2 at a place of a formula.
func rangeAt(s string, i int) (a area, f fixed, end int, ok bool) {
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
func areaOf(from, to corner) (area, fixed) {
	if from.row == 0 {
		from.row, to.row, from.rowFixed, to.rowFixed = 1, lastRow, true, true
	}
	if from.col == 0 {
		from.col, to.col, from.colFixed, to.colFixed = 1, lastCol, true, true
	}
	if from.row > to.row {
		from.row, to.row, from.rowFixed, to.rowFixed = to.row, from.row, to.rowFixed, from.rowFixed
	}
	if from.col > to.col {
		from.col, to.col, from.colFixed, to.colFixed = to.col, from.col, to.colFixed, from.colFixed
	}
	return area{from.row, from.col, to.row, to.col}, fixed{from.rowFixed, from.colFixed, to.rowFixed, to.colFixed}
}

// relative writes a reference as seen from a cell, so that the same formula copied along has the same text: R[-1]C5.
func (r *ref) relative(b *strings.Builder, row, col int) {
	if r.book != "" {
		b.WriteString("[" + r.book + "]")
	}
	if r.sheet != "" || r.book != "" {
		b.WriteString(strings.ToLower(r.sheet+":"+r.last) + "!")
	}
	step(b, 'R', r.row1, row, r.fixed[0])
	step(b, 'C', r.col1, col, r.fixed[1])
	if !r.single() || r.fixed[0] != r.fixed[2] || r.fixed[1] != r.fixed[3] {
		b.WriteByte(':')
		step(b, 'R', r.row2, row, r.fixed[2])
		step(b, 'C', r.col2, col, r.fixed[3])
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

// parseArea reads "B2:F9" or "B2" as files write ranges; ok is false for anything else.
func parseArea(text string) (area, bool) {
	a, _, end, ok := rangeAt(text, 0)
	return a, ok && end == len(text)
}
