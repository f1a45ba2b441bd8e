package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// grouped writes a number with the given decimals and a comma between thousands.
func grouped(v float64, decimals int) string {
	return groupDigits(fmt.Sprintf("%.*f", decimals, v))
}

// groupDigits puts commas into a plain decimal number.
func groupDigits(text string) string {
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

// shownVolume writes a volume; one that is not whole keeps its decimals.
func shownVolume(v float64) string {
	if v == math.Trunc(v) {
		return grouped(v, 0)
	}
	return groupDigits(strconv.FormatFloat(v, 'f', -1, 64))
}

// figure writes a number with five significant digits, commas between thousands, no exponent.
func figure(v float64) string {
	switch {
	case v != v:
		return "-"
	case v == 0:
		return "0"
	case math.Abs(v) < 1e-6 || math.Abs(v) >= 1e15:
		return fmt.Sprintf("%.5g", v)
	}
	digits := max(0, 4-int(math.Floor(math.Log10(math.Abs(v)))))
	text := fmt.Sprintf("%.*f", digits, v)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return groupDigits(text)
}

// signed writes a number with its sign.
func signed(v float64, digits int) string {
	if v >= 0 {
		return "+" + grouped(v, digits)
	}
	return grouped(v, digits)
}

// signedOrZero writes a change with its sign, and one that is shown as nothing without.
func signedOrZero(v float64, digits int) string {
	text := grouped(v, digits)
	if strings.Trim(text, "-0.,") == "" {
		return strings.TrimPrefix(text, "-")
	}
	if v > 0 {
		return "+" + text
	}
	return text
}

// trimmed takes off decimals that are 0.
func trimmed(text string) string {
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return text
}

// smallAmount writes an amount, one that is not 0 but would be written so as below the smallest one, a large one whole.
func smallAmount(v float64, digits int) string {
	if v >= 10_000 {
		return grouped(v, 0)
	}
	if least := math.Pow(10, -float64(digits)); v > 0 && v < least/2 {
		return "<" + grouped(least, digits)
	}
	return grouped(v, digits)
}

func volumeCount(n int) string {
	if n == 1 {
		return "1 volume"
	}
	return grouped(float64(n), 0) + " volumes"
}

// counted counts things with a comma between thousands.
func counted(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return grouped(float64(n), 0) + " " + word + "s"
}

func plural(n int, word string) string {
	if n == 1 {
		return fmt.Sprintf("1 %s", word)
	}
	return fmt.Sprintf("%d %ss", n, word)
}

// figured writes a number, nothing where there is none.
func figured(x float64, digits int) string {
	if math.IsNaN(x) {
		return ""
	}
	return grouped(x, digits)
}

// shareText writes a change in percent, a dash from nothing.
func shareText(change float64) string {
	if math.IsNaN(change) || math.IsInf(change, 0) {
		return "-"
	}
	return signed(change, 1) + " %"
}

// signedPieces writes a move with its sign, 0 without.
func signedPieces(n int) string {
	if n > 0 {
		return "+" + grouped(float64(n), 0)
	}
	return grouped(float64(n), 0)
}
