package scenarios

import (
	"bytes"
	"crypto/sha256"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
	"piececost/costmodel/quote"
)

// quotesOf reads the quotes of tables.
func quotesOf(t testing.TB, files fstest.MapFS) *costmodel.Quotes {
	t.Helper()
	c, err := ReadTables(files, "quotes")
	if err != nil {
		t.Fatal(err)
	}
	lib := testLibrary(t)
	quotes, err := lib.Quotes()
	if err != nil {
		t.Fatal(err)
	}
	return costmodel.ReadQuotes(costmodel.New(c, lib), quotes)
}

// formOf writes the form for the request of tables and returns its path.
func formOf(t testing.TB, files fstest.MapFS) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "form.xlsx")
	if err := WriteQuoteForm(t.Context(), path, quotesOf(t, files), SaveOptions{}); err != nil {
		t.Fatal(err)
	}
	return path
}

// fillForm fills in what a supplier offers, Quotation by labels and Price breakdown by headings, a line a map.
func fillForm(t testing.TB, path string, offered map[string]any, lines []map[string]any) {
	t.Helper()
	f, err := excelize.OpenFile(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	set := func(sheet string, col, row int, value any) {
		cell, err := excelize.CoordinatesToCellName(col, row)
		if err == nil {
			err = f.SetCellValue(sheet, cell, value)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	rows, err := f.GetRows("Quotation")
	if err != nil {
		t.Fatal(err)
	}
	next := len(rows) + 1
	for i, row := range rows {
		if len(row) > 0 && row[0] == "Exchange rate date" {
			next = i + 2
		}
	}
	for _, label := range slices.Sorted(maps.Keys(offered)) {
		at := slices.IndexFunc(rows, func(r []string) bool { return len(r) > 0 && r[0] == label }) + 1
		if at == 0 {
			at, next = next, next+1
			set("Quotation", 1, at, label)
		}
		set("Quotation", 4, at, offered[label])
	}
	head, err := f.GetRows("Price breakdown")
	if err != nil {
		t.Fatal(err)
	}
	for i, line := range lines {
		for _, heading := range slices.Sorted(maps.Keys(line)) {
			at := slices.Index(head[0], heading) + 1
			if at == 0 {
				t.Fatalf("the form has no column %q", heading)
			}
			set("Price breakdown", at, i+2, line[heading])
		}
	}
	if err := f.Save(); err != nil {
		t.Fatal(err)
	}
}

// editBook changes a workbook.
func editBook(t testing.TB, path string, edit func(f *excelize.File) error) {
	t.Helper()
	f, err := excelize.OpenFile(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := edit(f); err != nil {
		t.Fatal(err)
	}
	if err := f.Save(); err != nil {
		t.Fatal(err)
	}
}

// sampleBook saves the sample as `piececost new` makes it.
func sampleBook(t testing.TB) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "tray.xlsx")
	if err := startedFrom(t, "battery-tray").Save(t.Context(), path, SaveOptions{}); err != nil {
		t.Fatal(err)
	}
	return path
}

// importInto takes a form into a workbook and saves it.
func importInto(t testing.TB, book string, o QuoteImport) (*ImportReport, error) {
	t.Helper()
	o.Library = testLibrary(t)
	w, err := OpenStarter(book)
	if err != nil {
		t.Fatal(err)
	}
	report, err := w.ImportQuote(o)
	if err != nil {
		return nil, err
	}
	return report, w.Save(t.Context(), book, SaveOptions{Replace: true})
}

// theirOffer is an offer as a supplier fills it in; money in CZK but for the tools.
var (
	theirOffer = map[string]any{"Currency": "CZK", "Price": 405.5, "Annual volume": 120000, "Supplier": "Supplier West (invented)", "Quote date": "2025-02-20",
		"Delivery term": "FCA", "Freight": "included", "Packaging": 3.5, "Payment days": 30, "Transit days": 2, "Tools paid": "275000 EUR", "Tool life": 450000,
		"Yearly reduction": 0.025, "Base month": "2025-Q1", "Revision": "007", "Price at 150000": 398.25, "Colour": "blue"}
	theirLines = []map[string]any{
		{"Element": "material", "Text": "=SUM(1,2)", "Material": "M07", "Quantity": 14.2, "Unit": "lb", "Rate": 15.7, "Amount": 222.94},
		{"Element": "scrap credit", "Quantity": 0.5, "Unit": "kg", "Rate": 9, "Amount": -4.5},
		{"Element": "process", "Text": "all operations", "Time [s]": 1.125, "Crew": 1, "Labour rate [currency/h]": 560, "Reject [%]": 0.016, "Amount": 60.1},
		{"Element": "overhead", "Surcharge [%]": 0.12, "On": "1-2,4", "Amount": 60.12},
		{"Element": "SG&A", "Amount": 66.84},
	}
)

// TestQuoteFormRoundTrip: a form that is filled in, its columns moved, a unit changed, rows and a remark of the supplier's own added, saved by
// LibreOffice, comes in as the quote that was filled in; the form is not changed, and each value names the cell that it comes from.
func TestQuoteFormRoundTrip(t *testing.T) {
	form := formOf(t, sampleFiles(t))
	fillForm(t, form, theirOffer, theirLines)
	editBook(t, form, func(f *excelize.File) error {
		if err := f.InsertCols("Quotation", "A", 1); err != nil {
			return err
		}
		if err := f.SetCellValue("Quotation", "A9", "our own remark"); err != nil {
			return err
		}
		rows, err := f.GetRows("Quotation")
		for i, r := range rows {
			if len(r) > 1 && r[1] == "Transit days" {
				cell, _ := excelize.CoordinatesToCellName(3, i+1)
				remark, _ := excelize.CoordinatesToCellName(6, i+1)
				if err := f.SetCellValue("Quotation", remark, "door to door"); err != nil {
					return err
				}
				if err := f.SetCellValue("Quotation", cell, "wk"); err != nil {
					return err
				}
			}
		}
		if err != nil {
			return err
		}
		if err := f.AddComment("Price breakdown", excelize.Comment{Cell: "C3", Text: "a comment"}); err != nil {
			return err
		}
		return f.SetCellValue("Price breakdown", "H1", "Time [min]")
	})
	for name, file := range map[string]string{"as it is": form, "saved by LibreOffice": filepath.Join(recalculate(t, form), "form.xlsx")} {
		t.Run(name, func(t *testing.T) { importedAsFilled(t, file) })
	}
}

// importedAsFilled takes the filled form of TestQuoteFormRoundTrip in as Q4 of the sample and looks at every value.
func importedAsFilled(t *testing.T, form string) {
	book := sampleBook(t)
	before, err := os.ReadFile(form)
	if err != nil {
		t.Fatal(err)
	}
	report, err := importInto(t, book, QuoteImport{Form: form, As: "Q4"})
	if err != nil {
		t.Fatal(err)
	}
	after, err := os.ReadFile(form)
	if err != nil || sha256.Sum256(before) != sha256.Sum256(after) {
		t.Error("the form was changed", err)
	}
	if len(report.Unused) != 1 || !strings.HasSuffix(report.Unused[0], ": Colour") {
		t.Errorf("not taken: %q", report.Unused)
	}
	q := quotesIn(t, book)
	o := q.Named("Q4")
	if o == nil || len(q.Quotes) != 4 || o.Currency != "CZK" || len(o.Lines) != 5 || !o.Included["freight"] || len(o.Prices) != 1 {
		t.Fatalf("the quote is %+v", o)
	}
	for name, want := range map[string]float64{"price": 405.5, "annual_volume": 120000, "packaging": 3.5, "payment_days": 30 * 86400,
		"transit_days": 14 * 86400, "tools_paid": 275000 / 0.0398, "tool_life": 450000, "yearly_reduction": 0.025} {
		almost(t, name, given(t, q, o.Record, name), want)
	}
	for i, want := range []map[string]float64{{"quantity": 14.2, "rate": 15.7, "amount": 222.94}, {"amount": -4.5},
		{"time": 67.5, "crew": 1, "labour_rate": 560.0 / 3600, "reject": 0.016}, {"surcharge": 0.12, "amount": 60.12}, {"amount": 66.84}} {
		for name, v := range want {
			almost(t, o.Lines[i].Key+" "+name, given(t, q, o.Lines[i], name), v)
		}
	}
	for name, want := range map[string]string{"supplier": "Supplier West (invented)", "base_month": "2025-Q1", "quote_date": "2025-02-20", "revision": "007"} {
		if got := o.Text(name); got != want {
			t.Errorf("%s is %q, want %q", name, got, want)
		}
	}
	if o.Lines[0].Text("text") != "=SUM(1,2)" || o.Lines[3].Text("on") != "1-2,4" || q.GivenOption(o.Record, "delivery_term") != "FCA" {
		t.Errorf("words: %q, %q", o.Lines[0].Text("text"), o.Lines[3].Text("on"))
	}
	if kg, _ := q.Mass(o.Lines[0]); kg < 6.44 || kg > 6.4411 { // 14.2 lb of 0.45359237 kg
		t.Errorf("the mass is %v kg", kg)
	}
	originsOf(t, book, filepath.Base(form))
}

func almost(t *testing.T, name string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-9*math.Abs(want) {
		t.Errorf("%s is %v, want %v", name, got, want)
	}
}

func given(t *testing.T, q *costmodel.Quotes, r *costmodel.Record, name string) float64 {
	t.Helper()
	v, ok := q.Given(r, name)
	if !ok {
		t.Errorf("%s gives no %s", r.Key, name)
	}
	return v
}

// quotesIn reads the quotes of a workbook; nothing may be wrong with them.
func quotesIn(t *testing.T, book string) *costmodel.Quotes {
	t.Helper()
	q := quotesWithWarnings(t, book)
	reportProblems(t, q.Model.Diagnostics)
	reportProblems(t, quote.Check(q))
	return q
}

// quotesWithWarnings reads the quotes of a workbook, whatever is wrong with them.
func quotesWithWarnings(t *testing.T, book string) *costmodel.Quotes {
	t.Helper()
	c, err := Read(book)
	if err != nil {
		t.Fatal(err)
	}
	lib := testLibrary(t)
	quotes, err := lib.Quotes()
	if err != nil {
		t.Fatal(err)
	}
	return costmodel.ReadQuotes(costmodel.New(c, lib), quotes)
}

// originsOf looks for the cells of the form in the notes of Quotes and under Source in Quote lines.
func originsOf(t *testing.T, book, form string) {
	t.Helper()
	f, err := excelize.OpenFile(book)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	comments, err := f.GetComments("Quotes")
	if err != nil {
		t.Fatal(err)
	}
	said := ""
	for _, c := range comments {
		said += c.Text + "\n"
	}
	for _, want := range []string{"From " + form + ", Quotation!E3\n", ". Remark: door to door\n"} { // the price: row 3, behind the column that was moved in
		if !strings.Contains(said, want) {
			t.Errorf("no note says %q:\n%s", want, said)
		}
	}
	rows, err := f.GetRows("Quote lines")
	if err != nil {
		t.Fatal(err)
	}
	source := slices.Index(rows[0], "Source")
	var sources []string
	for _, r := range rows[1:] {
		if len(r) > source && r[0] == "Q4" {
			sources = append(sources, r[source])
		}
	}
	want := form + ", Price breakdown: Element B3, Quantity E3, Unit F3, Rate G3, Amount T3"
	if len(sources) != 5 || sources[1] != want {
		t.Errorf("sources %q, want the second %q", sources, want)
	}
}

// TestQuoteFormTellsNothing: words and numbers planted in every sheet of the buyer's workbook, but what the request tells, are in no part of the form.
func TestQuoteFormTellsNothing(t *testing.T) {
	files, planted := plantedFiles(t)
	form := formOf(t, files)
	text := unpacked(t, form)
	for _, marker := range planted {
		if strings.Contains(text, marker) {
			i := strings.Index(text, marker)
			t.Errorf("the form holds %q: ...%s...", marker, text[max(0, i-80):min(len(text), i+80)])
		}
	}
	for _, told := range []string{"B05", "side frame tube hydroformed", "M07", "120000", "DAP", "2025-03"} {
		if !strings.Contains(text, told) {
			t.Errorf("the form does not tell %q", told)
		}
	}
	for _, ours := range []string{"piececost", "xuri", "excelize", "2006-09-16", "Scenario", ">Q1<", ">Q2<", "Van plant", "CZK"} {
		if strings.Contains(text, ours) {
			t.Errorf("the form says %q", ours)
		}
	}
	if bytes.Contains([]byte(text), []byte("creator")) || strings.Contains(text, "lastModifiedBy") {
		t.Error("the form has an author")
	}
}
