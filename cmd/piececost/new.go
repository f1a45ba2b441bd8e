package main

import (
	"cmp"
	"fmt"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"piececost/scenarios"
	"piececost/templates"
)

func newNew() *cobra.Command {
	var sample string
	c := &cobra.Command{
		Use:   "new FILE",
		Short: "Make a scenario workbook: a sample, or an empty one to fill in",
		Long: `new makes a scenario workbook with all input sheets, units in the headings, drop-downs and notes.
With --sample it holds a complete invented case: battery-tray, three designs with typed times, forces and tool prices; or
parcel-rack, twelve parts of sheet and tube given by their drawing data alone, to be changed into a case of your own.
An existing file is never overwritten.

The sheets Processes and Tables are for what the library has not: a process, a form of material or a curve of your own. Each says
at its right how it is filled in, and has an example that nothing reads until something names it.`,
		Example: `  piececost new my-part.xlsx
  piececost new --sample battery-tray tray.xlsx
  piececost new --sample parcel-rack rack.xlsx`,
		Args: oneFile,
		RunE: func(cmd *cobra.Command, args []string) error {
			return makeWorkbook(cmd, sample, args[0])
		},
	}
	c.Flags().StringVar(&sample, "sample", "", "fill in a sample case: "+strings.Join(samples(), ", "))
	return c
}

// samples lists the embedded sample cases.
func samples() []string {
	entries, err := fs.ReadDir(templates.Files, "samples")
	if err != nil {
		return nil
	}
	var out []string
	for _, e := range entries {
		if e.Name() != "empty" {
			out = append(out, e.Name())
		}
	}
	return out
}

// namedWorkbook refuses a name that no program would take for that of a workbook.
func namedWorkbook(file string) error {
	if base := strings.ToLower(filepath.Base(file)); !strings.HasSuffix(base, ".xlsx") || base == ".xlsx" {
		return usageError{fmt.Errorf("%s: a workbook's name ends in .xlsx", file)}
	}
	return nil
}

func makeWorkbook(cmd *cobra.Command, sample, file string) error {
	if sample != "" && !slices.Contains(samples(), sample) {
		return usageError{fmt.Errorf("there is no sample %q; the samples are %s", sample, strings.Join(samples(), ", "))}
	}
	if err := namedWorkbook(file); err != nil {
		return err
	}
	w, err := starter(cmp.Or(sample, "empty"))
	if err != nil {
		return err
	}
	if err := w.Save(cmd.Context(), file, scenarios.SaveOptions{}); err != nil {
		return err
	}
	alreadyDone(cmd.OutOrStdout(), file+" is made all the same")
	fmt.Fprintf(cmd.OutOrStdout(), "Made %s\n", file)
	return nil
}

// starter makes the workbook of a sample case in memory; the sample "empty" has no rows.
func starter(sample string) (*scenarios.Workbook, error) {
	tables, err := fs.Sub(templates.Files, path.Join("samples", sample))
	if err != nil {
		return nil, err
	}
	lib, err := library()
	if err != nil {
		return nil, err
	}
	return scenarios.Starter(tables, lib)
}
