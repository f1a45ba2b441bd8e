package sheetformula

import (
	"fmt"
	"strings"
)

// Rewrite returns a formula with each reference replaced by what to says; everything else stays letter for letter. ok is
// false where to says so of any reference, or where a reference is broken.
func Rewrite(formula string, to func(written string, r Ref) (string, bool)) (text string, ok bool) {
	var b strings.Builder
	l, at := lexer{s: formula}, 0
	for {
		for l.i < len(l.s) && isBlank(l.s[l.i]) {
			l.i++
		}
		if l.i >= len(l.s) {
			b.WriteString(formula[at:])
			return b.String(), true
		}
		from := l.i
		switch t := l.next(); t.Kind {
		case ErrorValue:
			return "", false
		case Reference:
			with, ok := to(formula[from:l.i], t.Ref)
			if !ok {
				return "", false
			}
			b.WriteString(formula[at:from] + with)
			at = l.i
		}
	}
}

// Cells writes the cells of a reference, without its sheet. Whole columns and rows are written as such.
func (r *Ref) Cells() string {
	first, last := r.corner(r.Row1, r.Col1, r.Fixed[0], r.Fixed[1]), r.corner(r.Row2, r.Col2, r.Fixed[2], r.Fixed[3])
	if r.Single() {
		return first
	}
	return first + ":" + last
}

func (r *Ref) corner(row, col int, rowFixed, colFixed bool) string {
	sign := map[bool]string{true: "$"}
	text := ""
	if r.Col1 != 1 || r.Col2 != LastCol {
		text = sign[colFixed] + letters(col)
	}
	if r.Row1 != 1 || r.Row2 != LastRow {
		text += fmt.Sprintf("%s%d", sign[rowFixed], row)
	}
	return text
}

func letters(col int) string {
	text := ""
	for ; col > 0; col = (col - 1) / 26 {
		text = string(rune('A'+(col-1)%26)) + text
	}
	return text
}
