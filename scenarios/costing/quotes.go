package costing

import (
	"context"
	"sync"

	"piececost/costmodel"
	"piececost/costmodel/quote"
	"piececost/templates"
)

// QuoteLibrary is the program's own text of what quotes are asked, read once. The error is a fault of the program.
var QuoteLibrary = sync.OnceValues(func() (*costmodel.QuoteLibrary, error) { return costmodel.LoadQuotes(templates.Files) })

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
