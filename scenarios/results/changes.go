package results

import (
	"math"
	"strings"
)

// signedFormat shows the sign of a change.
func signedFormat(format string) string {
	positive, _, _ := strings.Cut(format, ";")
	return "+" + positive + ";-" + positive + `;"–"`
}

// decimalsOf is the number of decimals that a number format shows.
func decimalsOf(format string) int {
	first, _, _ := strings.Cut(format, ";")
	_, decimals, _ := strings.Cut(first, ".")
	return strings.Count(decimals, "0") + strings.Count(decimals, "#")
}

// shownChange is a change, or 0 where it is nothing at the decimals shown: the format then shows a dash and not -0.00.
func shownChange(v float64, digits int) float64 {
	if p := math.Pow10(digits); math.Round(v*p) == 0 {
		return 0
	}
	return v
}
