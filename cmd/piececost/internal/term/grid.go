package term

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// grid prints short cells over two axes, the last row on top. Labels across stand under every so manyth column, as their
// length allows.
type Grid struct {
	Xs, Ys []string
	Cells  [][]string
}

func (g Grid) Print(w io.Writer) {
	left := 0
	for _, y := range g.Ys {
		left = max(left, utf8.RuneCountInString(y))
	}
	width := 2
	for width < 8 && left+1+(width+1)*len(g.Xs) <= 79 {
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
	longest := 0
	for _, x := range g.Xs {
		longest = max(longest, utf8.RuneCountInString(x))
	}
	every := (longest + width) / width
	line := []rune(strings.Repeat(" ", left+2+width*len(g.Xs)))
	for i := len(g.Xs) - 1; i >= 0; i -= every { // labels end under their column
		end := left + 2 + width*(i+1)
		if from := end - len(g.Xs[i]); from >= 0 {
			copy(line[from:end], []rune(g.Xs[i]))
		}
	}
	fmt.Fprintln(w, strings.TrimRight(string(line), " "))
}

// mostAcross is how many columns a grid with these labels upward has room for.
func MostAcross(labels []string) int {
	left := 0
	for _, l := range labels {
		left = max(left, utf8.RuneCountInString(l))
	}
	return (Width - left - len(" |")) / leastMapColumn
}

// leastMapColumn is the room of a letter in a map with its gap.
const leastMapColumn = 2
