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

	"piececost/cmd/piececost/internal/term"
	"piececost/scenarios"
	"piececost/templates"
)

func newImport() *cobra.Command {
	mark := "."
	cmd := &cobra.Command{
		Use:   "import FOLDER FILE",
		Short: "Fill a workbook from CSV tables: parts list, bill of materials, routes, machines, materials",
		Long: `import fills the input sheets of a workbook made by ` + "`piececost new`" + ` from the CSV tables of a folder; a workbook that is not
there is made first. Rows go below those that are there.

A file columns.csv in the folder maps columns: its own columns are file, column, sheet, heading, value and replace. The
heading carries the unit of the column, Gauge [in]. With an empty column every row gets the value. replace holds words to
be replaced, "shift=whole shifts; h=hours". Without columns.csv the files are named after the sheets (parts.csv,
bill_of_materials.csv) and bear their headings.

Units: a column or row of the sheet that holds no values yet takes the unit of the table, so that nothing is converted.
Where it holds values, numbers are converted to its unit and formulas are refused. A quantity without a unit is refused.

Numbers: the decimal mark is a point, or with --decimal-mark , a comma; with the point 310.000 is 310. Thousands are
written without separators. A formula (3.72 + 1.60) has decimal points always. The tables are UTF-8; their columns are
separated by commas, semicolons or tabs, whichever the first line has most of.`,
		Example: `  piececost import tables my.xlsx
  piececost import tabellen my.xlsx --decimal-mark ,`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) != 2 {
				return fmt.Errorf("import takes a folder of CSV tables and a workbook, got %d arguments", len(args))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error { return importTables(cmd, args[0], args[1], mark) },
	}
	cmd.Flags().StringVar(&mark, "decimal-mark", mark, "decimal mark of the numbers in the tables: . or ,")
	return cmd
}

func importTables(cmd *cobra.Command, folder, file, mark string) error {
	if mark != "." && mark != "," {
		return usageError{fmt.Errorf("--decimal-mark is %q; it is . or ,", mark)}
	}
	info, err := os.Stat(folder)
	if err != nil || !info.IsDir() {
		return usageError{fmt.Errorf("%s is no folder", folder)}
	}
	w, err := workbookToFill(file)
	if err != nil {
		return err
	}
	lib, err := library()
	if err != nil {
		return err
	}
	report, err := w.Import(os.DirFS(folder), scenarios.ImportOptions{Library: lib, DecimalComma: mark == ","})
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
		fmt.Fprintf(out, "  %-20s %s\n", s, term.Plural(report.Rows[s], "row"))
	}
	for _, u := range report.Units {
		fmt.Fprintf(out, "  unit of %s\n", u)
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
