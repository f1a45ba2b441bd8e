package ooxml

import (
	"strconv"
	"strings"
)

// The size of a sheet (ECMA-376 part 1, 18.3.1.73 and 18.3.1.4, as spreadsheet programs have it since 2007).
const (
	maxRow = 1 << 20
	maxCol = 1 << 14
)

// parseCell reads "AB12". It may lie outside the sheet.
func parseCell(ref string) (row, col int, ok bool) {
	col, digits := letters(ref)
	if col == 0 || digits == "" || !isDigit(digits[0]) {
		return 0, 0, false
	}
	row, err := strconv.Atoi(digits)
	return row, col, err == nil && row > 0
}

// letters reads the column that a word begins with; 0 where it begins with none or with more than three letters.
func letters(word string) (col int, rest string) {
	i := 0
	for ; i < len(word) && isLetter(word[i]); i++ {
		if i == 3 {
			return 0, word
		}
		col = col*26 + int(word[i]|0x20-'a') + 1
	}
	return col, word[i:]
}

func isLetter(c byte) bool { return c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z' }

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// Shift moves the relative references of a formula by rows and columns, as for a member of a shared formula: cells,
// ranges, whole columns A:A and rows 1:1. Texts, sheets, names, functions, what stands in [] and absolute parts stay; a
// reference that leaves the sheet becomes #REF!.
func Shift(formula string, rows, cols int) string {
	var b strings.Builder
	for i := 0; i < len(formula); {
		end, moved := i+1, ""
		switch c := formula[i]; {
		case c == '"' || c == '\'':
			end = quotedEnd(formula, i)
		case c == '[':
			end = bracketEnd(formula, i)
		case isWordByte(c):
			end, moved = shiftAt(formula, i, rows, cols)
		}
		if moved == "" {
			moved = formula[i:end]
		}
		b.WriteString(moved)
		i = end
	}
	return b.String()
}

func quotedEnd(s string, i int) int {
	q := s[i]
	for i++; i < len(s); i++ {
		if s[i] == q {
			if i+1 < len(s) && s[i+1] == q {
				i++
				continue
			}
			return i + 1
		}
	}
	return len(s)
}

// bracketEnd is the end of a table's column or of the number of another workbook: [[#This Row],[Q1]], [1]. An
// apostrophe escapes the next character.
func bracketEnd(s string, i int) int {
	for depth := 0; i < len(s); i++ {
		switch s[i] {
		case '\'':
			i++
		case '[':
			depth++
		case ']':
			if depth--; depth == 0 {
				return i + 1
			}
		}
	}
	return len(s)
}

func isWordByte(c byte) bool {
	return isLetter(c) || isDigit(c) || c == '$' || c == '_' || c == '.' || c == '\\' || c >= 0x80
}

// wordAt returns the word that begins at a place, and whether it can be a reference: what stands before ( is a function,
// before ! a sheet, before [ a table.
func wordAt(s string, i int) (word string, end int, free bool) {
	end = i
	for end < len(s) && isWordByte(s[end]) {
		end++
	}
	return s[i:end], end, end == len(s) || strings.IndexByte("(![", s[end]) < 0
}

// shiftAt shifts the reference that begins at a place; moved is "" where none does.
func shiftAt(s string, i, rows, cols int) (end int, moved string) {
	word, end, free := wordAt(s, i)
	from, ok := parseReference(word)
	if !free || !ok {
		return end, ""
	}
	if end < len(s) && s[end] == ':' {
		last, end2, free := wordAt(s, end+1)
		if to, ok := parseReference(last); ok && free && from.sameKind(to) {
			return end2, from.shifted(rows, cols).joined(to.shifted(rows, cols))
		}
	}
	if from.row == 0 || from.col == 0 {
		return end, "" // a name, or a number
	}
	return end, from.shifted(rows, cols).String()
}

// A reference is a cell, a whole column (row 0) or a whole row (col 0).
type reference struct {
	row, col       int
	absRow, absCol bool
	off            bool // it left the sheet
}

// parseReference reads $A$1, $A or $1.
func parseReference(word string) (r reference, ok bool) {
	rest, dollar := strings.CutPrefix(word, "$")
	if r.col, rest = letters(rest); r.col > 0 {
		r.absCol = dollar
		if rest == "" {
			return r, r.col <= maxCol
		}
		rest, dollar = strings.CutPrefix(rest, "$")
	}
	r.absRow = dollar
	if rest == "" || strings.Trim(rest, "0123456789") != "" {
		return r, false
	}
	row, err := strconv.Atoi(rest)
	r.row = row
	return r, err == nil && row > 0 && row <= maxRow && r.col <= maxCol
}

func (r reference) sameKind(to reference) bool {
	return (r.row == 0) == (to.row == 0) && (r.col == 0) == (to.col == 0)
}

func (r reference) shifted(rows, cols int) reference {
	if r.row > 0 && !r.absRow {
		r.row += rows
		r.off = r.row < 1 || r.row > maxRow
	}
	if r.col > 0 && !r.absCol {
		r.col += cols
		r.off = r.off || r.col < 1 || r.col > maxCol
	}
	return r
}

const lost = "#REF!"

func (r reference) joined(to reference) string {
	if r.off || to.off {
		return lost
	}
	return r.String() + ":" + to.String()
}

func (r reference) String() string {
	if r.off {
		return lost
	}
	out := ""
	if r.col > 0 {
		out = dollarIf(r.absCol) + columnName(r.col)
	}
	if r.row > 0 {
		out += dollarIf(r.absRow) + strconv.Itoa(r.row)
	}
	return out
}

func dollarIf(absolute bool) string {
	if absolute {
		return "$"
	}
	return ""
}

func columnName(col int) string {
	name := ""
	for ; col > 0; col = (col - 1) / 26 {
		name = string(rune('A'+(col-1)%26)) + name
	}
	return name
}
