package scenarios

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"piececost/costmodel"
	"piececost/costmodel/table"
)

var hostileTexts = []string{`=HYPERLINK("http://x","y")`, "=1+1", "@SUM(A1)", "-2+3", "+4", "about 14", "12,50", "1.234,5", "1e308", "-1e308", "1e-308",
	"NaN", "Inf", "0x10", "1_000",
	"\x00\x01\x1f", "\ufeff14", "\u202e41", " ", "é̂", strings.Repeat("x", 32767), strings.Repeat("9", 400), strings.Repeat("(", 2000), "14 EUR/kg", "14 %",
	"14 XXX", "included",
	"INCLUDED ", "2025-13-45", "14.02.2025", "2025-Q5", "1-", "-", ",", "1-99999999999", "#REF!", "TRUE", "'14"}

// TestQuoteHostileCells puts hostile texts into every row of a quote and every column of a line. Nothing panics; what can't be taken is
// an error at its cell, and what is taken gives numbers.
func TestQuoteHostileCells(t *testing.T) {
	sample := smallQuoteSheets(t).edit(t, "delete | Q3", "Q1/3 | Directed | yes", "Q1 | Plant |", "Q1 | Place |", "Q1 | Revision |",
		"Q1 | Price at 150000 | 15.2", "Q1/4 | Surcharge | 3",
		"Q1/4 | On | 1-2", "Q1 | Yearly reduction | 2", "Q1 | Shifts | 2", "Q1 | Duty [%] | 2", "Request | Duty [%] | 2")
	base := costmodel.New(mustRead(t, sample), testLibrary(t))
	step := 3
	if *allMutants {
		step = 1
	} else if testing.Short() || raceDetector {
		step = 11
	}
	n := 0
	for _, file := range []string{"quotes.csv", "quote_lines.csv"} {
		for r, row := range sample[file] {
			if file == "quote_lines.csv" && r != 0 && r != 3 && r != 4 {
				continue
			}
			for k := range row {
				if n++; (n*7)%5 != 0 && *showMutants == "" && !*allMutants { // a fifth of the cells, all with -all-mutants
					continue
				}
				for i := n % step; i < len(hostileTexts); i += step {
					s := sample.clone()
					s[file][r][k] = hostileTexts[i]
					what := fmt.Sprintf("%s, row %d, column %d: %.20q", file, r+1, k+1, hostileTexts[i])
					a, ds := askOf(t, base, mustRead(t, s))
					checkAnswer(t, what, a, ds)
				}
			}
		}
	}
}

