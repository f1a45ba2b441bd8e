package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"

	"github.com/spf13/cobra"

	"piececost/cmd/piececost/internal/report"
	"piececost/scenarios"
)

func newImport() *cobra.Command {
	mark := "."
	var quote quoteFlags
	cmd := &cobra.Command{
		Use:   "import FOLDER FILE",
		Short: "Fill a workbook from CSV tables: parts list, bill of materials, routes, machines, materials; or from a supplier's quote",
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
separated by commas, semicolons or tabs, whichever the first line has most of.

With --quote a supplier's filled form becomes the quote of the name --as in the sheets Quotes and Quote lines: columns may
have been moved and rows added. Each cell of Quotes has a note that names the cell it comes from, each line of Quote
lines its cells under Source. The form is not changed. A supplier's own form comes in by --map, a CSV file with the
columns ours, theirs and, where they are wanted, value, replace and sheet: what a row of Quotes or a column of Quote
lines is called by him; a value that he does not state; words to be replaced, "Werkstoff=material; Summe=", where a line
whose word is replaced by nothing is left out; the sheet where his label stands on several.`,
		Example: `  piececost import tables my.xlsx
  piececost import tabellen my.xlsx --decimal-mark ,
  piececost import --quote offer.xlsx my.xlsx --as Q4
  piececost import --quote theirs.xlsx my.xlsx --as Q5 --map theirs.csv`,
		Args: func(cmd *cobra.Command, args []string) error {
			if quote.form != "" {
				return quote.arguments(args)
			}
			if len(args) != 2 {
				return fmt.Errorf("import takes a folder of CSV tables and a workbook, got %d arguments", len(args))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if quote.form != "" {
				return importQuote(cmd, args[0], quote)
			}
			if quote.as != "" || quote.columns != "" {
				return usageError{fmt.Errorf("--as and --map go with --quote, the file that the supplier filled in")}
			}
			return importTables(cmd, args[0], args[1], mark)
		},
	}
	cmd.Flags().StringVar(&mark, "decimal-mark", mark, "decimal mark of the numbers in the tables: . or ,")
	cmd.Flags().StringVar(&quote.form, "quote", "", "take in a supplier's quote from this workbook instead of tables")
	cmd.Flags().StringVar(&quote.as, "as", "", "name of the quote: the heading of its column in the sheet Quotes")
	cmd.Flags().StringVar(&quote.columns, "map", "", "CSV file that says what a supplier's own form calls what is asked for")
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
	done, err := w.Import(os.DirFS(folder), scenarios.ImportOptions{Library: lib, DecimalComma: mark == ","})
	if err != nil {
		return err
	}
	if err := w.Save(cmd.Context(), file, scenarios.SaveOptions{Replace: true}); err != nil {
		return err
	}
	out := cmd.OutOrStdout()
	alreadyDone(out, file+" is filled all the same")
	report.PrintImport(out, file, done)
	return nil
}

// workbookToFill opens a starter workbook, or makes an empty one where the file is not there.
func workbookToFill(file string) (*scenarios.Workbook, error) {
	if _, err := os.Stat(file); errors.Is(err, fs.ErrNotExist) {
		if err := namedWorkbook(file); err != nil {
			return nil, err
		}
		return starter("empty")
	}
	return scenarios.OpenStarter(file)
}
