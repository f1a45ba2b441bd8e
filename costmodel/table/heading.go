package table

import (
	"strings"
	"unicode/utf8"
)

// SplitHeading cuts "Gauge [mm]" into "gauge" and "mm"; found tells whether there was a unit in brackets.
func SplitHeading(heading string) (name, unit string, found bool) {
	text := strings.TrimSpace(heading)
	if i := strings.LastIndex(text, "["); i >= 0 && strings.HasSuffix(text, "]") {
		return Normalise(text[:i]), strings.TrimSpace(text[i+1 : len(text)-1]), true
	}
	if i := strings.LastIndex(text, "["); i > 0 { // a bracket that is not closed: the name is meant all the same
		text = text[:i]
	}
	return Normalise(text), "", false
}

// Normalise writes a heading or label as a name: lower case, words joined by underscores.
func Normalise(text string) string {
	if isName(text) { // as most are, and it is asked for thousands of them
		return text
	}
	out := make([]byte, 0, len(text))
	gap := false
	for _, r := range strings.ToLower(strings.TrimSpace(text)) {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '&' || r > 127 {
			if gap && len(out) > 0 {
				out = append(out, '_')
			}
			gap = false
			out = utf8.AppendRune(out, r)
		} else {
			gap = true
		}
	}
	return string(out)
}

// isName tells whether a text is a name already. One with letters beyond ASCII may be one without being known as such.
func isName(text string) bool {
	gap := true // an underscore neither begins a name nor follows another
	for i := range len(text) {
		c := text[i]
		underscore := c == '_'
		if underscore && gap || !underscore && (c < 'a' || c > 'z') && (c < '0' || c > '9') && c != '&' {
			return false
		}
		gap = underscore
	}
	return !gap
}

// Label writes a name as a heading: "set_up_time" is "Set up time".
func Label(name string) string {
	text := strings.ReplaceAll(name, "_", " ")
	if text == "" {
		return text
	}
	return strings.ToUpper(text[:1]) + text[1:]
}
