package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"piececost/cmd/piececost/internal/report"
	"piececost/cmd/piececost/internal/term"
	"piececost/scenarios/costing"
	"piececost/scenarios/costing/wire"
)

func newCheck() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "check FILE",
		Short: "Find everything that is wrong with a case at once",
		Long: `check reads a scenario workbook and reports everything that is wrong or doubtful: the cell, what is wrong, what to do.
Nothing is written. The exit code is 1 where there is an error; warnings alone leave it 0.

Rows with a word in the column Alternative count only in scenarios that list it. check warns where an operation, or a child of the
bill of materials, stands in several alternatives of which a scenario lists none, and of words that no scenario lists; of a
cell that nothing reads; and notes each condition that it could not look at, since a force or size is not given.`,
		Example: `  piececost check tray.xlsx
  piececost check tray.xlsx --json`,
		Args: oneFile,
		RunE: func(cmd *cobra.Command, args []string) error {
			w, err := costing.Open(cmd.Context(), args[0], options(cmd))
			if err != nil {
				return err
			}
			ds := w.Check(cmd.Context())
			if err := cmd.Context().Err(); err != nil {
				return err
			}
			out := cmd.OutOrStdout()
			if asJSON {
				err = report.WriteJSON(out, wire.Check{Answer: wire.Begin[wire.Check](), File: w.Case().File, Findings: report.FindingsJSON(ds)})
			} else {
				report.PrintDiagnostics(out, ds)
			}
			if err == nil && ds.HasErrors() {
				return errCase
			}
			if err == nil && !asJSON {
				fmt.Fprintf(out, "%s: %s, no errors\n", w.Case().File, term.Plural(len(w.ScenarioNames()), "scenario"))
			}
			return err
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "write the findings as JSON")
	return c
}
