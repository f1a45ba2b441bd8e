package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"piececost/cmd/piececost/internal/report"
	"piececost/scenarios"
	"piececost/scenarios/costing"
)

type runFlags struct {
	out                       string
	json, replace, ignoreLock bool
	discardEdits              bool
}

func newRun() *cobra.Command {
	var f runFlags
	c := &cobra.Command{
		Use:   "run FILE",
		Short: "Cost every scenario and write the results into the workbook",
		Long: `run costs every scenario at its own annual volume, and over the sheet Volumes, writes the result sheets as live formulas
into the workbook, and prints the comparison, its lines rounded so that they add up to the piece cost (compare rounds each
by itself). The sheets of studies (Cross-over, its stability, Least-cost map, Least-cost combination, Break-even values,
Sensitivity, Capacity and investment, parts of Scenario comparison) and Cost over volume hold values that only the program can compute,
under a mark that says when they are stale. The sheet Studies says which studies are made.

The workbook is written in place: the result sheets of an earlier run are replaced, every other part of it - sheets,
charts, macros, notes - stays as it is, to the byte. -o names a copy that gets the results instead. The file is the old
or the new one whatever happens. A workbook that is open in another program, or was changed since it was read, is not
written. With errors in the case nothing is written; those of the sheet Uncertainty, on which no cost rests, are warnings
here, and the sheet Sensitivity is left out.

Remarks that you type in result sheets - words, numbers, formulas in cells that the run left empty, notes on cells - stay:
beside a row as long as its label is there, below a table as far below its end. A formula leads where it led. A remark
without a place goes to the sheet Overrides with its words and place, as do words typed over a label. --discard-edits
leaves remarks alone. Pictures, shapes and charts of your own can't stay on a result sheet: a run that would lose them
writes nothing but a copy (-o). Formats of your own there go.

` + report.Caution,
		Example: `  piececost run tray.xlsx
  piececost run tray.xlsx -o tray-costed.xlsx
  piececost run tray.xlsx --json`,
		Args: oneFile,
		RunE: func(cmd *cobra.Command, args []string) error {
			return costWorkbook(cmd, args[0], f)
		},
	}
	c.Flags().StringVarP(&f.out, "output", "o", "", "write the workbook with its results to this file")
	c.Flags().BoolVar(&f.replace, "replace", false, "let -o replace a file that is there")
	c.Flags().BoolVar(&f.ignoreLock, "ignore-lock", false, "write although a lock file says that another program has the workbook open")
	c.Flags().BoolVar(&f.discardEdits, "discard-edits", false,
		"leave out what was changed by hand in result sheets, and empty the sheet Overrides; remarks are no such changes and stay")
	c.Flags().BoolVar(&f.json, "json", false, "print the results as JSON")
	return c
}

func costWorkbook(cmd *cobra.Command, file string, f runFlags) error {
	w, err := costing.Open(cmd.Context(), file, f.options(cmd))
	if err != nil {
		return f.hint(err)
	}
	r, err := w.Cost(cmd.Context())
	err = caseError(cmd, err)
	report.PrintEdits(cmd.ErrOrStderr(), w.Edits(), err)
	if err != nil {
		return err
	}
	written, err := r.Write(cmd.Context())
	if err != nil {
		return f.hint(caseError(cmd, err))
	}
	report.PrintRemarks(cmd.ErrOrStderr(), written.Remarks, written.Drawings)
	alreadyDone(cmd.OutOrStdout(), "the results are in "+written.File+" all the same")
	if f.json {
		return report.WriteJSON(cmd.OutOrStdout(), report.RunJSON(r.Model(), written.Results, written.Findings, version, written.File))
	}
	report.PrintRun(cmd.OutOrStdout(), written.Results)
	fmt.Fprintf(cmd.OutOrStdout(), "\nThe results are in %s, the sheet %s first.\n%s\n", written.File, written.Summary, report.Caution)
	report.PrintDiagnostics(cmd.ErrOrStderr(), written.Findings)
	return nil
}

// options are the flags.
func (f runFlags) options(cmd *cobra.Command) costing.Options {
	o := options(cmd)
	o.Output, o.Replace, o.IgnoreLock, o.Edits = f.out, f.replace, f.ignoreLock, costing.TakeOverEdits
	if f.discardEdits {
		o.Edits = costing.DiscardEdits
	}
	return o
}

// hint makes a bad place for -o wrong usage, and adds to a refusal which flag lifts it.
func (f runFlags) hint(err error) error {
	var place *costing.OutputError
	bad := errors.As(err, &place)
	if errors.Is(err, scenarios.ErrThere) {
		err = fmt.Errorf("%w, or let it be replaced with --replace", err)
	}
	if bad {
		return usageError{err}
	}
	return err
}
