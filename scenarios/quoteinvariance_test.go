package scenarios

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"piececost/costmodel/quote"
)

// What says the same in other words gives the same answer.

// movesInChain compares the chains and ranks of quotes by their keys. Step 1 and 2 are in the quote's currency, worth a of the other's.
func movesInChain(before, after *quote.Answer, worth map[string]float64) (out []string) {
	for _, o := range after.Offers {
		was := offerOf(before, o.Quote.Key)
		rate := 1.0
		if w, ok := worth[o.Quote.Key]; ok {
			rate = w
		}
		for i, s := range o.Chain {
			b := was.Chain[i]
			if s.Number <= 2 {
				s.Change, s.Sum = s.Change*rate, s.Sum*rate
			}
			if !sameTo(s.Change, b.Change, 1e-9) || !sameTo(s.Sum, b.Sum, 1e-9) || !slices.Equal(s.Assumed, b.Assumed) {
				out = append(out, fmt.Sprintf("%s: step %d is %v, was %v", o.Quote.Key, s.Number, s, b))
			}
		}
		if o.RankBefore != was.RankBefore || o.RankAfter != was.RankAfter {
			out = append(out, o.Quote.Key+": another rank")
		}
	}
	return out
}

func offerOf(a *quote.Answer, key string) *quote.Offer {
	i := slices.IndexFunc(a.Offers, func(o *quote.Offer) bool { return o.Quote.Key == key })
	return a.Offers[i]
}

// movesInFindings compares findings, what is not checked, open points and patterns; rules that go by printed digits may be left out.
func movesInFindings(before, after *quote.Answer, worth map[string]float64, except string) (out []string) {
	left := strings.Fields(except)
	for _, o := range after.Offers {
		was := offerOf(before, o.Quote.Key)
		rate := 1.0
		if w, ok := worth[o.Quote.Key]; ok {
			rate = w
		}
		for _, pair := range [][2]*quote.Offer{{o, was}, {was, o}} {
			for _, f := range pair[0].Findings {
				if slices.Contains(left, f.Rule.Name) {
					continue
				}
				g := finding(pair[1], findingName(f))
				switch {
				case g == nil:
					out = append(out, fmt.Sprintf("%s: %s is found once with %v outside %v to %v", o.Quote.Key, findingName(f), f.Value, f.Low, f.High))
				case !sameTo(f.Effect, g.Effect, 1e-9), f.Rule.Unit != "currency" && !sameTo(f.Value, g.Value, 1e-9):
					out = append(out, fmt.Sprintf("%s: %s has %v and effect %v, and %v and %v", o.Quote.Key, findingName(f), f.Value, f.Effect, g.Value,
						g.Effect))
				}
			}
		}
		if f := finding(o, "r1"); f != nil && !sameTo(f.Value*rate, finding(was, "r1").Value, 1e-9) {
			out = append(out, fmt.Sprintf("%s: r1 has %v", o.Quote.Key, f.Value))
		}
		if len(o.NotChecked) != len(was.NotChecked) || !slices.Equal(o.OpenPoints, was.OpenPoints) || len(o.Patterns) != len(was.Patterns) {
			out = append(out, fmt.Sprintf("%s: other rules are not checked, or other points open", o.Quote.Key))
		}
	}
	return out
}

// stays asks twice and compares.
func stays(t *testing.T, what string, before, after quoteSheets, worth map[string]float64, except string) {
	t.Helper()
	_, a := mustAsk(t, what, before)
	_, b := mustAsk(t, what, after)
	for _, d := range append(movesInChain(a, b, worth), movesInFindings(a, b, worth, except)...) {
		t.Errorf("%s: %s", what, d)
	}
}

// fullQuotes are the sample's quotes with more stated, so that more of the rules are at work.
func fullQuotes(t testing.TB) quoteSheets {
	return smallQuoteSheets(t).edit(t, append([]string{inVanPlant, "Q1 | Price at 150000 | 15.60", "Q1 | Tools in price | 1.00",
		"Q1 | Price after amortisation | 14.90",
		"Q1 | One-off costs | 50000", "Q1/4 | Surcharge | 10", "Q1/4 | On | 1-4", "Q1/1 | Directed | yes", "Q1 | Tool sets | 1", "Q1 | Price month | 2024-12",
		"Q1 | Pieces per pack | 20", "Q1 | Packs per truck | 100", "Q1 | Shifts | 2", "Request | Revision | C", "Q1 | Revision | B",
		"Q1 | Reduction base | value added"}, lanes...)...)
}

