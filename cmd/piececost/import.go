package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"strings"

	"github.com/spf13/cobra"

	"piececost/scenarios"
	"piececost/templates"
)

func newImport() *cobra.Command {
	return &cobra.Command{
		Use:   "import FOLDER FILE",
		Short: "Fill a workbook from CSV tables: parts list, bill of materials, routes, machines, materials",
		Long: `import fills the input sheets of a workbook made by ` + "`piececost new`" + ` from the CSV tables of a folder; a workbook that is not
there is made first. Rows go below those that are there.

A file columns.csv in the folder maps columns: its own columns are file, column, sheet, heading, value and replace. The
heading carries the unit of the column, Gauge [in], and numbers are converted to the unit of the sheet. With an empty
column every row gets the value. replace holds words to be replaced, "shift=whole shifts; h=hours".

Without columns.csv the files are named after the sheets (parts.csv, bill_of_materials.csv) and bear their headings.`,
		Example: `  piececost import tables my.xlsx`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) != 2 {
				return fmt.Errorf("import takes a folder of CSV tables and a workbook, got %d arguments", len(args))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error { return importTables(cmd, args[0], args[1]) },
	}
}

func importTables(cmd *cobra.Command, folder, file string) error {
	info, err := os.Stat(folder)
	if err != nil || !info.IsDir() {
		return usageError{fmt.Errorf("%s is no folder", folder)}
	}
	w, err := workbookToFill(file)
	if err != nil {
		return err
	}
	report, err := w.Import(os.DirFS(folder))
	if err != nil {
		return err
	}
	if err := w.Save(file, scenarios.SaveOptions{Replace: true}); err != nil {
		return err
	}
	out := cmd.OutOrStdout()
	alreadyDone(out, file+" is filled all the same")
	sheets := make([]string, 0, len(report.Rows))
	for s := range report.Rows {
		sheets = append(sheets, s)
	}
	sort.Strings(sheets)
	fmt.Fprintf(out, "Filled %s from %s\n", file, strings.Join(report.Sources, ", "))
	for _, s := range sheets {
		fmt.Fprintf(out, "  %-20s %s\n", s, plural(report.Rows[s], "row"))
	}
	for _, u := range report.Unused {
		fmt.Fprintf(out, "  not used: %s\n", u)
	}
	fmt.Fprintf(out, "`piececost check %s` says what is still missing\n", filepath.Base(file))
	return nil
}

// workbookToFill opens a starter workbook, or makes an empty one where the file is not there.
func workbookToFill(file string) (*scenarios.Workbook, error) {
	if _, err := os.Stat(file); errors.Is(err, fs.ErrNotExist) {
		if err := namedWorkbook(file); err != nil {
			return nil, err
		}
		tables, err := fs.Sub(templates.Files, "samples/empty")
		if err != nil {
			return nil, err
		}
		lib, err := library()
		if err != nil {
			return nil, err
		}
		return scenarios.Starter(tables, lib)
	}
	return scenarios.OpenStarter(file)
}
