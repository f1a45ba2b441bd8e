package scenarios

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// Cells of quotes as a person reads them, for the reference.

type refLine map[string]string

// in is a cell of the sheet Quotes; "" where it is empty or not there.
func (s quoteSheets) in(column, name string) string {
	rows := s["quotes.csv"]
	at := slices.Index(rows[0], column)
	for _, row := range rows {
		if row[0] == name {
			return row[at]
		}
	}
	return ""
}

// unit is that of a row of the sheet Quotes.
func (s quoteSheets) unit(name string) string {
	for _, row := range s["quotes.csv"] {
		if row[0] == name {
			return row[1]
		}
	}
	return ""
}

// worth is a currency's rate in the sheet Currencies; the model currency is EUR.
func (s quoteSheets) worth(t testing.TB, code string) float64 {
	if code == "EUR" || code == "" {
		return 1
	}
	for _, row := range s["currencies.csv"] {
		if row[0] == code {
			return refNumber(t, row[1])
		}
	}
	t.Fatal("no rate of ", code)
	return 0
}

func refNumber(t testing.TB, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// refNumberOr is a number of a cell, NaN of an empty one.
func refNumberOr(text string) float64 {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

// num is a number of a quote, NaN where it states none. Money with a code is turned into the quote's own.
func (q *refQuote) num(t testing.TB, column, name string) float64 {
	text := q.sheets.in(column, name)
	switch {
	case text == "" || text == "included":
		return math.NaN()
	case strings.HasSuffix(text, " EUR"):
		return refNumber(t, strings.TrimSuffix(text, " EUR")) / q.rate
	}
	return refNumber(t, text)
}

func (l refLine) num(t testing.TB, name string) float64 {
	switch text := l[name]; {
	case text == "":
		return math.NaN()
	case strings.HasSuffix(text, " EUR/t"): // of a line in kg
		return refNumber(t, strings.TrimSuffix(text, " EUR/t")) / 1000
	default:
		return refNumber(t, strings.TrimSuffix(text, " %"))
	}
}

var kilograms = map[string]float64{"kg": 1, "g": 0.001, "t": 1000, "lb": 0.45359237} // the pound avoirdupois: international yard and pound agreement, 1959

// kg is what a line's quantity weighs.
func (l refLine) kg(t testing.TB) float64 {
	if f, ok := kilograms[l["Unit"]]; ok {
		return l.num(t, "Quantity") * f
	}
	return math.NaN()
}

// sum adds up what lines of given elements have, NaN where none has it.
func (q *refQuote) sum(of func(refLine) float64, elements ...string) float64 {
	total, any := 0.0, false
	for _, l := range q.lines {
		if v := of(l); slices.Contains(elements, l["Element"]) && !math.IsNaN(v) {
			total += v
			any = true
		}
	}
	if !any {
		return math.NaN()
	}
	return total
}

// or is the first that is stated.
func or(values ...float64) float64 {
	for _, v := range values {
		if !math.IsNaN(v) {
			return v
		}
	}
	return math.NaN()
}

// is is a value where a condition holds, and nothing where it does not.
func is(yes bool, v float64) float64 {
	if yes {
		return v
	}
	return 0
}

// refMonths are the months that a text means, counted from the year 0.
func refMonths(t testing.TB, text string) []int {
	if text == "" {
		return nil
	}
	year := int(refNumber(t, text[:4]))
	if text[5] == 'Q' {
		first := year*12 + 3*(int(text[6]-'0')-1)
		return []int{first, first + 1, first + 2}
	}
	return []int{year*12 + int(refNumber(t, text[5:7])) - 1}
}

// listPrice is the mean of a price of the sheet Price months over months, each of the last row up to it.
func (s quoteSheets) listPrice(t testing.TB, grade string, months []int, column int) float64 {
	if len(months) == 0 {
		return math.NaN()
	}
	total := 0.0
	for _, m := range months {
		best, price := 0, math.NaN()
		for _, row := range s["price_months.csv"][1:] {
			if at := refMonths(t, row[1])[0]; row[0] == grade && at <= m && at > best {
				best, price = at, math.NaN()
				if row[column] != "" {
					price = refNumber(t, row[column])
				}
			}
		}
		total += price
	}
	return total / float64(len(months))
}

// laneOf is the row of the sheet Freight lanes for a place and term.
func (s quoteSheets) laneOf(place, term string) (row []string) {
	for _, r := range s["freight_lanes.csv"][1:] {
		if place != "" && r[0] == place && (r[1] == "" || r[1] == term) {
			return r
		}
	}
	return nil
}

// refIncludes are what an Incoterms 2020 rule has the seller pay: loading and export, freight, insurance, duty.
func refIncludes(term string) (loading, freight, insurance, duty bool) {
	switch term {
	case "EXW":
		return false, false, false, false
	case "FCA", "FAS", "FOB":
		return true, false, false, false
	case "CPT", "CFR":
		return true, true, false, false
	case "CIP", "CIF", "DAP", "DPU":
		return true, true, true, false
	}
	return true, true, true, true // DDP
}

// crf is the annuity of 1 at an interest over years.
func crf(i, years float64) float64 {
	if i == 0 {
		return 1 / years
	}
	return i / (1 - math.Pow(1+i, -years))
}

func (l refLine) amount(t testing.TB) float64 { return or(l.num(t, "Agreed"), l.num(t, "Amount")) }

// elementsInPrice are those that the price is the sum of.
var elementsInPrice = []string{"material", "scrap credit", "purchased parts", "process", "set-up", "rejects", "tooling", "overhead", "SG&A", "profit",
	"packaging", "freight", "other"}

// lane is a number of the quote's freight lane, NaN where it has none.
func (q *refQuote) lane(t testing.TB, column int) float64 {
	if row := q.sheets.laneOf(q.sheets.in(q.key, "Place"), q.term(q.key)); column < len(row) && row[column] != "" {
		return refNumber(t, row[column])
	}
	return math.NaN()
}
