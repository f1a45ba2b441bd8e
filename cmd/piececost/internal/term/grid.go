package term

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// Grid prints short cells over two axes, the last row on top. Labels across stand under every so manyth column, as their
// length allows.
type Grid struct {
	Xs, Ys []string
	Cells  [][]string
}

// Print prints the cells with their axes, as wide as the output has room for.
func (g Grid) Print(w io.Writer) {
	left := longest(g.Ys)
	width := 2
	for width < 8 && left+1+(width+1)*len(g.Xs) < Columns(w) {
		width++
	}
	for j := len(g.Ys) - 1; j >= 0; j-- {
		var b strings.Builder
		fmt.Fprintf(&b, "%*s |", left, g.Ys[j])
		for _, c := range g.Cells[j] {
			fmt.Fprintf(&b, "%*s", width, c)
		}
		fmt.Fprintln(w, b.String())
	}
	fmt.Fprintf(w, "%s +%s\n", strings.Repeat(" ", left), strings.Repeat("-", width*len(g.Xs)))
	every := (longest(g.Xs) + width) / width
	line := []rune(strings.Repeat(" ", left+2+width*len(g.Xs)))
	for i := len(g.Xs) - 1; i >= 0; i -= every { // labels end under their column
		end := left + 2 + width*(i+1)
		if from := end - len(g.Xs[i]); from >= 0 {
			copy(line[from:end], []rune(g.Xs[i]))
		}
	}
	fmt.Fprintln(w, strings.TrimRight(string(line), " "))
}

// MostAcross is how many columns a grid with these labels upward has room for in so many columns of a terminal.
func MostAcross(labels []string, columns int) int {
	return (columns - longest(labels) - len(" |")) / leastMapColumn
}

// leastMapColumn is the room of a letter in a map with its gap.
const leastMapColumn = 2

// longest is the number of characters of the longest text.
func longest(texts []string) int {
	n := 0
	for _, t := range texts {
		n = max(n, utf8.RuneCountInString(t))
	}
	return n
}
