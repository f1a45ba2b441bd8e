package scenarios

import (
	"bytes"
	"errors"
	"os"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel/table"
)

// TestQuoteFormSameBytes: the same request makes the same form.
func TestQuoteFormSameBytes(t *testing.T) {
	var made [][]byte
	for range 2 {
		data, err := os.ReadFile(formOf(t, sampleFiles(t)))
		if err != nil {
			t.Fatal(err)
		}
		made = append(made, data)
	}
	if !bytes.Equal(made[0], made[1]) {
		t.Error("two forms of one request differ")
	}
}

// TestQuoteFormHostile: what a supplier writes is words in every cell that takes words, and never a formula, in the workbook and in what
// a run writes; what is no number is refused where one is asked for.
func TestQuoteFormHostile(t *testing.T) {
	longest := strings.Repeat("x", 32767)
	form := formOf(t, sampleFiles(t))
	fillForm(t, form, map[string]any{"Currency": "EUR", "Price": 15, "Annual volume": 120000, "Supplier": longest, "Version": "=HYPERLINK(\"http://x\")",
		"Place": "a\tb\x01\u202e <c:f> &amp; ]]>"}, []map[string]any{
		{"Element": "material", "Text": "+cmd|' /c calc'!A0", "Material": "@SUM(A1)", "Amount": 15, "On": "=1+1"}})
	book := sampleBook(t)
	if _, err := importInto(t, book, QuoteImport{Form: form, As: "=Q4"}); err != nil {
		t.Fatal(err)
	}
	q := quotesWithWarnings(t, book)
	o := q.Named("=Q4")
	if o == nil || o.Text("supplier") != longest || o.Text("version") != "=HYPERLINK(\"http://x\")" || !strings.Contains(o.Text("place"), "<c:f> &amp; ]]>") ||
		o.Lines[0].Text("text") != "+cmd|' /c calc'!A0" || o.Lines[0].Text("material") != "@SUM(A1)" {
		t.Errorf("words were changed: %.200q", o.Text("place"))
	}
	out := strings.TrimSuffix(book, ".xlsx") + "-out.xlsx"
	runTo(t, book, out)
	for _, path := range []string{book, out} {
		f, err := excelize.OpenFile(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, sheet := range []string{"Quotes", "Quote lines"} {
			rows, err := f.GetRows(sheet)
			if err != nil {
				t.Fatal(err)
			}
			for r, row := range rows {
				for c := range row {
					cell, _ := excelize.CoordinatesToCellName(c+1, r+1)
					if formula, _ := f.GetCellFormula(sheet, cell); formula != "" {
						t.Errorf("%s!%s holds the formula %s", sheet, cell, formula)
					}
				}
			}
		}
		f.Close()
	}
}

// TestQuoteFormRefused: nothing is taken where a cell can't be, all of them are said at once, and the workbook stays as it is.
func TestQuoteFormRefused(t *testing.T) {
	form := formOf(t, sampleFiles(t))
	fillForm(t, form, map[string]any{"Currency": "EUR", "Price": "request.freight * 2", "Annual volume": true, "Payment days": "sixty", "Scrap": "some",
		"Tools paid": "310.000"}, []map[string]any{{"Element": "material", "Amount": "1,5", "Reject [%]": "little"}})
	book := sampleBook(t)
	before, err := os.ReadFile(book)
	if err != nil {
		t.Fatal(err)
	}
	_, err = importInto(t, book, QuoteImport{Form: form, As: "Q4"})
	var ds table.Diagnostics
	if !errors.As(err, &ds) || len(ds.Errors()) != 7 {
		t.Fatalf("refused with %v", err)
	}
	for _, d := range ds {
		if d.Place.File != "form.xlsx" || d.Place.Row < 2 || d.Place.Col < 2 || d.Summary == "" {
			t.Errorf("%v", d)
		}
	}
	after, err := os.ReadFile(book)
	if err != nil || !bytes.Equal(before, after) {
		t.Error("the workbook was changed", err)
	}
}

// TestQuoteIntoOlderBook: a workbook without the sheets of quotes gets them.
func TestQuoteIntoOlderBook(t *testing.T) {
	form := formOf(t, sampleFiles(t))
	fillForm(t, form, theirOffer, theirLines)
	book := sampleBook(t)
	editBook(t, book, func(f *excelize.File) error {
		return errors.Join(f.DeleteSheet("Quotes"), f.DeleteSheet("Quote lines"))
	})
	if _, err := importInto(t, book, QuoteImport{Form: form, As: "Q1"}); err != nil {
		t.Fatal(err)
	}
	q := quotesWithWarnings(t, book)
	if o := q.Named("Q1"); len(q.Quotes) != 1 || len(o.Lines) != 5 || given(t, q, o.Record, "price") != 405.5 {
		t.Errorf("%d quotes", len(q.Quotes))
	}
	errs := q.Diagnostics.Errors()
	if len(errs) == 0 || !strings.Contains(errs[0].Summary, `no column "Request"`) {
		t.Errorf("found %v", errs)
	}
}
