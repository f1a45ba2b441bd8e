package report

import (
	"fmt"
	"io"
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"piececost/cmd/piececost/internal/term"
	"piececost/scenarios"
)

// PrintImport says what went from CSV tables into the sheets of a workbook.
func PrintImport(w io.Writer, file string, r *scenarios.ImportReport) {
	fmt.Fprintf(w, "Filled %s from %s\n", file, strings.Join(r.Sources, ", "))
	for _, s := range slices.Sorted(maps.Keys(r.Rows)) {
		fmt.Fprintf(w, "  %-20s %s\n", s, term.Plural(r.Rows[s], "row"))
	}
	for _, u := range r.Units {
		fmt.Fprintf(w, "  unit of %s\n", u)
	}
	for _, u := range r.Unused {
		fmt.Fprintf(w, "  not used: %s\n", u)
	}
	fmt.Fprintf(w, "`piececost check %s` says what is still missing\n", filepath.Base(file))
}
