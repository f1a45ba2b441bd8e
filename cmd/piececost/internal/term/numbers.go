package term

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Grouped writes a number with the given decimals and a comma between thousands.
func Grouped(v float64, decimals int) string {
	return GroupDigits(fmt.Sprintf("%.*f", decimals, v))
}

// GroupDigits puts commas into a plain decimal number.
func GroupDigits(text string) string {
	sign, whole, rest := "", text, ""
	if strings.HasPrefix(whole, "-") {
		sign, whole = "-", whole[1:]
	}
	if i := strings.IndexByte(whole, '.'); i >= 0 {
		whole, rest = whole[:i], whole[i:]
	}
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	return sign + whole + rest
}

// Volume writes a volume; one that is not whole keeps its decimals.
func Volume(v float64) string {
	if v == math.Trunc(v) {
		return Grouped(v, 0)
	}
	return GroupDigits(strconv.FormatFloat(v, 'f', -1, 64))
}

// Figure writes a number with five significant digits, commas between thousands, no exponent.
func Figure(v float64) string {
	switch {
	case v != v:
		return "-"
	case v == 0:
		return "0"
	case math.Abs(v) < 1e-6 || math.Abs(v) >= 1e15:
		return fmt.Sprintf("%.5g", v)
	}
	digits := max(0, 4-int(math.Floor(math.Log10(math.Abs(v)))))
	return GroupDigits(Trimmed(fmt.Sprintf("%.*f", digits, v)))
}

// Signed writes a number with its sign.
func Signed(v float64, digits int) string {
	if v >= 0 {
		return "+" + Grouped(v, digits)
	}
	return Grouped(v, digits)
}

// SignedOrZero writes a change with its sign, and one that is shown as nothing without.
func SignedOrZero(v float64, digits int) string {
	text := Grouped(v, digits)
	if strings.Trim(text, "-0.,") == "" {
		return strings.TrimPrefix(text, "-")
	}
	if v > 0 {
		return "+" + text
	}
	return text
}

// Trimmed takes off decimals that are 0.
func Trimmed(text string) string {
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return text
}

// SmallAmount writes an amount, one that is not 0 but would be written so as below the smallest one, a large one whole.
func SmallAmount(v float64, digits int) string {
	if v >= 10_000 {
		return Grouped(v, 0)
	}
	if least := math.Pow(10, -float64(digits)); v > 0 && v < least/2 {
		return "<" + Grouped(least, digits)
	}
	return Grouped(v, digits)
}

// Figured writes a number, nothing where there is none.
func Figured(x float64, digits int) string {
	if math.IsNaN(x) {
		return ""
	}
	return Grouped(x, digits)
}

// ShareText writes a change in percent, a dash from nothing.
func ShareText(change float64) string {
	if math.IsNaN(change) || math.IsInf(change, 0) {
		return "-"
	}
	return Signed(change, 1) + " %"
}

// Whole writes a whole number with a comma between thousands.
func Whole(n int) string { return GroupDigits(strconv.Itoa(n)) }

// Plural writes a number of things, "1 input" or "1,200 inputs".
func Plural(n int, word string) string {
	if n != 1 {
		word += "s"
	}
	return Whole(n) + " " + word
}
