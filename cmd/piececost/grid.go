package main

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// grid prints short cells over two axes, the last row on top. Labels across stand under every so manyth column, as their
// length allows.
type grid struct {
	xs, ys []string
	cells  [][]string
}

func (g grid) print(w io.Writer) {
	left := 0
	for _, y := range g.ys {
		left = max(left, utf8.RuneCountInString(y))
	}
	width := 2
	for width < 8 && left+1+(width+1)*len(g.xs) <= 79 {
		width++
	}
	for j := len(g.ys) - 1; j >= 0; j-- {
		var b strings.Builder
		fmt.Fprintf(&b, "%*s |", left, g.ys[j])
		for _, c := range g.cells[j] {
			fmt.Fprintf(&b, "%*s", width, c)
		}
		fmt.Fprintln(w, b.String())
	}
	fmt.Fprintf(w, "%s +%s\n", strings.Repeat(" ", left), strings.Repeat("-", width*len(g.xs)))
	longest := 0
	for _, x := range g.xs {
		longest = max(longest, utf8.RuneCountInString(x))
	}
	every := (longest + width) / width
	line := []rune(strings.Repeat(" ", left+2+width*len(g.xs)))
	for i := len(g.xs) - 1; i >= 0; i -= every { // labels end under their column
		end := left + 2 + width*(i+1)
		if from := end - len(g.xs[i]); from >= 0 {
			copy(line[from:end], []rune(g.xs[i]))
		}
	}
	fmt.Fprintln(w, strings.TrimRight(string(line), " "))
}

// mostAcross is how many columns a grid with these labels upward has room for.
func mostAcross(labels []string) int {
	left := 0
	for _, l := range labels {
		left = max(left, utf8.RuneCountInString(l))
	}
	return (terminalWidth - left - len(" |")) / leastMapColumn
}

// leastMapColumn is the room of a letter in a map with its gap.
const leastMapColumn = 2
