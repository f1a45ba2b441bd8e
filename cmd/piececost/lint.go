package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"piececost/cmd/piececost/internal/report"
	"piececost/costmodel/table"
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
			if !all && len(told) > table.MaxShown {
				told = told[:table.MaxShown]
			}
			if asJSON {
				err = report.WriteJSON(cmd.OutOrStdout(), report.LintJSON(r, told))
			} else {
				report.PrintLint(cmd.OutOrStdout(), r, told)
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
