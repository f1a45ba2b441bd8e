package scenarios

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
	"piececost/costmodel/quote"
	"piececost/costmodel/table"
)

// Workbooks of quotes as a person types them.

// sheetName is the sheet of a table's file.
func sheetName(file string) string {
	for i := range table.Layouts {
		if table.Normalise(table.Layouts[i].Sheet)+".csv" == file {
			return table.Layouts[i].Sheet
		}
	}
	return ""
}

// book puts tables into a workbook as a person types them: what looks like a number is one.
func (s quoteSheets) book(t testing.TB) *excelize.File {
	t.Helper()
	f := excelize.NewFile()
	for file, rows := range s {
		name := sheetName(file)
		if _, err := f.NewSheet(name); err != nil {
			t.Fatal(file, err)
		}
		for i, row := range rows {
			for k, text := range row {
				at, _ := excelize.CoordinatesToCellName(k+1, i+1)
				var v any = text
				if number, err := strconv.ParseFloat(text, 64); err == nil && i > 0 {
					v = number
				}
				if text != "" {
					if err := f.SetCellValue(name, at, v); err != nil {
						t.Fatal(err)
					}
				}
			}
		}
	}
	if err := f.DeleteSheet("Sheet1"); err != nil {
		t.Fatal(err)
	}
	return f
}

// askBook reads a workbook and asks; a fault of the file is an error. A quote library that is refused would be one of ours.
func askBook(t testing.TB, f *excelize.File) (*quote.Answer, table.Diagnostics) {
	t.Helper()
	data, err := f.WriteToBuffer()
	if err != nil {
		t.Fatal(err)
	}
	w, err := From("quotes.xlsx", data.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	c, err := w.Case()
	if err != nil {
		t.Fatal(err)
	}
	return askCase(t, c)
}

func askCase(t testing.TB, c *table.Case) (*quote.Answer, table.Diagnostics) {
	t.Helper()
	return askOf(t, costmodel.New(c, testLibrary(t)), c)
}

// askOf asks with the sheets of quotes of a case and a model of the same case but for those.
func askOf(t testing.TB, of *costmodel.Model, c *table.Case) (*quote.Answer, table.Diagnostics) {
	t.Helper()
	m := *of
	m.Case = c
	q := costmodel.ReadQuotes(&m, quoteLibrary(t))
	if q == nil {
		return nil, m.Diagnostics
	}
	a, ds, err := quote.Ask(t.Context(), q)
	if err != nil {
		t.Fatal(err)
	}
	return a, append(slices.Clone(m.Diagnostics), ds...)
}

// placed tells whether an error stands at a cell.
func placed(ds table.Diagnostics, sheet string, row, column int) bool {
	return slices.ContainsFunc(ds, func(d table.Diagnostic) bool {
		return d.Severity == table.Error && d.Place.Sheet == sheet && d.Place.Row == row && d.Place.Col == column && d.Summary != "" && len(d.Summary) < 400
	})
}

// checkAnswer: an answer has numbers, or the errors say why there is none, each at a cell.
func checkAnswer(t testing.TB, what string, a *quote.Answer, ds table.Diagnostics) {
	t.Helper()
	if a == nil {
		if !ds.HasErrors() {
			t.Errorf("%s: neither an answer nor an error", what)
		}
		for _, d := range ds {
			if d.Severity == table.Error && (d.Place.Sheet == "" && d.Place.File == "" || len(d.Summary) > 2000 || strings.HasSuffix(d.Place.File, ".yaml")) {
				t.Errorf("%s: %v", what, d)
			}
		}
		return
	}
	for _, o := range a.Offers {
		for _, s := range o.Chain {
			for _, v := range []float64{s.Change, s.Sum} {
				if math.IsInf(v, 0) || math.IsNaN(v) && (s.Number != 1 && s.Number != 3 && s.Number != 2 && s.Number < 11 || math.IsNaN(s.Change) &&
					math.IsNaN(s.Sum)) {
					t.Errorf("%s: %s, step %d is %v", what, o.Quote.Key, s.Number, s)
				}
			}
		}
		for _, f := range o.Findings {
			if math.IsNaN(f.Value) || math.IsInf(f.Value, 0) || math.IsInf(f.Effect, 0) {
				t.Errorf("%s: %s has %v, %v", what, findingName(f), f.Value, f.Effect)
			}
		}
	}
}

func mustRead(t testing.TB, s quoteSheets) *table.Case {
	t.Helper()
	c, err := ReadTables(s.files(t), "quotes")
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// TestQuoteDates: a date that a spreadsheet program keeps as a number is the day that it shows.
func TestQuoteDates(t *testing.T) {
	s := smallQuoteSheets(t)
	_, want := mustAsk(t, "texts", s)
	f := s.book(t)
	style, err := f.NewStyle(&excelize.Style{NumFmt: 14})
	if err != nil {
		t.Fatal(err)
	}
	for i, row := range s["quotes.csv"] {
		if !strings.Contains(row[0], "date") && row[0] != "Valid until" {
			continue
		}
		for k, text := range row {
			day, err := time.Parse(time.DateOnly, text)
			if err != nil {
				continue
			}
			at, _ := excelize.CoordinatesToCellName(k+1, i+1)
			if err := f.SetCellValue("Quotes", at, day); err != nil {
				t.Fatal(err)
			}
			if err := f.SetCellStyle("Quotes", at, at, style); err != nil {
				t.Fatal(err)
			}
		}
	}
	a, ds := askBook(t, f)
	if a == nil {
		t.Fatal(ds)
	}
	for _, d := range append(movesInChain(want, a, nil), movesInFindings(want, a, nil, "")...) {
		t.Error(d)
	}
}

// TestQuoteMergedCells: merged cells, formulas and percent formats in a workbook of quotes.
func TestQuoteMergedCells(t *testing.T) {
	s := smallQuoteSheets(t)
	for _, area := range [][2]string{{"D3", "F3"}, {"A2", "C2"}, {"A1", "F1"}, {"C4", "D9"}, {"A3", "A5"}} {
		f := s.book(t)
		if err := f.MergeCell("Quotes", area[0], area[1]); err != nil {
			t.Fatal(err)
		}
		a, ds := askBook(t, f)
		checkAnswer(t, area[0], a, ds)
	}
	_, want := mustAsk(t, "texts", s)
	f := s.book(t)
	percent, err := f.NewStyle(&excelize.Style{NumFmt: 10})
	if err != nil {
		t.Fatal(err)
	}
	row := slices.IndexFunc(s["quotes.csv"], func(r []string) bool { return r[0] == "Yearly reduction" }) + 1
	for i, column := range []string{"D", "E", "F"} {
		at := column + strconv.Itoa(row)
		if err := f.SetCellValue("Quotes", at, []float64{0.02, 0.03, 0.05}[i]); err != nil {
			t.Fatal(err)
		}
		if err := f.SetCellStyle("Quotes", at, at, percent); err != nil {
			t.Fatal(err)
		}
	}
	if err := f.SetCellFormula("Quotes", "D3", "=15+0.46"); err != nil { // its value is stored beside it
		t.Fatal(err)
	}
	a, ds := askBook(t, f)
	if a == nil {
		t.Fatal(ds)
	}
	for _, d := range append(movesInChain(want, a, nil), movesInFindings(want, a, nil, "")...) {
		t.Error(d)
	}
}
