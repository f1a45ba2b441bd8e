package units

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// ParseTyped reads a quantity as ParseQuantity does, but refuses a lone number with one point and exactly three figures
// behind it, with or without a unit: "310.000 kg" is 310 kg for one reader and 310,000 kg for the other. It is for text
// whose decimal mark nobody has settled, as in a cell; a formula ("3.725 * 2") keeps its decimal points, and so does a
// number that begins with 0. A "=" before a lone number makes no formula of it.
func (s *System) ParseTyped(text string) (Quantity, error) {
	text = strings.TrimSpace(text)
	lone, formula := strings.CutPrefix(text, "=")
	lone = strings.TrimSpace(lone)
	q, err := s.ParseQuantity(lone)
	if err == nil {
		if two := TwoReadings(numberText.FindString(lone)); two != nil {
			return Quantity{}, two
		}
	}
	if formula {
		return Quantity{}, ErrNotQuantity
	}
	return q, err
}

var (
	threeFigures = regexp.MustCompile(`^([+-]?)([1-9][0-9]*)\.([0-9]{3})$`)
	manyPoints   = regexp.MustCompile(`^[+-]?[0-9]{1,3}(\.[0-9]{3}){2,}` + unitBehind)
)

// TwoReadings returns an error that states both readings of a number like 310.000, nil for any other text.
func TwoReadings(number string) error {
	m := threeFigures.FindStringSubmatch(strings.TrimSpace(number))
	if m == nil {
		return nil
	}
	decimal := strings.TrimRight(strings.TrimRight(m[1]+m[2]+"."+m[3], "0"), ".")
	return fmt.Errorf("can be read as %s or as %s; type it as a number, or write %s or %s", decimal, m[1]+grouped(m[2]+m[3]), unmistakable(decimal),
		m[1]+m[2]+m[3])
}

// unmistakable gives a number with three figures behind the point a fourth, so that nobody takes them for thousands.
func unmistakable(number string) string {
	if threeFigures.MatchString(number) {
		return number + "0"
	}
	return number
}

// grouped puts commas between the thousands of a whole number.
func grouped(figures string) string {
	for i := len(figures) - 3; i > 0; i -= 3 {
		figures = figures[:i] + "," + figures[i:]
	}
	return figures
}

// CutNumber cuts a quantity into its number and what stands behind it.
func CutNumber(text string) (number, unit string) {
	text = strings.TrimSpace(text)
	number = numberText.FindString(text)
	return number, text[len(number):]
}

// WriteNumber writes a number so that it can't be read in two ways: as it was written, where that is so.
func WriteNumber(v float64, written string) string {
	if TwoReadings(written) == nil {
		return written
	}
	return unmistakable(strconv.FormatFloat(v, 'f', -1, 64))
}
