package report

import (
	"fmt"
	"io"
	"strings"

	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel/table"
)

// PrintDiagnostics writes one line each, at most MaxShown, and a count.
func PrintDiagnostics(w io.Writer, ds table.Diagnostics) {
	for i, d := range ds {
		if i == table.MaxShown {
			fmt.Fprintf(w, "... and %d more\n", len(ds)-i)
			break
		}
		fmt.Fprintln(w, d)
	}
	errors, warnings, notes := ds.Count(table.Error), ds.Count(table.Warning), ds.Count(table.Note)
	var counts []string
	if errors > 0 {
		counts = append(counts, term.Plural(errors, "error"))
	}
	if errors+warnings > 0 {
		counts = append(counts, term.Plural(warnings, "warning"))
	}
	if notes > 0 {
		counts = append(counts, term.Plural(notes, "note"))
	}
	if len(counts) > 0 {
		fmt.Fprintln(w, strings.Join(counts, ", "))
	}
}
