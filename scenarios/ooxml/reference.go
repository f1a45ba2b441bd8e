package ooxml

import (
	"strconv"
	"strings"
)

// parseCell reads "AB12".
func parseCell(ref string) (row, col int, ok bool) {
	i := 0
	for i < len(ref) && isLetter(ref[i]) {
		col = col*26 + int(ref[i]|0x20-'a') + 1
		if i++; i > 3 {
			return 0, 0, false
		}
	}
	row, err := strconv.Atoi(ref[i:])
	return row, col, err == nil && i > 0 && row > 0
}

func isLetter(c byte) bool { return c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z' }

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// Shift moves the relative references of a formula by rows and columns, as for a member of a shared formula. Texts,
// names, functions and absolute parts stay; a reference that leaves the sheet becomes #REF!.
func Shift(formula string, rows, cols int) string {
	var b strings.Builder
	for i := 0; i < len(formula); {
		c := formula[i]
		switch {
		case c == '"' || c == '\'':
			end := quotedEnd(formula, i)
			b.WriteString(formula[i:end])
			i = end
		case isLetter(c) || c == '$' || c == '_' || c == '\\' || c >= 0x80 || isDigit(c):
			end := i
			for end < len(formula) && isWordByte(formula[end]) {
				end++
			}
			word := formula[i:end]
			if end < len(formula) && (formula[end] == '(' || formula[end] == '!') {
				b.WriteString(word) // a function or a sheet
			} else {
				b.WriteString(shiftWord(word, rows, cols))
			}
			i = end
		default:
			b.WriteByte(c)
			i++
		}
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

func isWordByte(c byte) bool {
	return isLetter(c) || isDigit(c) || c == '$' || c == '_' || c == '.' || c == '\\' || c >= 0x80
}

// shiftWord shifts a word that is a cell, $A$1; a whole column or row of a range likewise where it stands with dollars.
func shiftWord(word string, rows, cols int) string {
	i := 0
	absCol := i < len(word) && word[i] == '$'
	if absCol {
		i++
	}
	letters := i
	for i < len(word) && isLetter(word[i]) {
		i++
	}
	col := word[letters:i]
	absRow := i < len(word) && word[i] == '$'
	if absRow {
		i++
	}
	digits := word[i:]
	if col == "" || len(col) > 3 || digits == "" || strings.Trim(digits, "0123456789") != "" || len(digits) > 7 {
		return word
	}
	row, c, ok := parseCell(col + digits)
	if !ok || c > 1<<14 || row > 1<<20 {
		return word
	}
	if !absRow {
		row += rows
	}
	if !absCol {
		c += cols
	}
	if row < 1 || row > 1<<20 || c < 1 || c > 1<<14 {
		return "#REF!"
	}
	out := columnName(c)
	if absCol {
		out = "$" + out
	}
	if absRow {
		out += "$"
	}
	return out + strconv.Itoa(row)
}

func columnName(col int) string {
	name := ""
	for ; col > 0; col = (col - 1) / 26 {
		name = string(rune('A'+(col-1)%26)) + name
	}
	return name
}
