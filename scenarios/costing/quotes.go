package costing

import (
	"context"
	"errors"
	"sync"

	"piececost/costmodel"
	"piececost/costmodel/quote"
	"piececost/costmodel/table"
	"piececost/scenarios"
)

// QuoteLibrary is the program's own text of what quotes are asked, read once. The error is a fault of the program.
var QuoteLibrary = sync.OnceValues(func() (*costmodel.QuoteLibrary, error) {
	lib, err := Library()
	if err != nil {
		return nil, err
	}
	return lib.Quotes()
})

// quoteFindings are what is wrong or doubtful in the quotes of a case, where it has any; no cost rests on them.
func (w *Workbook) quoteFindings(m *costmodel.Model) (Diagnostics, error) {
	if t := w.data.Table("Quotes"); t == nil || !filled(t) {
		return nil, nil
	}
	lib, err := w.lib.Quotes()
	if err != nil {
		return nil, err
	}
	q := costmodel.ReadQuotes(m, lib)
	if q == nil || len(q.Quotes) == 0 && len(q.Diagnostics) == 0 {
		return nil, nil
	}
	return quote.Check(q), nil
}

// filled tells whether anything is filled in beside the words that name rows and units.
func filled(t *table.Table) bool {
	for i, c := range t.Columns {
		if name, _, _ := table.SplitHeading(c.Heading); name == "" || name == "quantity" || name == "unit" || table.IsProvenance(name) {
			continue
		}
		for _, row := range t.Rows {
			if row.Cells[i].Kind != table.Empty {
				return true
			}
		}
	}
	return false
}

// QuotesAsked says what of the request is other than the sheet has it.
type QuotesAsked struct {
	Month  string  // price month, 2025-03 or 2025-Q1; "" for that of the sheet
	Volume float64 // annual volume; 0 for that of the sheet
}

// addQuotes fills in what is known of the quotes, for their sheets; nothing where the case has none. What is wrong with them was found before.
func (r *Result) addQuotes(ctx context.Context, out *scenarios.Result, notice func(words string)) error {
	if t := r.model.Case.Table("Quotes"); t == nil || !filled(t) {
		return nil
	}
	lib, err := r.workbook.lib.Quotes()
	if err != nil {
		return err
	}
	q := costmodel.ReadQuotes(r.model, lib)
	if q == nil || len(q.Quotes) == 0 {
		return nil
	}
	a, ds, err := quote.Ask(ctx, q)
	if a == nil && err == nil {
		notice("without the sheets of quotes: " + ds.Error())
	}
	if a != nil && err == nil {
		err = a.Explain(ctx)
	}
	out.Quotes = a
	return err
}

// Quotes puts the quotes of the case on equal terms, holds them against the should-cost and finds what does not fit together in them. The
// answer is nil where the case has no quotes, or with errors among the diagnostics.
func (w *Workbook) Quotes(ctx context.Context, asked QuotesAsked) (*quote.Answer, Diagnostics, error) {
	lib, err := QuoteLibrary()
	if err != nil {
		return nil, nil, err
	}
	m, _, ds := w.compile(ctx)
	if ds.HasErrors() || ctx.Err() != nil {
		return nil, ds, ctx.Err()
	}
	q := costmodel.ReadQuotes(m, lib)
	if q == nil || len(q.Quotes) == 0 {
		return nil, ds, nil
	}
	if asked.Month != "" {
		q.Ask("price_month", table.Value{Kind: table.Text, Text: asked.Month})
	}
	if asked.Volume > 0 {
		q.Ask("annual_volume", table.Value{Kind: table.Number, Number: asked.Volume})
	}
	a, more, err := quote.Ask(ctx, q)
	if a != nil && err == nil {
		err = a.Explain(ctx)
	}
	return a, append(ds, more...).Sorted(), err
}

// QuoteForm writes the request as a workbook that a supplier fills in, to a file that is not there yet. It needs no quotes. The findings are
// those of the case and of the request; with errors among them nothing is written.
func (w *Workbook) QuoteForm(ctx context.Context, path string) (Diagnostics, error) {
	lib, err := QuoteLibrary()
	if err != nil {
		return nil, err
	}
	m, _, ds := w.compile(ctx)
	if ds.HasErrors() || ctx.Err() != nil {
		return ds, ctx.Err()
	}
	q := costmodel.ReadQuotes(m, lib)
	if q == nil {
		return nil, errors.New("the workbook has no sheet Quotes, whose column Request says what is asked for; `piececost new` makes one")
	}
	if ds = append(ds, q.Diagnostics...); ds.HasErrors() {
		return ds.Sorted(), nil
	}
	return ds, scenarios.WriteQuoteForm(ctx, path, q, scenarios.SaveOptions{})
}
