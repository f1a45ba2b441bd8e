package fit

import (
	"fmt"
	"strings"
)

// A Code tells findings apart.
type Code string

// The findings that are refusals, then those that are warnings.
const (
	NothingToFind   Code = "nothing-to-find"   // every coefficient is held, or there is none
	BadOption       Code = "bad-option"        // confidence or weighting
	BadName         Code = "bad-name"          // a coefficient without a name, or two with one
	BadValue        Code = "bad-value"         // a value of a row or a held value that can't be computed with
	NoRelativeError Code = "no-relative-error" // observed 0 with relative errors
	TooFewRows      Code = "too-few-rows"
	NoData          Code = "no-data"   // a column that is 0 in every row
	Dependent       Code = "dependent" // the data can't tell coefficients apart
	BeyondPrecision Code = "beyond-precision"

	NearlyDependent Code = "nearly-dependent" // the data can hardly tell coefficients apart
	AtItsBound      Code = "at-its-bound"     // a coefficient would come out negative
	RowAlone        Code = "row-alone"        // one row alone determines a coefficient
	RowDominates    Code = "row-dominates"
)

// A Finding is a refusal or a warning, about coefficients and rows by index.
type Finding struct {
	Code         Code
	Coefficients []int
	Rows         []int
	What         string // what is wrong
	Do           string // what to do
}

// String is the finding on a line.
func (f Finding) String() string { return f.What + ": " + f.Do }

// Refused is the error of a problem that can't be fitted, with every reason that was found.
type Refused []Finding

// Error gives a line each.
func (r Refused) Error() string {
	lines := make([]string, len(r))
	for i, f := range r {
		lines[i] = f.String()
	}
	return strings.Join(lines, "\n")
}

// inWords joins "a", "b", "c" to "a, b and c".
func inWords(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " and " + words[last]
}

// counted is a number with its noun: "1 row", "3 rows".
func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
