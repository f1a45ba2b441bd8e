package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"piececost/cmd/piececost/internal/report"
	"piececost/scenarios"
)

// quoteFlags are those of import for a supplier's quote.
type quoteFlags struct{ form, as, columns string }

func (f quoteFlags) arguments(args []string) error {
	switch {
	case len(args) != 1:
		return fmt.Errorf("import --quote FORM takes the workbook that gets the quote, got %d arguments", len(args))
	case f.as == "":
		return fmt.Errorf("import --quote needs --as, the name that the quote gets, such as Q4")
	}
	return nil
}

func importQuote(cmd *cobra.Command, file string, f quoteFlags) error {
	w, err := scenarios.OpenStarter(file)
	if err != nil {
		return err
	}
	lib, err := library()
	if err != nil {
		return err
	}
	done, err := w.ImportQuote(scenarios.QuoteImport{Form: f.form, As: f.as, Map: f.columns, Library: lib})
	if err != nil {
		return caseError(cmd, err)
	}
	if err := w.Save(cmd.Context(), file, scenarios.SaveOptions{Replace: true}); err != nil {
		return err
	}
	out := cmd.OutOrStdout()
	alreadyDone(out, file+" is filled all the same")
	report.PrintImport(out, file, done)
	return nil
}
