package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"piececost/costmodel"
	"piececost/scenarios/lint"
)

func newLint() *cobra.Command {
	var asJSON, all bool
	c := &cobra.Command{
		Use:   "lint FILE",
		Short: "Find weak spots in anybody's workbook: numbers in formulas, broken patterns, mixed units",
		Long: `lint looks at any workbook (.xlsx, .xlsm), also one that piececost did not make, and tells what a reviewer would ask about:
the cell, what is wrong, why it matters, what to do. Equal findings of a block are told once; of more than 100 findings the
first 100 are told and the rest counted. Sheets written by a run of piececost are left out. Nothing is written.

The codes, which stay the same:
` + lintCodes() + `
Exit codes: 0 no finding, 1 findings or a file that can't be read, 2 wrong usage.

JSON: format "piececost lint", version 1; file; sheets (number looked at); skipped (names of sheets left out); findings, each
with code, place (file, sheet, cell; no cell for a whole sheet, no sheet for the whole workbook), last (cell of the block's
other corner), cells (in the block), summary, why, help; more (findings that are not told).`,
		Example: `  piececost lint quote-model.xlsx
  piececost lint quote-model.xlsx --all
  piececost lint quote-model.xlsx --json`,
		Args: oneFile,
		RunE: func(cmd *cobra.Command, args []string) error {
			r, err := lint.File(args[0])
			if err != nil {
				return err
			}
			told := r.Findings
			if !all && len(told) > costmodel.MaxShown {
				told = told[:costmodel.MaxShown]
			}
			if asJSON {
				err = writeJSON(cmd.OutOrStdout(), lintReport(r, told))
			} else {
				printLint(cmd.OutOrStdout(), r, told)
			}
			if err == nil && len(r.Findings) > 0 {
				return errCase // told already
			}
			return err
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "write the findings as JSON")
	c.Flags().BoolVar(&all, "all", false, "tell all findings, however many")
	return c
}

// lintCodes lists the kinds of findings for the help.
func lintCodes() string {
	var b strings.Builder
	for _, k := range lint.Kinds {
		fmt.Fprintf(&b, "  %-20s %s\n", k.Code, k.About)
	}
	return b.String()
}

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

func lintReport(r *lint.Report, told []lint.Finding) lintJSON {
	out := lintJSON{Format: "piececost lint", Version: 1, File: r.File, Sheets: r.Sheets, Skipped: append([]string{}, r.Skipped...),
		Findings: []lintFindingJSON{}, More: len(r.Findings) - len(told)}
	for _, f := range told {
		out.Findings = append(out.Findings, lintFindingJSON{Code: f.Code, Place: placeOf(f.Place), Last: f.Last.Cell(), Cells: f.Cells, Summary: f.Summary, Why: f.Why, Help: f.Help})
	}
	return out
}