// TestQuoteMistakes: mistakes that people make, each an error at its cell.
func TestQuoteMistakes(t *testing.T) {
	sample := smallQuoteSheets(t)
	at := func(s quoteSheets, row, column string) (int, int) {
		k := slices.Index(s["quotes.csv"][0], column)
		for i, r := range s["quotes.csv"] {
			if r[0] == row {
				return i + 1, k + 1
			}
		}
		return 1, k + 1
	}
	for _, c := range []struct{ column, row, text string }{
		{"Q1", "Price", "about 14"}, {"Q1", "Price", "1e308"}, {"Q1", "Price", "-1"}, {"Q1", "Price", "12,50"}, {"Q1", "Price", "14 kg"}, {"Q1", "Price",
			"2 * payment_days"}, {"Q1", "Price", "5 - 9"}, {"Q1", "Price", "1 / 0"}, {"Q2", "Tool pieces", "1-99999999999"}, {"Q1", "Annual volume", "0"},
		{"Q1", "Annual volume", "plenty"}, {"Q1", "Currency", "Euro money"}, {"Q1", "Currency", "USD"}, {"Q1", "Delivery term", "free house"}, {"Q1",
			"Tool owner", "nobody"},
		{"Q1", "Index clause", "perhaps"}, {"Q1", "Scrap", "thrown away"}, {"Q1", "Payment days", "-3"}, {"Q1", "Payment days", "60 kg"}, {"Q1",
			"Yearly reduction", "2 EUR"},
		{"Q2", "Exchange rate", "0"}, {"Request", "Programme life", "-6"},
		{"Request", "Delivery term", "DAT"}, {"Request", "Peak factor", "0.5"},
	} {
		s := sample.edit(t, c.column+" | "+c.row+" | "+c.text)
		row, column := at(s, c.row, c.column)
		a, ds := askBook(t, s.book(t))
		if a != nil || !placed(ds, "Quotes", row, column) {
			t.Errorf("%s of %s is %q: no error at row %d, column %d: %v", c.row, c.column, c.text, row, column, ds)
		}
	}
	for _, c := range []struct{ line, column, text string }{
		{"Q1/3", "Time", "fast"}, {"Q1/3", "Time", "1e308"}, {"Q1/3", "Pieces per cycle", "0"}, {"Q1/3", "Reject", "100"}, {"Q1/3", "Element", "work"},
		{"Q1/3", "Element", ""},
		{"Q1/3", "Amount", "three"}, {"Q1/3", "Amount", "14 kg"}, {"Q1/1", "Quantity", "-1"}, {"Q1/1", "Rate", "1.33 EUR/h"}, {"Q1/3", "Line", ""},
		{"Q1/3", "Line", "2"}, {"Q1/3", "Quote", "Q9"}, {"Q1/3", "Quote", ""},
	} {
		s := sample.edit(t, "Q1/4 | Surcharge | 5", "Q1/4 | On | 1", c.line+" | "+c.column+" | "+c.text)
		row := slices.IndexFunc(sample["quote_lines.csv"], func(r []string) bool { return r[0]+"/"+r[1] == c.line }) + 1
		column := headingAt(t, s["quote_lines.csv"][0], c.column) + 1
		if c.column == "Element" && c.text == "" {
			column = 1
		}
		a, ds := askBook(t, s.book(t))
		if a != nil || !placed(ds, "Quote lines", row, column) {
			t.Errorf("%s of %s is %q: no error at row %d, column %d: %v", c.column, c.line, c.text, row, column, ds)
		}
	}
	a, ds := askBook(t, sample.edit(t, "Q1/1 | Unit | stones").book(t))
	if a == nil || !slices.ContainsFunc(ds, func(d table.Diagnostic) bool {
		return d.Place.Sheet == "Quote lines" && d.Place.Row == 2 && d.Place.Col == 9
	}) {
		t.Errorf("a unit that is none: %v", ds)
	}
}

// TestQuoteArithmetic: a cell that holds arithmetic is the number that it comes to, also where the program looks at it itself.
func TestQuoteArithmetic(t *testing.T) {
	s := smallQuoteSheets(t).edit(t, "Q1 | Tools in price | 1", "Q1 | Price after amortisation | 14.46")
	stays(t, "arithmetic", s, s.edit(t, "Q1 | Price | 15 + 0.46", "Q1 | Annual volume | 100000 + 20000", "Q1 | Yearly reduction | =1 + 1",
		"Q1 | Tools paid | 139000 + 139000",
		"Q1/3 | Time | 20 + 6", "Q1/3 | Reject | 0.8 + 0.8", "Q1/2 | Quantity | 0.2 + 0.2", "Q2 | Tools paid | \"200000 EUR\" + \"75000 EUR\"",
		"Q1 | Price after amortisation | 15.46 - 1"), nil, "")
}

// TestQuoteHeadings: quotes that are called like columns of ours, twice, or not at all.
func TestQuoteHeadings(t *testing.T) {
	sample := smallQuoteSheets(t)
	for _, c := range []struct {
		heading string
		refused bool
	}{{"Unit", true}, {"Quantity", true}, {"Request", true}, {"Q1", true}, {"q1", true}, {"Source", true}, {"Note", true}, {"", true}, {"Price", false},
		{"Material", false}, {"Quote", false},
		{"=1+1", false}, {"@x", false}, {strings.Repeat("S", 32767), false}, {"A/B | C", false}, {"Q3 [EUR]", false}, {"007", false}, {"*", false}} {
		s := sample.clone()
		s["quotes.csv"][0][5] = c.heading
		for i, row := range s["quote_lines.csv"] {
			if row[0] == "Q3" {
				s["quote_lines.csv"][i][0] = c.heading
			}
		}
		a, ds := askCase(t, mustRead(t, s))
		checkAnswer(t, fmt.Sprintf("a quote called %.20q", c.heading), a, ds)
		if refused := a == nil; refused != c.refused {
			t.Errorf("a quote called %.20q: refused %v, want %v: %v", c.heading, refused, c.refused, ds)
		} else if a != nil && (len(a.Offers) != 3 || len(a.Offers[2].Lines) != 6) {
			t.Errorf("a quote called %.20q is not taken with its lines", c.heading)
		}
	}
	for _, file := range []string{"quotes.csv", "quote_lines.csv"} {
		for _, rows := range [][][]string{nil, {{}}, {{""}}, {{"x"}}, sample[file][:1], {sample[file][0][1:]}} {
			s := sample.clone()
			s[file] = rows
			a, ds := askCase(t, mustRead(t, s))
			if a == nil && len(ds) == 0 && len(rows) > 0 && strings.Join(rows[0], "") != "" {
				t.Errorf("%s with %q: neither an answer nor an error", file, rows)
			}
		}
	}
}

