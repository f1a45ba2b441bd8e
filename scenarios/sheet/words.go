package sheet

import (
	"fmt"
	"strings"
)

// Thousands writes a whole number with a comma between thousands.
func Thousands(n int) string {
	text := fmt.Sprint(n)
	for i := len(text) - 3; i > 0; i -= 3 {
		text = text[:i] + "," + text[i:]
	}
	return text
}

// Counted writes "1 error" or "3 errors".
func Counted(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return fmt.Sprintf("%d %ss", n, word)
}

// BrokenLines breaks words into lines of at most so many letters; a longer word is cut.
func BrokenLines(text string, letters int) []string {
	var out []string
	for _, paragraph := range strings.Split(text, "\n") {
		line := []rune{}
		for _, word := range strings.Fields(paragraph) {
			w := []rune(word)
			if len(line) > 0 && len(line)+1+len(w) > letters {
				out = append(out, string(line))
				line = line[:0]
			}
			for ; len(w) > letters; w = w[letters:] {
				out = append(out, string(w[:letters]))
			}
			if len(line) > 0 {
				line = append(line, ' ')
			}
			line = append(line, w...)
		}
		out = append(out, string(line))
	}
	return out
}
