package main

import (
	"io"
	"strings"
	"unicode/utf8"
)

// blocks is a table with more columns than a terminal may have room for: groups of columns that stay together, printed in
// as many blocks as are needed, each with the labels and the fixed columns at its left.
type blocks struct {
	labels []string
	fixed  []column
	groups [][]column
	rules  []int // a line of dashes before the row
}

type column struct {
	head  string
	cells []string
}

// longestLabel is the room for labels; longer ones are cut.
const longestLabel = 32

func (b *blocks) line() { b.rules = append(b.rules, len(b.labels)) }

// width is the room a column takes with its gap. A heading breaks between words.
func (c column) width() int {
	n := 0
	for _, cell := range append(strings.Fields(c.head), c.cells...) {
		n = max(n, utf8.RuneCountInString(cell))
	}
	return n + 2
}

func widthOf(columns []column) int {
	n := 0
	for _, c := range columns {
		n += c.width()
	}
	return n
}

func (b *blocks) print(w io.Writer) {
	labels := 0
	for i, l := range b.labels {
		b.labels[i] = cut(l, longestLabel)
		labels = max(labels, utf8.RuneCountInString(b.labels[i]))
	}
	groups := b.groups
	for first := true; first || len(groups) > 0; first = false {
		columns, room := append([]column(nil), b.fixed...), terminalWidth-labels-widthOf(b.fixed)
		for n := 0; len(groups) > 0 && (n == 0 || widthOf(groups[0]) <= room); n++ {
			columns = append(columns, groups[0]...)
			room -= widthOf(groups[0])
			groups = groups[1:]
		}
		if !first {
			io.WriteString(w, "\n")
		}
		b.block(w, columns)
	}
}

// block prints one block.
func (b *blocks) block(w io.Writer, columns []column) {
	t := &table{}
	heads, deepest := make([][]string, len(columns)), 0
	for i, c := range columns {
		heads[i] = headLines(c.head, c.width()-2)
		deepest = max(deepest, len(heads[i]))
	}
	for n := 0; n < deepest; n++ {
		row := []string{""}
		for i := range columns {
			at, text := n-(deepest-len(heads[i])), ""
			if at >= 0 {
				text = heads[i][at]
			}
			row = append(row, text)
		}
		t.add(row...)
	}
	t.line()
	for n, label := range b.labels {
		for _, r := range b.rules {
			if r == n {
				t.line()
			}
		}
		row := []string{label}
		for _, c := range columns {
			row = append(row, c.cells[n])
		}
		t.add(row...)
	}
	t.print(w)
}

// headLines breaks a heading into lines of at most so many columns.
func headLines(text string, width int) []string {
	var out []string
	line := ""
	for _, word := range strings.Fields(text) {
		if line != "" && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > width {
			out = append(out, line)
			line = ""
		}
		line = strings.TrimSpace(line + " " + word)
	}
	return append(out, line)
}
