package term

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// terminalWidth is the number of columns that a printed table keeps to.
const Width = 80

// printWrapped prints a text in lines of at most terminalWidth columns; a word that is longer than a line breaks.
func Wrap(w io.Writer, first, next, text string) {
	line, indent, empty := first, next, true
	for _, word := range lineWords(text, Width-max(len(first), len(next))) {
		if !empty && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > Width {
			fmt.Fprintln(w, line)
			line, empty = indent, true
		}
		if !empty {
			line += " "
		}
		line += word
		empty = false
	}
	fmt.Fprintln(w, line)
}

// lineWords are the words of a text, those longer than width in pieces.
func lineWords(text string, width int) []string {
	var out []string
	for _, word := range strings.Fields(text) {
		runes := []rune(word)
		for ; len(runes) > width; runes = runes[width:] {
			out = append(out, string(runes[:width]))
		}
		out = append(out, string(runes))
	}
	return out
}

// headWords are the words of a heading, those that are too long in pieces.
func headWords(text string) []string { return lineWords(text, longestWord) }

// headLines breaks a heading into lines of at most so many columns.
func headLines(text string, width int) []string {
	var out []string
	line := ""
	for _, word := range headWords(text) {
		if line != "" && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > width {
			out = append(out, line)
			line = ""
		}
		line = strings.TrimSpace(line + " " + word)
	}
	return append(out, line)
}

// wrapped prints words in lines of at most 80 columns.
func WrapList(w io.Writer, indent, text string) {
	line := indent
	for _, word := range strings.SplitAfter(text, ", ") {
		if len(line)+len(strings.TrimRight(word, " ")) > 80 && line != indent {
			fmt.Fprintln(w, strings.TrimRight(line, " "))
			line = indent
		}
		line += word
	}
	fmt.Fprintln(w, strings.TrimRight(line, " "))
}

// longestLabel is the room for labels; longer ones are cut. longestWord is that of a word of a heading; longer ones break.
const (
	longestLabel = 32
	longestWord  = 16
	// headLinesWanted is how many lines a long heading may take before its column gets wider for it.
	headLinesWanted = 4
)
