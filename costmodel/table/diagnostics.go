package table

import (
	"errors"
	"fmt"
	"slices"
	"sort"
	"strings"
)

// Diagnostics is a list of findings.
type Diagnostics []Diagnostic

// HasErrors tells whether anything prevents computing.
func (ds Diagnostics) HasErrors() bool {
	for _, d := range ds {
		if d.Severity == Error {
			return true
		}
	}
	return false
}

// Error makes findings an error: the errors among them, a line each.
func (ds Diagnostics) Error() string {
	var lines []string
	for _, d := range ds.Errors() {
		lines = append(lines, d.String())
	}
	return strings.Join(lines, "\n")
}

// Count returns the number of findings of a severity.
func (ds Diagnostics) Count(s Severity) int {
	n := 0
	for _, d := range ds {
		if d.Severity == s {
			n++
		}
	}
	return n
}

// Sorted returns the findings by place, errors before warnings before notes, each said once. One that holds in several scenarios
// with the same words is kept for the first.
func (ds Diagnostics) Sorted() Diagnostics {
	out := append(Diagnostics(nil), ds...)
	sort.SliceStable(out, func(i, j int) bool { return before(out[i], out[j]) })
	seen := map[string]bool{}
	kept := out[:0]
	for _, d := range out {
		key := fmt.Sprint(d.Code, d.Place, d.Summary)
		if !seen[key] {
			seen[key] = true
			kept = append(kept, d)
		}
	}
	return kept
}

var rankOf = map[Severity]int{Error: 0, Warning: 1, Note: 2}

func before(a, b Diagnostic) bool {
	if a.Severity != b.Severity {
		return rankOf[a.Severity] < rankOf[b.Severity]
	}
	if x, y := SheetRank(a.Place.Sheet), SheetRank(b.Place.Sheet); x != y {
		return x < y
	}
	if a.Place.Sheet != b.Place.Sheet {
		return a.Place.Sheet < b.Place.Sheet
	}
	if a.Place.Row != b.Place.Row {
		return a.Place.Row < b.Place.Row
	}
	return a.Place.Col < b.Place.Col
}

// MaxShown is the number of findings that are printed; more are only counted.
const MaxShown = 100

// Add appends an error.
func (ds *Diagnostics) Add(code string, place Place, summary, help string, related ...Related) {
	if ds.room(place, 2*mostKept) {
		*ds = append(*ds, Diagnostic{Code: code, Severity: Error, Summary: Brief(summary), Help: Brief(help), Place: place, Related: related})
	}
}

// mostKept bounds the warnings that are kept, and with them the errors: nobody reads more, and a hostile workbook would
// fill the memory with them. Errors always find room beside the warnings.
const mostKept = 20_000

// room tells whether a finding is kept, of at most so many; where the findings reach a bound, that is said once, for what
// is counted would be too few.
func (ds *Diagnostics) room(place Place, most int) bool {
	const help = "correct these and check again"
	switch at := (Place{File: place.File}); len(*ds) {
	case mostKept:
		*ds = append(*ds, Diagnostic{Code: "more", Severity: Warning,
			Summary: fmt.Sprintf("there are more than %d findings; further warnings are not listed", mostKept), Help: help, Place: at})
	case 2 * mostKept:
		*ds = append(*ds, Diagnostic{Code: "more", Severity: Error,
			Summary: fmt.Sprintf("there are more than %d findings; further ones are not listed", 2*mostKept), Help: help, Place: at})
	}
	return len(*ds) < most
}

// Warn appends a warning.
func (ds *Diagnostics) Warn(code string, place Place, summary, help string) {
	if ds.room(place, mostKept) {
		*ds = append(*ds, Diagnostic{Code: code, Severity: Warning, Summary: Brief(summary), Help: Brief(help), Place: place})
	}
}

// Keep appends a finding that is no error, as long as there is room for warnings.
func (ds *Diagnostics) Keep(d Diagnostic) {
	if len(*ds) < mostKept {
		*ds = append(*ds, d)
	}
}

// Errors are the findings that are errors.
func (ds Diagnostics) Errors() Diagnostics { return ds.Of(Error) }

// Of are the findings of some severities.
func (ds Diagnostics) Of(severities ...Severity) Diagnostics {
	var out Diagnostics
	for _, d := range ds {
		if slices.Contains(severities, d.Severity) {
			out = append(out, d)
		}
	}
	return out
}

// Without are the findings of other codes.
func (ds Diagnostics) Without(code string) Diagnostics {
	return slices.DeleteFunc(slices.Clone(ds), func(d Diagnostic) bool { return d.Code == code })
}

// AsWarnings are the findings with errors turned into warnings: those of a sheet that the results do not rest on.
func (ds Diagnostics) AsWarnings() Diagnostics {
	out := append(Diagnostics(nil), ds...)
	for i := range out {
		out[i].Severity = Warning
	}
	return out
}

// First is the first error among the findings, or one of these words where there is none.
func (ds Diagnostics) First(otherwise string) error {
	for _, d := range ds {
		if d.Severity == Error {
			return d
		}
	}
	return errors.New(otherwise)
}
