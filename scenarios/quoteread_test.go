package scenarios

import (
	"io/fs"
	"math"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"piececost/costmodel/quote"
	"piececost/templates"
)

// chainOf are the steps of each offer's chain, one after the other.
func chainOf(a *quote.Answer) (out []float64) {
	for _, o := range a.Offers {
		for _, s := range o.Chain {
			out = append(out, s.Change, s.Sum)
		}
		out = append(out, float64(len(o.Findings)), float64(len(o.OpenPoints)), float64(len(o.NotChecked)))
	}
	return out
}

// sameChains holds two answers against each other to the last digits; counts of findings too where withCounts.
func sameChains(t *testing.T, what string, got, want []float64) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%s: %d numbers, want %d", what, len(got), len(want))
	}
	for i := range got {
		if math.IsNaN(got[i]) && math.IsNaN(want[i]) || math.Abs(got[i]-want[i]) <= 1e-9*math.Max(1, math.Abs(want[i])) {
			continue
		}
		t.Errorf("%s: number %d is %v, want %v", what, i, got[i], want[i])
	}
}

// answerIn answers for the quotes of a workbook.
func answerIn(t *testing.T, path string) *quote.Answer {
	t.Helper()
	a, ds, err := quote.Ask(t.Context(), quotesIn(t, path))
	reportProblems(t, ds)
	if err != nil || a == nil {
		t.Fatal("no answer", err)
	}
	return a
}

// TestQuotesOfWorkbooks: the quotes of the sample are the same from its tables, from the workbook that new makes, from that saved by
// LibreOffice, and from an empty workbook that is filled by import.
func TestQuotesOfWorkbooks(t *testing.T) {
	want := chainOf(askQuotes(t, quoteTables(t)))
	made := sampleBook(t)
	sameChains(t, "made", chainOf(answerIn(t, made)), want)

	filled := startedFrom(t, "empty")
	sample, err := fs.Sub(templates.Files, "samples/battery-tray")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := filled.Import(sample, ImportOptions{Library: testLibrary(t)}); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "filled.xlsx")
	if err := filled.Save(t.Context(), path, SaveOptions{}); err != nil {
		t.Fatal(err)
	}
	sameChains(t, "imported", chainOf(answerIn(t, path)), want)
	sameChains(t, "saved by LibreOffice", chainOf(answerIn(t, filepath.Join(recalculate(t, made), "tray.xlsx"))), want)
}

// TestQuoteUnitsConvert: a price per 100 or 1,000 pieces, masses in grams and pounds, a price per tonne, days in weeks and a volume per month
// state the same quote.
func TestQuoteUnitsConvert(t *testing.T) {
	want := chainOf(askQuotes(t, quoteTables(t)))
	for what, change := range map[string][]string{
		"price per 100":       {"quotes.csv", "Price,currency,,15.46,412.00,12.15", "Price,currency,,1546,412.00,12150\nPrice unit,,,100,,1000"},
		"grams":               {"quote_lines.csv", "M07,6.45,kg,1.33", "M07,6450,g,0.00133"},
		"pounds":              {"quote_lines.csv", "M07,6.45,kg,1.33", "M07,14.219815909924753,lb,0.6032778521"},
		"price per tonne":     {"quote_lines.csv", "M07,6.45,kg,1.33", "M07,6.45,kg,1330 EUR/t"},
		"weeks and months":    {"quotes.csv", "Payment days,d,60,60,45,30", "Payment days,d,1440 h,60,1080 h,720 h"},
		"volume in its unit":  {"quotes.csv", "Annual volume,1/yr,120000,120000,120000,180000", "Annual volume,1/month,10000,10000,10000,15000"},
		"tools in EUR":        {"quotes.csv", "Tools paid,currency,,278000,275000 EUR,60000", "Tools paid,EUR,,278000,275000,60000"},
		"the request in CZK":  {"quotes.csv", "Packaging,currency,0.18,included", "Packaging,currency,4.522613065326633 CZK,included"},
		"a quote in order":    {"quotes.csv", "Scrap,,,shown,shown,shown", "Scrap,,,Shown,shown,shown"},
		"a line's own sign":   {"quote_lines.csv", ",0.40,kg,0.24,", ",0.4,kg,0.24,"},
		"percent as a number": {"quotes.csv", "Yearly reduction,%,,2.0,3.0,5.0", "Yearly reduction,1,,0.02,0.03,0.05"},
	} {
		files := fstest.MapFS{}
		for name, f := range quoteTables(t) {
			files[name] = f
		}
		text := string(files[change[0]].Data)
		if !strings.Contains(text, change[1]) {
			t.Fatalf("%s: no %q", what, change[1])
		}
		files[change[0]] = &fstest.MapFile{Data: []byte(strings.Replace(text, change[1], change[2], 1))}
		got := chainOf(askQuotes(t, files))
		sameChains(t, what, got[:len(got)-3], want[:len(want)-3])
	}
}
