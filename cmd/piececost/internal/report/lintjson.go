package report

import (
	"piececost/scenarios/costing/wire"
	"piececost/scenarios/lint"
)

// LintJSON is a report with the findings that are told.
func LintJSON(r *lint.Report, told []lint.Finding) wire.Lint {
	out := wire.Lint{Answer: wire.Begin[wire.Lint](), File: r.File, Sheets: r.Sheets, Skipped: append([]string{}, r.Skipped...),
		Findings: []wire.LintFinding{}, More: len(r.Findings) - len(told)}
	for _, f := range told {
		out.Findings = append(out.Findings, wire.LintFinding{Code: f.Code, Place: placeOf(f.Place), Last: f.Last.Cell(), Cells: f.Cells, Summary: f.Summary,
			Why: f.Why, Help: f.Help})
	}
	return out
}