// TestQuoteMany: 200 quotes of 25 lines each; each is what the quote alone is, but for the rules that look at the others.
func TestQuoteMany(t *testing.T) {
	if raceDetector {
		t.Skip("finds nothing more in many than in three")
	}
	s := smallQuoteSheets(t)
	var edits []string
	for i := range 197 {
		key := fmt.Sprintf("S%d", i)
		edits = append(edits, key+" | Currency | EUR", fmt.Sprintf("%s | Price | %d", key, 10+i%7), key+" | Annual volume | 120000")
	}
	s = s.edit(t, edits...)
	for i := range 197 {
		for line := range 25 {
			row := make([]string, len(s["quote_lines.csv"][0]))
			row[0], row[1], row[2], row[headingAt(t, s["quote_lines.csv"][0], "Amount")] = fmt.Sprintf("S%d", i), strconv.Itoa(line+1), "other", "0.40"
			s["quote_lines.csv"] = append(s["quote_lines.csv"], row)
		}
	}
	a, ds := askCase(t, mustRead(t, s))
	if a == nil {
		t.Fatal(ds)
	}
	if len(a.Offers) != 200 || len(a.Offers[100].Lines) != 25 {
		t.Fatal("not all came through")
	}
	f := finding(a.Offers[3+4], "r1") // of 14 a piece with lines of 10
	if f == nil || !sameTo(f.Effect, 4, 1e-9) {
		t.Errorf("r1 is %v", f)
	}
	_, want := mustAsk(t, "three", smallQuoteSheets(t))
	for i, o := range want.Offers {
		for k, st := range o.Chain {
			if got := a.Offers[i].Chain[k]; !sameTo(got.Change, st.Change, 1e-12) || !sameTo(got.Sum, st.Sum, 1e-12) {
				t.Errorf("%s: step %d is %v, was %v", o.Quote.Key, st.Number, got, st)
			}
		}
	}
}

// FuzzQuotes reads any text as the sheets Quotes and Quote lines.
func FuzzQuotes(f *testing.F) {
	s := smallQuoteSheets(f)
	files := s.files(f)
	base := costmodel.New(mustRead(f, s), testLibrary(f))
	f.Add(string(files["quotes.csv"].Data), string(files["quote_lines.csv"].Data))
	for _, edit := range []string{"Q1 | Price | 1e308", "Q1 | Price unit | 1e-9", "Q1/3 | On | 1-2;;-", "Q1 | Delivery term | EXW",
		"Request | Programme life | 0.1", "Q1 | Price at 9 | 1",
		"Q1 | Yearly reduction | -100", "Q1 | Tool life | 1e-9", "Q1/1 | Unit | lb"} {
		files := s.edit(f, edit).files(f)
		f.Add(string(files["quotes.csv"].Data), string(files["quote_lines.csv"].Data))
	}
	f.Add("Quantity,Unit,Request,A\nPrice,,,1\n", "Quote,Line,Element,Amount\nA,1,process,1\n")
	f.Fuzz(func(t *testing.T, quotes, lines string) {
		files["quotes.csv"], files["quote_lines.csv"] = &fstest.MapFile{Data: []byte(quotes)}, &fstest.MapFile{Data: []byte(lines)}
		c, err := ReadTables(files, "quotes")
		if err != nil {
			t.Skip()
		}
		a, ds := askOf(t, base, c)
		if a != nil {
			checkAnswer(t, "fuzz", a, ds)
		}
	})
}
