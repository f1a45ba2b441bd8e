package report

import (
	"fmt"
	"io"
	"math"

	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel/quote"
	"piececost/scenarios/costing/wire"
)

// Splits prints how volumes are bought at least cost.
type Splits struct {
	Splits   []quote.Split
	Currency string
}

// Print prints a line for each volume.
func (r *Splits) Print(w io.Writer) {
	term.Wrap(w, "", "  ", fmt.Sprintf("Least levelised delivered cost from one or two suppliers, within their capacities [%s per piece]", r.Currency))
	t := term.Blocks{Corner: "Annual volume"}
	columns := []term.Column{{Head: "first"}, {Head: "pieces"}, {Head: "second"}, {Head: "pieces"}, {Head: "cost"}, {Head: "one alone"}, {Head: "cost"},
		{Head: "saved a year"}}
	for _, s := range r.Splits {
		t.Labels = append(t.Labels, term.Volume(s.Volume))
		cells := make([]string, len(columns))
		for i, p := range s.Parts {
			cells[2*i], cells[2*i+1] = offerName(p.Offer), term.Grouped(p.Pieces, 0)
		}
		if len(s.Parts) == 0 {
			cells[0] = "no capacity"
		} else {
			cells[4] = amount(s.Cost / s.Volume)
		}
		if s.Single != nil {
			cells[5], cells[6], cells[7] = offerName(s.Single.Offer), amount(s.Single.Cost/s.Volume), whole(s.Single.Cost-s.Cost)
		}
		for i := range columns {
			columns[i].Cells = append(columns[i].Cells, cells[i])
		}
	}
	t.Fixed = columns
	t.Print(w)
	term.Wrap(w, "", "  ", "A price holds from the volume of its row Price at; without such rows it moves with the share as the model's whole "+
		"machines and crews do.")
}

// CSV prints a line for each part of a split.
func (r *Splits) CSV(w io.Writer) {
	t := newCSV(w, "annual_volume", "quote", "pieces", "cost_a_year", "cost_a_piece", "alone", "alone_cost_a_piece")
	defer t.flush()
	for _, s := range r.Splits {
		alone, cost := "", math.NaN()
		if s.Single != nil {
			alone, cost = s.Single.Offer.Quote.Key, s.Single.Cost/s.Volume
		}
		for _, p := range s.Parts {
			t.row(s.Volume, p.Offer.Quote.Key, p.Pieces, p.Cost, s.Cost/s.Volume, alone, cost)
		}
	}
}

// JSON is the answer over the workbook of that name.
func (r *Splits) JSON(file string) wire.QuotesSplit {
	out := wire.QuotesSplit{Answer: wire.Begin[wire.QuotesSplit](), File: file, Currency: r.Currency, Splits: []wire.QuoteSplit{}, Caution: wire.Caution}
	share := func(p quote.SplitPart) wire.QuoteShare {
		return wire.QuoteShare{Quote: p.Offer.Quote.Key, Pieces: p.Pieces, CostYear: p.Cost}
	}
	for _, s := range r.Splits {
		one := wire.QuoteSplit{AnnualVolume: s.Volume, Parts: []wire.QuoteShare{}, Cost: number(s.Cost / s.Volume)}
		for _, p := range s.Parts {
			one.Parts = append(one.Parts, share(p))
		}
		if s.Single != nil {
			single := share(*s.Single)
			one.Single = &single
		}
		out.Splits = append(out.Splits, one)
	}
	return out
}

// Clause prints what an index clause makes of a price.
type Clause struct {
	Offer    *quote.Offer
	Months   []quote.ClauseMonth
	Notice   float64
	Currency string
}

// Print prints a line for each month, and when the tools in the price are paid.
func (r *Clause) Print(w io.Writer) {
	term.Wrap(w, "", "  ", fmt.Sprintf("%s by its index clause, month by month [%s]", offerName(r.Offer), r.Currency))
	t := term.Blocks{Corner: "Month"}
	columns := []term.Column{{Head: "list per kg"}, {Head: "moved %"}, {Head: "counted %"}, {Head: "price change"}, {Head: "price"}}
	if r.Notice > 0 {
		columns = append(columns, term.Column{Head: "notice above"})
	}
	for _, m := range r.Months {
		t.Labels = append(t.Labels, m.Month)
		for i, cell := range []string{amount(m.List), percent(m.Index), percent(m.Counted), amount(m.Change), amount(m.Price), amount(m.Notice)} {
			if i < len(columns) {
				columns[i].Cells = append(columns[i].Cells, cell)
			}
		}
	}
	t.Fixed = columns
	t.Print(w)
	if pieces, ok := r.Offer.Entry.Value("tool_pieces"); ok && value(r.Offer, "tools_taken_out") < 0 {
		term.Wrap(w, "", "  ", fmt.Sprintf("The tools in the price are paid after %s pieces, %s years at the volume asked for; the price is then %s.",
			term.Grouped(pieces, 0), term.Figure(value(r.Offer, "amortisation_years")), amount(value(r.Offer, "price_once_paid"))))
	}
}

