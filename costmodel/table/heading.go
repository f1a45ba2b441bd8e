package table

import "strings"

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
	var b strings.Builder
	gap := false
	for _, r := range strings.ToLower(strings.TrimSpace(text)) {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '&' || r > 127 {
			if gap && b.Len() > 0 {
				b.WriteByte('_')
			}
			gap = false
			b.WriteRune(r)
		} else {
			gap = true
		}
	}
	return b.String()
}

// Label writes a name as a heading: "set_up_time" is "Set up time".
func Label(name string) string {
	text := strings.ReplaceAll(name, "_", " ")
	if text == "" {
		return text
	}
	return strings.ToUpper(text[:1]) + text[1:]
}
