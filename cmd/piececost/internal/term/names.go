package term

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"
)

// ShortNames shortens names to at most so many characters, 8 or more, and keeps different names different: a long one is
// cut at its end, one that begins like another in its middle, and one that ends alike too is numbered.
func ShortNames(names []string, most int) []string {
	out := make([]string, len(names))
	for i, n := range names {
		out[i] = Cut(n, most)
	}
	ends := slices.Clone(out)
	for i, n := range names {
		if utf8.RuneCountInString(n) > most && doubled(ends, i) {
			out[i] = cutMiddle(n, most)
		}
	}
	for i, n := range names {
		for number := 1; utf8.RuneCountInString(n) > most && doubled(out, i); number++ {
			mark := fmt.Sprintf("..%d", number)
			out[i] = strings.TrimRight(string([]rune(n)[:most-len(mark)]), " ") + mark
		}
	}
	return out
}

// doubled says whether another name is the same as the i-th.
func doubled(names []string, i int) bool {
	for k, n := range names {
		if k != i && n == names[i] {
			return true
		}
	}
	return false
}

// cutMiddle shortens a text and keeps how it begins and ends.
func cutMiddle(text string, most int) string {
	runes := []rune(text)
	if len(runes) <= most {
		return text
	}
	tail := (most - 2) / 2
	return strings.TrimRight(string(runes[:most-2-tail]), " ") + ".." + strings.TrimLeft(string(runes[len(runes)-tail:]), " ")
}

// PrintShortNames says which name each shortened one stands for; nothing where none is shortened.
func PrintShortNames(w io.Writer, names, short []string) {
	title := "Names cut short\n"
	for i, s := range short {
		if s != names[i] {
			fmt.Fprint(w, title)
			title = ""
			Wrap(w, "  ", "    ", s+" = "+names[i])
		}
	}
	if title == "" {
		fmt.Fprintln(w)
	}
}

// Cut shortens a text for a column of a terminal.
func Cut(text string, width int) string {
	runes := []rune(text)
	if len(runes) <= width {
		return text
	}
	return strings.TrimRight(string(runes[:width-2]), " ") + ".."
}

// Sentence begins a text with a large letter.
func Sentence(text string) string { return strings.ToUpper(text[:1]) + text[1:] }
