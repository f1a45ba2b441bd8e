package main

import (
	"io"
	"strings"
	"unicode/utf8"
)

// blocks is a table with more columns than a terminal may have room for: groups of columns that stay together, printed in
// as many blocks as are needed, each with the labels and the fixed columns at its left.
type blocks struct {
	corner string // heading of the labels
	labels []string
	fixed  []column
	groups [][]column
	rules  []int // a line of dashes before the row
}

type column struct {
	head  string
	cells []string
	marks int // characters behind the number at the end of each cell, over which no heading stands
}

func (b *blocks) line() { b.rules = append(b.rules, len(b.labels)) }

// width is the room a column takes with its gap. A heading breaks between words, a long one into about headLinesWanted.
func (c column) width() int {
	n := min(longestWord, utf8.RuneCountInString(c.head)/headLinesWanted)
	for _, word := range headWords(c.head) {
		n = max(n, utf8.RuneCountInString(word)+c.marks)
	}
	for _, cell := range c.cells {
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

// printWhole prints the table with each heading on one line where that fits the terminal, else as print does.
func (b *blocks) printWhole(w io.Writer) {
	columns := append([]column(nil), b.fixed...)
	for _, g := range b.groups {
		columns = append(columns, g...)
	}
	heads := make([][]string, len(columns))
	for i, c := range columns {
		heads[i] = []string{c.head}
	}
	t := b.table(columns, heads)
	if _, width := t.widths(); width > terminalWidth {
		b.print(w)
		return
	}
	t.print(w)
}

func (b *blocks) print(w io.Writer) {
	labels := utf8.RuneCountInString(b.corner)
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
	heads := make([][]string, len(columns))
	for i, c := range columns {
		heads[i] = headLines(c.head, c.width()-2-c.marks)
	}
	b.table(columns, heads).print(w)
}

// table makes a table of columns, their headings in lines.
func (b *blocks) table(columns []column, heads [][]string) *table {
	t := &table{}
	deepest := 0
	for _, h := range heads {
		deepest = max(deepest, len(h))
	}
	for n := 0; n < deepest; n++ {
		row := []string{""}
		if n == deepest-1 {
			row[0] = b.corner
		}
		for i, c := range columns {
			at, text := n-(deepest-len(heads[i])), ""
			if at >= 0 {
				text = heads[i][at] + strings.Repeat(" ", c.marks)
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
	return t
}
