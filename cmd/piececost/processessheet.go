package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"piececost/cmd/piececost/internal/report"
	"piececost/scenarios/costing"
)

// sheetFlags say where the copy of a process goes, and under which name.
type sheetFlags struct {
	asSheet bool
	called  string
	run     runFlags // what may be written over
}

func (f *sheetFlags) add(c *cobra.Command) {
	c.Flags().BoolVar(&f.asSheet, "as-sheet", false, "put a copy of the process into the sheet Processes of the workbook FILE, to be changed")
	c.Flags().StringVar(&f.called, "called", "", `with --as-sheet, the name of the copy; without it "own" and the name of the process`)
	c.Flags().StringVarP(&f.run.out, "output", "o", "", "with --as-sheet, write the workbook to this file instead")
	c.Flags().BoolVar(&f.run.replace, "replace", false, "let -o replace a file that is there")
	c.Flags().BoolVar(&f.run.ignoreLock, "ignore-lock", false, "write although a lock file says that another program has the workbook open")
}

// refuseAlone refuses what has a meaning with --as-sheet alone.
func (f *sheetFlags) refuseAlone(cmd *cobra.Command) error {
	for _, name := range []string{"called", "output", "replace", "ignore-lock"} {
		if cmd.Flags().Changed(name) {
			return usageError{fmt.Errorf("--%s goes with --as-sheet NAME FILE", name)}
		}
	}
	return nil
}

// copyProcess is `processes --as-sheet NAME FILE`.
func copyProcess(cmd *cobra.Command, args []string, f *sheetFlags) error {
	if len(args) != 2 {
		return usageError{fmt.Errorf("--as-sheet takes a process and a workbook, got %d arguments; write --as-sheet \"tube sawing\" my.xlsx", len(args))}
	}
	o := f.run.options(cmd)
	o.Edits = costing.LeaveEdits
	if err := knownProcess(args[0]); err != nil {
		return err
	}
	w, err := costing.Open(cmd.Context(), args[1], o)
	if err != nil {
		return f.run.hint(err)
	}
	done, err := w.CopyDefinition(cmd.Context(), args[0], f.called)
	if err != nil {
		return f.run.hint(err)
	}
	alreadyDone(cmd.OutOrStdout(), done.File+" has the copy all the same")
	report.PrintCopied(cmd.OutOrStdout(), done)
	return nil
}
