package report

import (
	"math"
	"strconv"
	"strings"
)

// csvText quotes a text where CSV asks for it (RFC 4180). One that a spreadsheet program would compute - it begins with
// = + - @ or a control character - gets an apostrophe before it, which marks a text there: a part's name is no formula.
func csvText(text string) string {
	if text != "" && strings.ContainsRune("=+-@\t\r", rune(text[0])) {
		text = "'" + text
	}
	if strings.ContainsAny(text, "\",\n\r") {
		return `"` + strings.ReplaceAll(text, `"`, `""`) + `"`
	}
	return text
}

// csvNumber writes a number without an exponent, nothing where there is none.
func csvNumber(v float64) string {
	if math.IsNaN(v) {
		return ""
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

func yesNo(yes bool) string {
	if yes {
		return "yes"
	}
	return "no"
}
