package scenarios

import (
	"archive/zip"
	"bytes"
	"io"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"piececost/costmodel/quote"
)

// planted are values and words that stand in the model, in the request's side notes and in other quotes, and in no cell of Q2: none of
// them may be in anything that goes to that supplier.
var planted = []struct{ table, old, new string }{
	{"quotes.csv", "15.46", "15.4637"}, {"quotes.csv", "12.15", "12.1573"}, {"quotes.csv", "Supplier North (invented)", "Marmaduke North"},
	{"quotes.csv", "278000", "278393"}, {"quote_lines.csv", "8.58", "8.5837"}, {"quote_lines.csv", "3.05", "3.0537"},
	{"quotes.csv", "0.55", "0.5537"}, {"price_months.csv", "0.87", "0.8737"}, {"machines.csv", "tube hydroforming", "tube hydroforming Marmaduke"},
}

// TestQuestionsTellNothing: the questions to a supplier hold no number of the model, of another quote or of the request's own costs, in
// any part of the page or of the workbook's package.
func TestQuestionsTellNothing(t *testing.T) {
	files := quoteTables(t)
	var marks []string
	for _, p := range planted {
		raw := string(files[p.table].Data)
		if !strings.Contains(raw, p.old) {
			t.Fatalf("%s has no %s", p.table, p.old)
		}
		files[p.table] = &fstest.MapFile{Data: []byte(strings.Replace(raw, p.old, p.new, 1))}
		marks = append(marks, strings.TrimPrefix(p.new, "tube hydroforming "))
	}
	record := "Quote,Date,What,Before,After\nQ1,2025-04-02,talk with Ottilie,9.8712,9.8533\nQ2,2025-04-10,payment term,30 d,45 d\n"
	files["negotiation_record.csv"] = &fstest.MapFile{Data: []byte(record)}
	marks = append(marks, "Ottilie", "9.8712", "9.8533", "2025-04-02")
	a := askQuotes(t, files)
	o := a.Offers[1]
	for _, of := range []string{"model_price", "model_material", "model_process", "model_gross_mass", "model_cycle_time", "equal_terms_price",
		"levelised_delivered_cost", "median_price", "list_price"} {
		if v, ok := o.Entry.Value(of); ok {
			marks = append(marks, digitsOf(v)...)
		}
	}
	q := a.Questions(o)
	if len(q.Own) < 8 || len(q.Base) < 15 {
		t.Fatalf("%d own and %d base questions", len(q.Own), len(q.Base))
	}
	if want := (quote.Talk{Date: "2025-04-10", What: "payment term", Before: "30 d", After: "45 d"}); len(q.Talks) != 1 || q.Talks[0] != want {
		t.Errorf("the record is %v", q.Talks)
	}
	book, err := QuestionsWorkbook(q)
	if err != nil {
		t.Fatal(err)
	}
	parts := partsOf(t, book)
	if all := parts["xl/sharedStrings.xml"] + parts["xl/worksheets/sheet1.xml"]; !strings.Contains(all, "45 d") {
		t.Error("the workbook has no record of the talks")
	}
	for name, text := range parts {
		for _, m := range marks {
			if strings.Contains(text, m) {
				t.Errorf("%s holds %q", name, m)
			}
		}
		if strings.Contains(text, "definedName") || strings.Contains(text, "piececost") {
			t.Errorf("%s tells where it comes from", name)
		}
	}
	base := func(o *quote.Offer) string { return strings.Join(a.Questions(o).Base, "|") }
	if base(a.Offers[0]) != base(a.Offers[2]) {
		t.Error("the base list differs between suppliers")
	}
}

// digitsOf are a number to four and six decimals, as it might be shown; a short one may stand anywhere by chance.
func digitsOf(v float64) (out []string) {
	for _, text := range []string{strings.TrimRight(strings.TrimRight(strconv.FormatFloat(v, 'f', 4, 64), "0"), "."), strconv.FormatFloat(v, 'f', 6, 64)} {
		if len(text) >= 5 {
			out = append(out, text)
		}
	}
	return out
}

// partsOf unpacks a workbook.
func partsOf(t *testing.T, book []byte) map[string]string {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(book), int64(len(book)))
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		raw, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		r.Close()
		out[f.Name] = string(raw)
	}
	return out
}
