package costing

import (
	"context"
	"sync"

	"piececost/costmodel"
	"piececost/costmodel/quote"
	"piececost/costmodel/table"
	"piececost/scenarios"
	"piececost/templates"
)

// QuoteLibrary is the program's own text of what quotes are asked, read once. The error is a fault of the program.
var QuoteLibrary = sync.OnceValues(func() (*costmodel.QuoteLibrary, error) { return costmodel.LoadQuotes(templates.Files) })

// addQuotes fills in what is known of the quotes, for their sheets, and returns what is wrong in them or doubtful, as warnings: no cost rests
// on them. With errors there are no such sheets, and that is said.
func (r *Result) addQuotes(ctx context.Context, out *scenarios.Result, notice func(words string)) (Diagnostics, error) {
	if r.model.Case.Table("Quotes") == nil {
		return nil, nil
	}
	lib, err := QuoteLibrary()
	if err != nil {
		return nil, err
	}
	q := costmodel.ReadQuotes(r.model, lib)
	if q == nil || len(q.Quotes) == 0 {
		return nil, nil
	}
	a, ds, err := quote.Ask(ctx, q)
	if err != nil {
		return nil, err
	}
	if a == nil {
		notice("without the sheets of quotes, which have errors; `piececost check` lists them")
		return ds.Of(table.Error, table.Warning).AsWarnings(), nil
	}
	for _, o := range a.Offers {
		ds = append(ds, o.Diagnostics.AsWarnings()...)
	}
	out.Quotes = a
	return ds.Of(table.Error, table.Warning).AsWarnings(), nil
}

// Quotes puts the quotes of the case on equal terms, holds them against the should-cost and finds what does not fit together in them. The
// answer is nil where the case has no quotes, or with errors among the diagnostics.
func (w *Workbook) Quotes(ctx context.Context) (*quote.Answer, Diagnostics, error) {
	lib, err := QuoteLibrary()
	if err != nil {
		return nil, nil, err
	}
	m, _, ds := w.compile(ctx)
	if ds.HasErrors() {
		return nil, ds, nil
	}
	q := costmodel.ReadQuotes(m, lib)
	if q == nil || len(q.Quotes) == 0 {
		return nil, ds, nil
	}
	a, more, err := quote.Ask(ctx, q)
	return a, append(ds, more...).Sorted(), err
}
