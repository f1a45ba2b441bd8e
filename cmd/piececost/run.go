package main

import (
	"cmp"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"piececost/cmd/piececost/internal/report"
	"piececost/cmd/piececost/internal/studies"
	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel/table"
	"piececost/scenarios"
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
	w, err := scenarios.Open(file)
	if err != nil {
		return err
	}
	if f.out != "" {
		if err := w.MaySaveAs(f.out, f.saving()); err != nil {
			return usageError{f.hint(err)}
		}
	}
	c, edits, err := editedCase(w, f.discardEdits)
	if err != nil {
		return err
	}
	m, plans, ds, err := costedModelOf(c, cmd.ErrOrStderr())
	report.PrintEdits(cmd.ErrOrStderr(), edits, err)
	if err != nil {
		return err
	}
	if long := scenarios.LongFormulas(plans); long.HasErrors() {
		report.PrintDiagnostics(cmd.ErrOrStderr(), long)
		return errCase
	}
	_, uncertain := m.Uncertainty()
	ds = append(ds, uncertain.AsWarnings()...).Sorted()
	r, err := studies.Make(cmd.Context(), "piececost "+version, m, plans, cmd.ErrOrStderr())
	if err != nil {
		return err
	}
	if err := w.Write(r); err != nil {
		return err
	}
	if err := term.Stopped(cmd.Context()); err != nil {
		return err
	}
	if err := refuseDrawings(w.Drawings(), f.out == "" || filepath.Clean(f.out) == filepath.Clean(file)); err != nil {
		return err
	}
	target, err := saveResults(w, file, f)
	if err != nil {
		return err
	}
	report.PrintRemarks(cmd.ErrOrStderr(), w.Remarks(), w.Drawings())
	alreadyDone(cmd.OutOrStdout(), "the results are in "+target+" all the same")
	if f.json {
		return report.WriteJSON(cmd.OutOrStdout(), report.RunJSON(m, r, ds, version, target))
	}
	report.PrintRun(cmd.OutOrStdout(), r)
	fmt.Fprintf(cmd.OutOrStdout(), "\nThe results are in %s, the sheet %s first.\n%s\n", target, w.Summary(), report.Caution)
	report.PrintDiagnostics(cmd.ErrOrStderr(), ds)
	return nil
}

// editedCase reads the case with what was changed by hand in result sheets since the last run, or without it.
func editedCase(w *scenarios.Workbook, discard bool) (*table.Case, []scenarios.Edit, error) {
	c, err := w.Case()
	if err != nil {
		return nil, nil, err
	}
	if discard {
		return c, nil, w.DiscardEdits(c)
	}
	lib, err := library()
	if err != nil {
		return nil, nil, err
	}
	edits, err := w.TakeOver(c, lib)
	return c, edits, err
}

// saveResults writes the workbook in place, or to the file of -o, and returns its name.
func saveResults(w *scenarios.Workbook, file string, f runFlags) (string, error) {
	target := cmp.Or(f.out, file)
	return target, f.hint(w.Save(target, f.saving()))
}

// saving says what may be written over: in place the workbook itself.
func (f runFlags) saving() scenarios.SaveOptions {
	return scenarios.SaveOptions{Replace: f.replace || f.out == "", IgnoreLock: f.ignoreLock}
}

// hint adds to a refusal which flag lifts it.
func (f runFlags) hint(err error) error {
	if errors.Is(err, scenarios.ErrThere) {
		return fmt.Errorf("%w, or let it be replaced with --replace", err)
	}
	return err
}

// refuseDrawings stops a run in place that would take a person's pictures and charts away with the result sheets.
func refuseDrawings(drawings []string, inPlace bool) error {
	if len(drawings) == 0 || !inPlace {
		return nil
	}
	return fmt.Errorf("nothing was written: result sheets are written anew, and what you put over their cells would be lost (%s); "+
		"move it to a sheet of your own, or write a copy with -o", strings.Join(drawings, "; "))
}
