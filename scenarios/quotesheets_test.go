package scenarios

import (
	"path/filepath"
	"testing"
	"testing/fstest"

	"piececost/costmodel"
	"piececost/costmodel/quote"
	"piececost/templates"
)

// resultWithQuotes is a workbook's result with what is known of its quotes.
func resultWithQuotes(t *testing.T, path string) *Result {
	t.Helper()
	r := resultOf(t, path)
	lib, err := costmodel.LoadQuotes(templates.Files)
	if err != nil {
		t.Fatal(err)
	}
	a, ds, err := quote.Ask(t.Context(), costmodel.ReadQuotes(r.Details[0].Plan.Model, lib))
	reportProblems(t, ds)
	if err != nil || a == nil {
		t.Fatal("no answer", err)
	}
	r.Quotes = a
	return r
}

// writeQuotes saves a workbook of tables with its results and the sheets of its quotes.
func writeQuotes(t *testing.T, files fstest.MapFS, path string) *Result {
	t.Helper()
	saveTables(t, files, path)
	r := resultWithQuotes(t, path)
	w, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := w.Write(t.Context(), r); err != nil {
		t.Fatal(err)
	}
	if err := w.Save(t.Context(), path, SaveOptions{Replace: true}); err != nil {
		t.Fatal(err)
	}
	return r
}

// TestQuoteSheetsRecalculated has independent programs compute every formula of a workbook with quotes, from poisoned values.
func TestQuoteSheetsRecalculated(t *testing.T) {
	path := filepath.Join(t.TempDir(), "quotes.xlsx")
	writeQuotes(t, quoteTables(t), path)
	poison(t, path, poisonedOf(path))
	if n := compareFormulas(t, path, recomputed(t, poisonedOf(path))); n < 6000 {
		t.Errorf("only %d formula cells", n)
	}
}
