package report

import (
	"fmt"
	"io"
	"strings"

	"piececost/cmd/piececost/internal/term"
	"piececost/scenarios/lint"
)

// PrintLint writes two lines a finding: where and what, then why and what to do.
func PrintLint(w io.Writer, r *lint.Report, told []lint.Finding) {
	for _, f := range told {
		fmt.Fprintf(w, "%s: %s: %s\n    %s; %s\n", f.Place, f.Code, f.Summary, f.Why, f.Help)
	}
	if n := len(r.Findings) - len(told); n > 0 {
		fmt.Fprintf(w, "... and %s more; --all tells them\n", term.Plural(n, "finding"))
	}
	if len(r.Skipped) > 0 {
		fmt.Fprintf(w, "left out, written by piececost: %s\n", strings.Join(r.Skipped, ", "))
	}
	if len(r.Findings) == 0 {
		fmt.Fprintf(w, "%s: %s, no findings\n", r.File, term.Plural(r.Sheets, "sheet"))
		return
	}
	fmt.Fprintf(w, "%s: %s in %s\n", r.File, term.Plural(len(r.Findings), "finding"), term.Plural(r.Sheets, "sheet"))
}
