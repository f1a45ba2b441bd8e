package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"piececost/cmd/piececost/internal/report"
	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel/table"
)

// outputFlags choose the form in which a command prints what it found.
type outputFlags struct{ csv, json bool }

// add declares the flags and has them checked before the command runs.
func (o *outputFlags) add(c *cobra.Command) {
	c.Flags().BoolVar(&o.csv, "csv", false, "print CSV")
	c.Flags().BoolVar(&o.json, "json", false, "print JSON")
	c.PreRunE = func(*cobra.Command, []string) error {
		if o.csv && o.json {
			return usageError{errors.New("--csv and --json exclude each other")}
		}
		return nil
	}
}

// forms are the three ways to print a report.
type forms struct {
	csv   func(io.Writer)
	json  func() any
	print func(io.Writer)
}

// write prints a report as asked; the form for a person ends with the caution, and warnings of the case are counted.
func (o outputFlags) write(cmd *cobra.Command, file string, ds table.Diagnostics, f forms) error {
	out := bufio.NewWriter(cmd.OutOrStdout())
	defer out.Flush()
	switch {
	case o.csv:
		f.csv(out)
		return nil
	case o.json:
		return report.WriteJSON(out, f.json())
	}
	f.print(term.Page{Writer: out, Width: term.Columns(cmd.OutOrStdout())})
	fmt.Fprintln(out, report.Caution)
	if n := ds.Count(table.Warning); n > 0 {
		fmt.Fprintf(cmd.ErrOrStderr(), "%s; `piececost check %s` lists them\n", term.Plural(n, "warning"), file)
	}
	return nil
}
