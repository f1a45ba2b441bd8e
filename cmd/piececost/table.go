package main

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// table is a table for a terminal: the first column to the left, the others to the right.
type table struct {
	rows [][]string
	rule map[int]bool // a line of dashes before the row
}

func (t *table) add(cells ...string) { t.rows = append(t.rows, cells) }

func (t *table) line() {
	if t.rule == nil {
		t.rule = map[int]bool{}
	}
	t.rule[len(t.rows)] = true
}

// widths are the letters of each column's widest cell.
func (t *table) widths() []int {
	var widths []int
	for _, row := range t.rows {
		for i, c := range row {
			if i == len(widths) {
				widths = append(widths, 0)
			}
			widths[i] = max(widths[i], utf8.RuneCountInString(c))
		}
	}
	return widths
}

// width is how wide the table prints.
func (t *table) width() int {
	total := -2
	for _, n := range t.widths() {
		total += n + 2
	}
	return total
}

func (t *table) print(w io.Writer) {
	widths, total := t.widths(), t.width()
	for i, row := range t.rows {
		if t.rule[i] {
			fmt.Fprintln(w, strings.Repeat("-", total))
		}
		var b strings.Builder
		for j, c := range row {
			gap := strings.Repeat(" ", widths[j]-utf8.RuneCountInString(c))
			if j == 0 {
				b.WriteString(c + gap)
			} else {
				b.WriteString("  " + gap + c)
			}
		}
		fmt.Fprintln(w, strings.TrimRight(b.String(), " "))
	}
}

// grouped writes a number with the given decimals and a comma between thousands.
func grouped(v float64, decimals int) string {
	return groupDigits(fmt.Sprintf("%.*f", decimals, v))
}

// groupDigits puts commas into a plain decimal number.
func groupDigits(text string) string {
	sign, whole, rest := "", text, ""
	if strings.HasPrefix(whole, "-") {
		sign, whole = "-", whole[1:]
	}
	if i := strings.IndexByte(whole, '.'); i >= 0 {
		whole, rest = whole[:i], whole[i:]
	}
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	return sign + whole + rest
}
