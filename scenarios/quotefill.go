package scenarios

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"piececost/costmodel"
	"piececost/scenarios/quoteform"
	"piececost/scenarios/reading"
	"piececost/scenarios/starter"
)

// WriteQuoteForm writes the workbook that a supplier fills in: the request of the quotes as far as he is told of it, and empty rows. No figure
// of the model, no other quote and no target is in it.
func WriteQuoteForm(ctx context.Context, path string, q *costmodel.Quotes, o SaveOptions) error {
	data, err := quoteform.Make(q)
	if err != nil {
		return err
	}
	return (&Workbook{out: data}).Save(ctx, path, o)
}

// QuoteImport says which supplier's workbook becomes which quote.
type QuoteImport struct {
	Form    string // file that the supplier filled in; it is not changed
	As      string // name of the quote: the heading of its column in the sheet Quotes
	Map     string // CSV file that maps his own form; "" for a form made by WriteQuoteForm
	Library *costmodel.Library
}

// ImportQuote takes a supplier's filled form into the sheets Quotes and Quote lines of a workbook opened by OpenStarter. The cells of Quotes
// have a note that names the cell they come from, those of Quote lines the column Source. The error is Diagnostics where cells of the form
// can't be taken; the workbook is then not to be saved.
func (w *Workbook) ImportQuote(o QuoteImport) (*ImportReport, error) {
	lib, err := o.Library.Quotes()
	if err != nil {
		return nil, err
	}
	filled, err := o.read(lib)
	if err != nil {
		return nil, err
	}
	book, err := reading.CaseOf(w.f, filepath.Base(w.path))
	if err != nil {
		return nil, err
	}
	tables, err := filled.Tables(book, lib, o.As)
	if err != nil {
		return nil, err
	}
	list := []starter.Rows{{Sheet: "Quotes", File: filled.File, Rows: tables.Quotes}}
	if tables.Lines != nil {
		list = append(list, starter.Rows{Sheet: "Quote lines", File: filled.File, Rows: tables.Lines})
	}
	report, err := starter.ImportRows(w.f, list, ImportOptions{Library: o.Library})
	if err != nil {
		return nil, err
	}
	report.Sources, report.Unused = []string{filled.File}, filled.NotTaken
	notes := map[string]string{}
	for _, origin := range tables.Origins {
		notes[origin.Label] = origin.Text
	}
	return report, starter.NoteAtCells(w.f, "Quotes", o.As, notes)
}

// read reads the form, by the map where there is one.
func (o QuoteImport) read(lib *costmodel.QuoteLibrary) (*quoteform.Filled, error) {
	if _, err := os.Stat(o.Form); errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("%s: there is no such file", o.Form)
	}
	form, err := Open(o.Form)
	if err != nil {
		return nil, err
	}
	var mapped []quoteform.Mapped
	if o.Map != "" {
		rows, err := starter.ReadCSV(os.DirFS(filepath.Dir(o.Map)), filepath.Base(o.Map))
		if err != nil {
			return nil, err
		}
		if rows == nil {
			return nil, fmt.Errorf("%s: there is no such file", o.Map)
		}
		if mapped, err = quoteform.ReadMap(rows, filepath.Base(o.Map), lib); err != nil {
			return nil, err
		}
	}
	return quoteform.Read(form.pack, filepath.Base(o.Form), lib, mapped)
}
