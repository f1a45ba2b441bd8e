package term

import (
	"io"
	"slices"
	"strings"
	"unicode/utf8"
)

// Blocks is a table with more columns than a terminal may have room for: groups of columns that stay together, printed in
// as many blocks as are needed, each with the labels and the fixed columns at its left.
type Blocks struct {
	Corner string // heading of the labels
	Labels []string
	Fixed  []Column
	Groups [][]Column
	rules  []int // a line of dashes before the row
}

// A Column is a heading and the cells below it, as text.
type Column struct {
	Head  string
	Cells []string
	Marks int // characters behind the number at the end of each cell, over which no heading stands
}

// longestLabel is the room for labels; longer ones are cut. longestWord is that of a word of a heading; longer ones break.
const (
	longestLabel = 32
	longestWord  = 16
	// headLinesWanted is how many lines a long heading may take before its column gets wider for it.
	headLinesWanted = 4
)

// Line puts a line of dashes before the next row.
func (b *Blocks) Line() { b.rules = append(b.rules, len(b.Labels)) }

// width is the room a column takes with its gap. A heading breaks between words, a long one into about headLinesWanted.
func (c Column) width() int {
	n := min(longestWord, utf8.RuneCountInString(c.Head)/headLinesWanted)
	for _, word := range headWords(c.Head) {
		n = max(n, utf8.RuneCountInString(strings.TrimRight(word, " "))+c.Marks)
	}
	for _, cell := range c.Cells {
		n = max(n, utf8.RuneCountInString(cell))
	}
	return n + 2
}

func widthOf(columns []Column) int {
	n := 0
	for _, c := range columns {
		n += c.width()
	}
	return n
}

// PrintWhole prints the table with each heading on one line where that fits the terminal, else as print does.
func (b *Blocks) PrintWhole(w io.Writer) {
	columns := slices.Clone(b.Fixed)
	for _, g := range b.Groups {
		columns = append(columns, g...)
	}
	heads := make([][]string, len(columns))
	for i, c := range columns {
		heads[i] = []string{c.Head}
	}
	t := b.table(columns, heads)
	if _, width := t.Widths(); width > Columns(w) {
		b.Print(w)
		return
	}
	t.Print(w)
}

// Print prints as many blocks as the width of the output asks for.
func (b *Blocks) Print(w io.Writer) {
	labels := utf8.RuneCountInString(b.Corner)
	for i, l := range b.Labels {
		b.Labels[i] = Cut(l, longestLabel)
		labels = max(labels, utf8.RuneCountInString(b.Labels[i]))
	}
	groups := b.Groups
	for first := true; first || len(groups) > 0; first = false {
		columns, room := slices.Clone(b.Fixed), Columns(w)-labels-widthOf(b.Fixed)
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
func (b *Blocks) block(w io.Writer, columns []Column) {
	heads := make([][]string, len(columns))
	for i, c := range columns {
		heads[i] = brokenLines(headWords(c.Head), "", "", c.width()-2-c.Marks)
	}
	b.table(columns, heads).Print(w)
}

// table makes a table of columns, their headings in lines.
func (b *Blocks) table(columns []Column, heads [][]string) *Table {
	t := &Table{}
	deepest := 0
	for _, h := range heads {
		deepest = max(deepest, len(h))
	}
	for n := 0; n < deepest; n++ {
		row := []string{""}
		if n == deepest-1 {
			row[0] = b.Corner
		}
		for i, c := range columns {
			at, text := n-(deepest-len(heads[i])), ""
			if at >= 0 {
				text = heads[i][at] + strings.Repeat(" ", c.Marks)
			}
			row = append(row, text)
		}
		t.Add(row...)
	}
	t.Line()
	for n, label := range b.Labels {
		for _, r := range b.rules {
			if r == n {
				t.Line()
			}
		}
		row := []string{label}
		for _, c := range columns {
			row = append(row, c.Cells[n])
		}
		t.Add(row...)
	}
	return t
}

// headWords are the words of a heading, those that are too long in pieces.
func headWords(text string) []string { return lineWords(text, longestWord) }
