package costmodel

import (
	"errors"
	"fmt"
	"slices"
	"sort"
	"strings"
)

// A Severity ranks a diagnostic. With an Error nothing is computed; a Warning stands beside results; a Note says what nobody
// looked at.
type Severity string

// The severities.
const (
	Error   Severity = "error"
	Warning Severity = "warning"
	Note    Severity = "note" // something that could not be looked at
)

// A Place is a cell of a workbook, or a whole sheet or file where the rest is empty.
type Place struct {
	File, Sheet string
	Row, Col    int // from 1; 0 where the whole sheet is meant
	Char        int // character in the cell, from 1; 0 where the whole cell is meant
}

// Cell returns the name of the cell, "F12".
func (p Place) Cell() string {
	if p.Row == 0 || p.Col == 0 {
		return ""
	}
	return ColumnName(p.Col) + fmt.Sprint(p.Row)
}

// ColumnName returns the letters of a column counted from 1.
func ColumnName(col int) string {
	name := ""
	for ; col > 0; col = (col - 1) / 26 {
		name = string(rune('A'+(col-1)%26)) + name
	}
	return name
}

// String writes "tray.xlsx Parts!F12", with ":7" for the seventh character of the cell.
func (p Place) String() string {
	var b strings.Builder
	b.WriteString(p.File)
	if p.Sheet != "" {
		if p.File != "" {
			b.WriteString(" ")
		}
		b.WriteString(p.Sheet)
		if cell := p.Cell(); cell != "" {
			b.WriteString("!" + cell)
		}
	}
	if p.Char > 0 {
		fmt.Fprintf(&b, ":%d", p.Char)
	}
	return b.String()
}

// A Diagnostic says what is wrong or doubtful, where, and what to do. Codes are stable.
type Diagnostic struct {
	Code     string
	Severity Severity
	Summary  string // one line, no full stop
	Help     string // what to do, may be empty
	Place    Place
	Related  []Related
	Scenario string // where it holds in one scenario only

	row Place // of the row that it is about, where Place is a whole sheet
}

// rowAt is a cell of the row that the finding is about.
func (d *Diagnostic) rowAt() Place {
	if d.row.Row > 0 {
		return d.row
	}
	return d.Place
}

// A Related place helps to understand a diagnostic.
type Related struct {
	Place Place
	Note  string
}

// String writes the diagnostic on one line.
func (d Diagnostic) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: ", d.Place)
	if d.Severity != Error {
		b.WriteString(string(d.Severity) + ": ")
	}
	b.WriteString(d.Summary)
	if d.Scenario != "" {
		fmt.Fprintf(&b, " (scenario %s)", d.Scenario)
	}
	if d.Help != "" {
		b.WriteString("; " + d.Help)
	}
	for _, r := range d.Related {
		fmt.Fprintf(&b, " [%s", r.Note)
		if place := r.Place.String(); place != "" {
			fmt.Fprintf(&b, " %s", place)
		}
		b.WriteString("]")
	}
	return b.String()
}

// Error makes a diagnostic an error, so that package plan can carry it.
func (d Diagnostic) Error() string { return d.String() }

// Words is what is wrong and what to do, without the place: for a mistake that was made elsewhere than in a cell, or a place
// that is said already.
func (d Diagnostic) Words() string {
	if d.Help == "" {
		return d.Summary
	}
	return d.Summary + "; " + d.Help
}

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

// add appends an error.
func (ds *Diagnostics) add(code string, place Place, summary, help string, related ...Related) {
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
		*ds = append(*ds, Diagnostic{Code: "more", Severity: Warning, Summary: fmt.Sprintf("there are more than %d findings; further warnings are not listed", mostKept), Help: help, Place: at})
	case 2 * mostKept:
		*ds = append(*ds, Diagnostic{Code: "more", Severity: Error, Summary: fmt.Sprintf("there are more than %d findings; further ones are not listed", 2*mostKept), Help: help, Place: at})
	}
	return len(*ds) < most
}

// warn appends a warning.
func (ds *Diagnostics) warn(code string, place Place, summary, help string) {
	if ds.room(place, mostKept) {
		*ds = append(*ds, Diagnostic{Code: code, Severity: Warning, Summary: Brief(summary), Help: Brief(help), Place: place})
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
