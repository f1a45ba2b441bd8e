package term

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// Wrap prints a text in lines of the output's width, the first line indented by first, the others by next; a word that is
// longer than a line breaks.
func Wrap(w io.Writer, first, next, text string) {
	columns := Columns(w)
	words := lineWords(text, columns-max(len(first), len(next)))
	printLines(w, brokenLines(words, first, next, columns))
}

// WrapList prints a list of things with commas in lines of the output's width, each thing on one line.
func WrapList(w io.Writer, indent string, things []string) {
	printLines(w, brokenLines(strings.SplitAfter(strings.Join(things, ", "), ", "), indent, indent, Columns(w)))
}

func printLines(w io.Writer, lines []string) {
	for _, line := range lines {
		fmt.Fprintln(w, line)
	}
}

// brokenLines puts pieces of a text into lines of at most so many columns. A piece has the blank that parts it from the next.
func brokenLines(pieces []string, first, next string, columns int) []string {
	var out []string
	line, empty := first, true
	for _, p := range pieces {
		if !empty && utf8.RuneCountInString(line)+utf8.RuneCountInString(strings.TrimRight(p, " ")) > columns {
			out = append(out, strings.TrimRight(line, " "))
			line = next
		}
		line += p
		empty = false
	}
	return append(out, strings.TrimRight(line, " "))
}

// lineWords are the words of a text, each with a blank behind it, those longer than width in pieces.
func lineWords(text string, width int) []string {
	var out []string
	for _, word := range strings.Fields(text) {
		runes := []rune(word)
		for ; len(runes) > width; runes = runes[width:] {
			out = append(out, string(runes[:width])+" ")
		}
		out = append(out, string(runes)+" ")
	}
	return out
}