func TestQuotesPermuted(t *testing.T) {
	full := fullQuotes(t)
	for _, order := range [][]int{{3, 5, 4}, {4, 3, 5}, {4, 5, 3}, {5, 3, 4}, {5, 4, 3}} {
		other := full.clone()
		for i, row := range other["quotes.csv"] {
			other["quotes.csv"][i] = []string{row[0], row[1], row[2], row[order[0]], row[order[1]], row[order[2]]}
		}
		stays(t, fmt.Sprint("quotes ", order), full, other, nil, "")
	}
	other := full.clone()
	slices.Reverse(other["quotes.csv"][1:])
	stays(t, "rows", full, other, nil, "")
	other = full.clone()
	slices.Reverse(other["quote_lines.csv"][1:])
	stays(t, "lines", full, other, nil, "")
	other = full.clone()
	for i, row := range other["quote_lines.csv"] { // columns
		slices.Reverse(row)
		other["quote_lines.csv"][i] = row
	}
	stays(t, "columns of lines", full, other, nil, "")
}

// moneyRows and moneyColumns hold money of a quote.
var (
	moneyRows = []string{"Price", "Price at 150000", "Freight", "Loading and export", "Packaging", "Tools paid", "Tools in price", "Price after amortisation",
		"One-off costs"}
	moneyColumns = []string{"Rate", "Labour rate", "Machine rate", "Amount"}
)

// scaled multiplies cells of a quote that are numbers.
func (s quoteSheets) scaled(t testing.TB, key string, rows, columns []string, by float64) quoteSheets {
	out := s.clone()
	times := func(text string) string {
		v, err := strconv.ParseFloat(text, 64)
		if err != nil {
			return text
		}
		return strconv.FormatFloat(math.Round(v*by*1e9)/1e9, 'f', -1, 64)
	}
	at := slices.Index(out["quotes.csv"][0], key)
	for _, row := range out["quotes.csv"] {
		if slices.Contains(rows, row[0]) {
			row[at] = times(row[at])
		}
	}
	for _, row := range out["quote_lines.csv"] {
		for _, name := range columns {
			if row[0] == key {
				i := headingAt(t, out["quote_lines.csv"][0], name)
				row[i] = times(row[i])
			}
		}
	}
	return out
}

// TestQuotesInAnotherCurrency: at the table's rate nothing moves but what goes by digits: round amounts (r35).
func TestQuotesInAnotherCurrency(t *testing.T) {
	full := fullQuotes(t)
	for _, c := range []struct {
		key, code, rate string
		by, worth       float64
	}{{"Q1", "USD", "0.5", 2, 0.5}, {"Q1", "USD", "0.8", 1.25, 0.8}, {"Q1", "SEK", "0.1", 10, 0.1}, {"Q3", "HUF", "0.0025", 400, 0.0025}, {"Q2", "EUR", "1",
		0.0398, 1 / 0.0398}} {
		other := full.scaled(t, c.key, moneyRows, moneyColumns, c.by).edit(t, c.key+" | Currency | "+c.code,
			"currencies.csv | + | "+c.code+","+c.rate+",2025-03-01",
			c.key+" | Exchange rate |")
		if c.code == "EUR" {
			other = full.scaled(t, c.key, moneyRows, moneyColumns, c.by).edit(t, "Q2 | Currency | EUR", "Q2 | Exchange rate |")
		}
		stays(t, c.key+" in "+c.code, full.edit(t, c.key+" | Exchange rate |"), other, map[string]float64{c.key: c.worth}, "r35")
	}
	// an amount with its code, in a quote of another currency
	stays(t, "codes", full, full.edit(t, "Q1 | Tools paid | 278000 EUR", "Q1 | Price | 15.46 EUR", "Q1/1 | Amount | 8.58 EUR", "Q1/1 | Rate | 1.33 EUR"),
		nil, "")
	stays(t, "codes", full, full.scaled(t, "Q1", moneyRows, moneyColumns, 10).edit(t, "Q1 | Currency | SEK", "currencies.csv | + | SEK,0.1,2025-03-01",
		"Q1/1 | Amount | 8.58 EUR", "Q1/3 | Amount | 3.05 EUR"), map[string]float64{"Q1": 0.1}, "r35")
}

