package table

import (
	"fmt"
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

// A Diagnostic says what is wrong or doubtful, where, and what to do. Codes are stable.
type Diagnostic struct {
	Code     string
	Severity Severity
	Summary  string // one line, no full stop
	Help     string // what to do, may be empty
	Place    Place
	Related  []Related
	Scenario string // where it holds in one scenario only

	Row Place // of a cell of the row that it is about, where Place is a whole sheet
}

// RowPlace is a cell of the row that the finding is about.
func (d *Diagnostic) RowPlace() Place {
	if d.Row.Row > 0 {
		return d.Row
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