func percent(v float64) string {
	if math.IsNaN(v) {
		return ""
	}
	return term.Grouped(100*v, 2)
}

// CSV prints a line for each month.
func (r *Clause) CSV(w io.Writer) {
	t := newCSV(w, "quote", "month", "list_price", "index_change", "counted", "price_change", "price", "notice_above")
	defer t.flush()
	for _, m := range r.Months {
		t.row(r.Offer.Quote.Key, m.Month, m.List, 100*m.Index, 100*m.Counted, m.Change, m.Price, m.Notice)
	}
}

// JSON is the answer over the workbook of that name.
func (r *Clause) JSON(file string) wire.QuotesClause {
	out := wire.QuotesClause{Answer: wire.Begin[wire.QuotesClause](), File: file, Currency: r.Currency, Quote: r.Offer.Quote.Key, Months: []wire.QuoteMonth{},
		Caution: wire.Caution}
	for _, m := range r.Months {
		out.Months = append(out.Months, wire.QuoteMonth{Month: m.Month, List: m.List, Index: number(100 * m.Index), Counted: number(100 * m.Counted),
			Change: number(m.Change), Price: number(m.Price), Notice: number(m.Notice)})
	}
	if value(r.Offer, "tools_taken_out") < 0 {
		out.ToolPieces, out.ToolYears = number(value(r.Offer, "tool_pieces")), number(value(r.Offer, "amortisation_years"))
		out.PriceOncePaid = number(value(r.Offer, "price_once_paid"))
	}
	return out
}

// Change prints a change request priced from a quote's own lines.
type Change struct {
	Offer *quote.Offer
	*quote.Changed
	Rules Quotes // how findings are printed
}

// Print prints a line for each changed line of the breakdown, and what is asked for the change.
func (r *Change) Print(w io.Writer) {
	fmt.Fprintf(w, "%s: the change by its own lines [%s per piece]\n", offerName(r.Offer), r.Offer.Quote.Currency)
	t := term.Blocks{Corner: "Line", Fixed: []term.Column{{Head: "more"}}}
	add := func(label string, v float64) {
		t.Labels, t.Fixed[0].Cells = append(t.Labels, label), append(t.Fixed[0].Cells, amount(v))
	}
	for _, l := range r.Lines {
		add(term.Cut(inert(l.Line.Text("line")+" "+l.Line.Text("text")), mostOfLine), l.Amount)
	}
	t.Line()
	add("All together", r.Total)
	if r.Asked > 0 {
		add("Asked for it", r.Asked)
	}
	t.Print(w)
	r.Rules.w = w
	for _, f := range r.Found {
		r.Rules.finding(r.Offer, f)
	}
}

// CSV prints a line for each changed line of the breakdown.
func (r *Change) CSV(w io.Writer) {
	t := newCSV(w, "quote", "line", "text", "amount", "currency")
	defer t.flush()
	for _, l := range r.Lines {
		t.row(r.Offer.Quote.Key, l.Line.Text("line"), l.Line.Text("text"), l.Amount, r.Offer.Quote.Currency)
	}
}

// JSON is the answer over the workbook of that name.
func (r *Change) JSON(file string) wire.QuotesChange {
	out := wire.QuotesChange{Answer: wire.Begin[wire.QuotesChange](), File: file, Currency: r.Offer.Quote.Currency, Quote: r.Offer.Quote.Key,
		Lines: []wire.QuoteChange{}, Total: r.Total, Caution: wire.Caution}
	if r.Asked > 0 {
		out.Asked = &r.Asked
	}
	for _, f := range r.Found {
		out.Findings = append(out.Findings, r.Rules.findingJSON(r.Offer, f))
	}
	for _, l := range r.Lines {
		out.Lines = append(out.Lines, wire.QuoteChange{Line: l.Line.Text("line"), Text: l.Line.Text("text"), Amount: l.Amount})
	}
	return out
}
