package main

import (
	"fmt"
	"io"
	"strings"

	"piececost/scenarios/lint"
)

// printLint writes two lines a finding: where and what, then why and what to do.
func printLint(w io.Writer, r *lint.Report, told []lint.Finding) {
	for _, f := range told {
		fmt.Fprintf(w, "%s: %s: %s\n    %s; %s\n", f.Place, f.Code, f.Summary, f.Why, f.Help)
	}
	if n := len(r.Findings) - len(told); n > 0 {
		fmt.Fprintf(w, "... and %s more; --all tells them\n", plural(n, "finding"))
	}
	if len(r.Skipped) > 0 {
		fmt.Fprintf(w, "left out, written by piececost: %s\n", strings.Join(r.Skipped, ", "))
	}
	if len(r.Findings) == 0 {
		fmt.Fprintf(w, "%s: %s, no findings\n", r.File, plural(r.Sheets, "sheet"))
		return
	}
	fmt.Fprintf(w, "%s: %s in %s\n", r.File, plural(len(r.Findings), "finding"), plural(r.Sheets, "sheet"))
}