// TestQuotesInAnotherPriceUnit: a price of a hundred or a thousand pieces. Its last digit is then one of so many.
func TestQuotesInAnotherPriceUnit(t *testing.T) {
	full := fullQuotes(t)
	for _, c := range []struct {
		unit string
		by   float64
	}{{"100", 100}, {"1000", 1000}, {"1", 1}} {
		other := full.scaled(t, "Q1", []string{"Price", "Price at 150000", "Price after amortisation"}, nil, c.by).edit(t, "Q1 | Price unit | "+c.unit)
		other = other.scaled(t, "Q2", []string{"Price"}, nil, c.by).edit(t, "Q2 | Price unit | "+c.unit)
		stays(t, "price of "+c.unit, full, other, nil, "")
	}
}

// TestQuotesInAnotherUnit: masses in g, t and lb, and a price of a tonne. Spans of digits are other ones, so an amount that is a product to
// within them (r2) may be none in other units; of the sample none is so near.
func TestQuotesInAnotherUnit(t *testing.T) {
	full := fullQuotes(t)
	for _, edits := range [][]string{
		{"Q1/1 | Unit | g", "Q1/1 | Quantity | 6450", "Q1/1 | Rate | 0.00133", "Q1/2 | Unit | g", "Q1/2 | Quantity | 400", "Q1/2 | Rate | 0.00024"},
		{"Q1/1 | Unit | t", "Q1/1 | Quantity | 0.00645", "Q1/1 | Rate | 1330", "Q1/2 | Unit | t", "Q1/2 | Quantity | 0.0004", "Q1/2 | Rate | 240"},
		{"Q1/1 | Unit | lb", "Q1/1 | Quantity | " + strconv.FormatFloat(6.45/0.45359237, 'f', -1, 64),
			"Q1/1 | Rate | " + strconv.FormatFloat(1.33*0.45359237, 'f', -1, 64)},
		{"Q1/1 | Rate | 1330 EUR/t"}, {"Q1/1 | Rate | 1.33 EUR/kg"}, {"Q1/2 | Rate | 240 EUR/t"},
	} {
		stays(t, edits[0], full, full.edit(t, edits...), nil, "")
	}
}

// TestQuotesSplitLines: a line in two. More lines have more digits, so the span of their sum (r1) and the share of round ones (r35) are
// others; the arithmetic of a line (r2) is one of each part.
func TestQuotesSplitLines(t *testing.T) {
	full := fullQuotes(t).edit(t, "Q1/4 | On |", "Q1/4 | Surcharge |", "Q1/1 | Directed |")
	for _, edits := range [][]string{
		{"Q1/1 | Quantity | 4.45", "Q1/1 | Amount | 5.92", "Q1/6 | Element | material", "Q1/6 | Material | M07", "Q1/6 | Quantity | 2", "Q1/6 | Unit | kg",
			"Q1/6 | Rate | 1.33",
			"Q1/6 | Amount | 2.66"},
		{"Q1/2 | Quantity | 0.30", "Q1/2 | Amount | -0.07", "Q1/6 | Element | scrap credit", "Q1/6 | Quantity | 0.10", "Q1/6 | Unit | kg",
			"Q1/6 | Rate | 0.24", "Q1/6 | Amount | -0.03"},
		{"Q1/4 | Amount | 1.19", "Q1/6 | Element | overhead", "Q1/6 | Amount | 0.23"},
		{"Q1/5 | Amount | 1.19", "Q1/6 | Element | profit", "Q1/6 | Amount | 1.32"},
		{"Q2/6 | Amount | 21.19", "Q2/7 | Element | tooling", "Q2/7 | Amount | 20.11"},
		{"Q3/5 | Amount | 1.11", "Q3/7 | Element | SG&A", "Q3/7 | Amount | 0.37"},
		{"Q1/3 | Amount | 2.93", "Q1/6 | Element | set-up", "Q1/6 | Amount | 0.12"},
	} {
		stays(t, edits[0], full, full.edit(t, edits...), nil, "r35")
	}
	base := fullQuotes(t).edit(t, "Q1/4 | Surcharge | 12.316", "Q1/4 | On | 1-3", "Q1/1 | Directed |") // a surcharge on a split line takes both
	stays(t, "on", base, base.edit(t, "Q1/3 | Amount | 2.93", "Q1/6 | Element | set-up", "Q1/6 | Amount | 0.12", "Q1/4 | On | 1-3;set-up"), nil, "r35")
}
