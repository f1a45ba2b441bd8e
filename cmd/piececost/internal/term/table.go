package term

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// Table is a table for a terminal: the first column to the left, the others to the right.
type Table struct {
	rows [][]string
	rule map[int]bool // a line of dashes before the row
}

// Add puts a row into the table.
func (t *Table) Add(cells ...string) { t.rows = append(t.rows, cells) }

// Line puts a line of dashes before the next row.
func (t *Table) Line() {
	if t.rule == nil {
		t.rule = map[int]bool{}
	}
	t.rule[len(t.rows)] = true
}

// Widths returns the room of each column and, with the gaps between them, of all.
func (t *Table) Widths() (widths []int, total int) {
	for _, row := range t.rows {
		for i, c := range row {
			if i == len(widths) {
				widths = append(widths, 0)
			}
			widths[i] = max(widths[i], utf8.RuneCountInString(c))
		}
	}
	for _, n := range widths {
		total += n + 2
	}
	return widths, total - 2
}

// Print prints the rows, each column as wide as its longest cell.
func (t *Table) Print(w io.Writer) {
	widths, total := t.Widths()
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
