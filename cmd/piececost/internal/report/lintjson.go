package report

import (
	"piececost/scenarios/lint"
)

type lintJSON struct {
	Format   string            `json:"format"`
	Version  int               `json:"version"`
	File     string            `json:"file"`
	Sheets   int               `json:"sheets"`
	Skipped  []string          `json:"skipped"`
	Findings []lintFindingJSON `json:"findings"`
	More     int               `json:"more"`
}

type lintFindingJSON struct {
	Code    string    `json:"code"`
	Place   placeJSON `json:"place"`
	Last    string    `json:"last,omitempty"`
	Cells   int       `json:"cells"`
	Summary string    `json:"summary"`
	Why     string    `json:"why"`
	Help    string    `json:"help"`
}

// LintJSON is a report with the findings that are told.
func LintJSON(r *lint.Report, told []lint.Finding) lintJSON {
	out := lintJSON{Format: "piececost lint", Version: 1, File: r.File, Sheets: r.Sheets, Skipped: append([]string{}, r.Skipped...),
		Findings: []lintFindingJSON{}, More: len(r.Findings) - len(told)}
	for _, f := range told {
		out.Findings = append(out.Findings, lintFindingJSON{Code: f.Code, Place: placeOf(f.Place), Last: f.Last.Cell(), Cells: f.Cells, Summary: f.Summary,
			Why: f.Why, Help: f.Help})
	}
	return out
}
