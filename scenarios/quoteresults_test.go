package scenarios

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"piececost/costmodel"
	"piececost/costmodel/quote"
	"piececost/costmodel/table"
	"piececost/scenarios/ooxml"
	"piececost/templates"
)

const (
	equalTermsSheet  = "Quotes on equal terms"
	shouldCostSheet  = "Quotes against should-cost"
	findingsSheet    = "Quote findings"
	quoteCalculation = "Calculation Quotes"
)

// askModel answers for the quotes of a case.
func askModel(t *testing.T, m *costmodel.Model) *quote.Answer {
	t.Helper()
	lib, err := costmodel.LoadQuotes(templates.Files)
	if err != nil {
		t.Fatal(err)
	}
	a, ds, err := quote.Ask(t.Context(), costmodel.ReadQuotes(m, lib))
	reportProblems(t, ds)
	if err != nil || a == nil {
		t.Fatal("no answer", err)
	}
	return a
}

// writeQuotes saves a workbook of tables with its results and the sheets of its quotes.
func writeQuotes(t *testing.T, files fstest.MapFS, path string) *Result {
	t.Helper()
	saveTables(t, files, path)
	r := resultOf(t, path)
	r.Quotes = askModel(t, r.Details[0].Plan.Model)
	if err := r.Quotes.Explain(t.Context()); err != nil {
		t.Fatal(err)
	}
	saveResults(t, path, r)
	return r
}

// manyKinds are the sample's quotes with what makes their formulas branch: a price per 100, prices at other volumes, units typed with amounts,
// a total without lines, whole machines, freight lanes, other bounds, lines with parts, operations and agreed amounts.
func manyKinds(t *testing.T) fstest.MapFS {
	t.Helper()
	files := quoteTablesOfOne(t)
	change := func(name, from, to string) {
		t.Helper()
		text := strings.ReplaceAll(string(files[name].Data), "\r\n", "\n")
		if !strings.Contains(text, from) {
			t.Fatalf("%s has no %q", name, from)
		}
		files[name] = &fstest.MapFile{Data: []byte(strings.Replace(text, from, to, 1))}
	}
	change("quotes.csv", "Q1,Q2,Q3\n", "Q1,Q2,Q3,Q4\n")
	change("quotes.csv", "Currency,,,EUR,CZK,EUR\n", "Currency,,,EUR,CZK,EUR,EUR\n")
	change("quotes.csv", "Price,currency,,15.46,412.00,12.15\n",
		"Price,currency,,15.46,412.00,1215,14.9\nPrice unit,,,,,100\nPrice at 120000,currency,,,,1290\n"+
			"Transit days,d,,3,,\nOne-off costs,currency,,,150000,\n")
	change("quotes.csv", "Annual volume,1/yr,120000,120000,120000,180000\n", "Annual volume,1/yr,120000,120000,120000,180000,375000\n")
	change("quotes.csv", "Payment days,d,60,60,45,30\n", "Payment days,d,60,60,45,30\nPlace,,,,,Graz\nRevision,,C,B,,\n")
	change("freight_lanes.csv", "Source\n", "Source\nGraz,,0.61,4,5,invented\n")
	change("quote_lines.csv", "Q1,3,process,,,all operations,,,,,26,,1.0,41,205,1.6,,,,,3.05",
		"Q1,3,process,,10,first,,,,,9,,1.0,41,205,,,,,,1.00,invented\nQ1,6,process,,,the others,,,,,26,,1.0,41,205,1.6,,,,,2.05")
	change("quote_lines.csv", "Q2,1,material,,,tube,M07,6.60,kg,34.60", "Q2,1,material,B05,,tube,M07,14.55,lb,15.69")
	machines := strings.ReplaceAll(string(files["machines.csv"].Data), "shared", "dedicated") // whole machines, whose cost a volume shares
	files["machines.csv"] = &fstest.MapFile{Data: []byte(machines)}
	var rows []string // as wide as the heading
	for _, row := range strings.Split(strings.TrimSpace(string(files["quotes.csv"].Data)), "\n") {
		rows = append(rows, row+strings.Repeat(",", 6-strings.Count(row, ",")))
	}
	files["quotes.csv"] = &fstest.MapFile{Data: []byte(strings.Join(rows, "\n") + "\n")}
	files["quote_rules.csv"] = &fstest.MapFile{Data: []byte("Rule,Low,High,Use\nr18,,15,\nr35,,,no\n")}
	return files
}

// TestQuoteSheetsRecalculated has independent programs compute every formula of workbooks with quotes, from poisoned values.
func TestQuoteSheetsRecalculated(t *testing.T) {
	dir := t.TempDir()
	for name, files := range map[string]fstest.MapFS{"sample": quoteTables(t), "many kinds": manyKinds(t)} {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(dir, name+".xlsx")
			writeQuotes(t, files, path)
			checkFormulas(t, path)
			poison(t, path, poisonedOf(path))
			if n := comparePoisoned(t, path, poisonedOf(path)); n < 6000 {
				t.Errorf("only %d formula cells", n)
			}
		})
	}
}

// quoteEdits are edits of the sheets of quotes that the formulas follow, by heading of the column and words of its row.
var quoteEdits = []struct {
	name  string
	cells [][4]string // sheet, key of the row, column, value
}{
	{"price", [][4]string{{"Quotes", "Price", "Q2", "399.5"}}},
	{"terms", [][4]string{{"Quotes", "Payment days", "Q1", "10"}, {"Quotes", "Yearly reduction", "Q3", "0.015"}, {"Quotes", "Freight", "Request", "0.75"},
		{"Quotes", "Packaging", "Request", "0.31"}, {"Quotes", "Programme life", "Request", "4"}, {"Quotes", "Tools paid", "Q1", "301000"},
		{"Quotes", "Tool pieces", "Q2", "240000"}, {"Quotes", "Delivery term", "Q2", "FCA"}}},
	{"lines and lists", [][4]string{{"Quote lines", "Q3/1", "Quantity", "6.8"}, {"Quote lines", "Q3/2", "Quantity", "0.6"}, {"Quote lines", "Q3/6",
		"Amount", "2.4"},
		{"Quote lines", "Q2/6", "Amount", "38.2"}, {"Price months", "M07/2023-11", "Base price", "1.01"}, {"Price months", "M07/2023-10", "Scrap price",
			"0.31"},
		{"Price months", "M07/2025-03", "Base price", "0.93"}}},
	{"volume asked for", [][4]string{{"Quotes", "Annual volume", "Request", "90000"}}},
}

// TestEditsOfQuotesAreFollowed edits cells of the sheets of quotes in a written workbook: what an independent program then computes on the
// sheet Quotes on equal terms is what a run of the edited case gives, and the sheet does not say that it is stale.
func TestEditsOfQuotesAreFollowed(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "quotes.xlsx")
	writeQuotes(t, quoteTablesOfOne(t), path)
	for i, e := range quoteEdits {
		t.Run(e.name, func(t *testing.T) {
			edited := filepath.Join(dir, fmt.Sprintf("edited%d.xlsx", i))
			editQuotes(t, path, edited, e.cells)
			c, err := Read(edited)
			if err != nil {
				t.Fatal(err)
			}
			checkEqualTerms(t, recomputedSheet(t, edited, equalTermsSheet), askModel(t, costmodel.New(c, testLibrary(t))))
		})
	}
}

// editQuotes writes a copy of a workbook with cells changed that are named by their row and column.
func editQuotes(t *testing.T, from, to string, cells [][4]string) {
	t.Helper()
	c, err := Read(from)
	if err != nil {
		t.Fatal(err)
	}
	at := map[string]any{}
	for _, x := range cells {
		v := any(x[3])
		if n, err := strconv.ParseFloat(x[3], 64); err == nil {
			v = n
		}
		at[x[0]+"!"+placeOf(t, c, x[0], x[1], x[2]).Cell()] = v
	}
	editWorkbookFile(t, from, to, inputEdit{cells: at})
}

// placeOf finds a cell by its sheet, the words of the first columns of its row joined by /, and the heading of its column.
func placeOf(t *testing.T, c *table.Case, sheet, key, column string) table.Place {
	t.Helper()
	tab := c.Table(sheet)
	for _, row := range tab.Rows {
		words := textOf(row.Cells[0])
		if strings.Contains(key, "/") {
			words += "/" + textOf(row.Cells[1])
		}
		for i, col := range tab.Columns {
			if name, _, _ := table.SplitHeading(col.Heading); words == key && (col.Heading == column || name == table.Normalise(column)) {
				return row.Cells[i].Place
			}
		}
	}
	t.Fatalf("%s has no %s, %s", sheet, key, column)
	return table.Place{}
}

func textOf(v table.Value) string {
	if v.Kind == table.Number {
		return strconv.FormatFloat(v.Number, 'f', -1, 64)
	}
	return v.Text
}

// checkEqualTerms compares the sheet of a recalculated workbook with an answer: price, ranks and costs of each quote.
func checkEqualTerms(t *testing.T, cells map[string]string, want *quote.Answer) {
	t.Helper()
	if mark := cells["A4"]; !strings.HasPrefix(mark, "the formulas follow") {
		t.Errorf("the mark says %q", mark)
	}
	for i, o := range want.Offers {
		row := strconv.Itoa(9 + i)
		if !strings.HasPrefix(cells["B"+row], o.Quote.Key) {
			t.Fatalf("row %s is of %q, want %s", row, cells["B"+row], o.Quote.Key)
		}
		for col, name := range map[string]string{"E": "price_in_model_currency", "G": "equal_terms_price", "H": "levelised_delivered_cost",
			"I": "delivered_cost_a_year", "J": "cash_before_start"} {
			if v, _ := o.Entry.Value(name); !sameCell(cells[col+row], strconv.FormatFloat(v, 'g', -1, 64)) {
				t.Errorf("%s: %s is %s, want %v", o.Quote.Key, name, cells[col+row], v)
			}
		}
		for col, rank := range map[string]int{"A": o.RankAfter, "F": o.RankBefore} {
			if cells[col+row] != strconv.Itoa(rank) {
				t.Errorf("%s: rank in %s is %s, want %d", o.Quote.Key, col, cells[col+row], rank)
			}
		}
	}
}

// allCells are the values of a sheet's cells by their name.
func allCells(t *testing.T, path, sheet string) map[string]string {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	p, err := ooxml.Open(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for i := range p.Sheets {
		if p.Sheets[i].Name != sheet {
			continue
		}
		g, err := p.Read(&p.Sheets[i])
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range g.Cells {
			out[fmt.Sprintf("%s%d", table.ColumnName(c.Col), c.Row)] = c.Value
		}
	}
	if len(out) == 0 {
		t.Fatalf("no sheet %s", sheet)
	}
	return out
}

// TestEditsOfQuotesThatAskForARun: a cell that no formula can follow asks for another run in the master cell.
func TestEditsOfQuotesThatAskForARun(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "quotes.xlsx")
	writeQuotes(t, quoteTablesOfOne(t), path)
	for i, x := range [][4]string{{"Quotes", "Annual volume", "Q3", "150000"}, {"Quote lines", "Q1/1", "Element", "other"}, {"Quotes", "Packaging", "Q1",
		"0.2"},
		{"Currencies", "CZK", "Rate", "0.041"}} {
		edited := filepath.Join(dir, fmt.Sprintf("again%d.xlsx", i))
		editQuotes(t, path, edited, [][4]string{x})
		if got := recomputedSheet(t, edited, equalTermsSheet)["A3"]; !strings.HasPrefix(got, "RUN AGAIN") {
			t.Errorf("%v: the master cell says %q", x, got)
		}
	}
}

// chainNames are the quantities of the chain and its ranks.
func chainNames(a *quote.Answer) (out []string) {
	for _, c := range a.Quotes.Library.Chain {
		for _, name := range []string{c.Stated, c.Change, c.Sum, c.Shows} {
			if name != "" {
				out = append(out, name)
			}
		}
	}
	return append(out, "cash_before_start")
}

// TestEveryNumberOfQuotesIsFollowed changes each number of the sheets of quotes by itself: either the cells that a live formula names give
// the chain that a run would give, or the number is among those that ask for a run.
func TestEveryNumberOfQuotesIsFollowed(t *testing.T) {
	for name, files := range map[string]fstest.MapFS{"many kinds, the sample's among them": manyKinds(t)} {
		t.Run(name, func(t *testing.T) {
			c, err := ReadTables(files, "quotes")
			if err != nil {
				t.Fatal(err)
			}
			base := askModel(t, costmodel.New(c, testLibrary(t)))
			tried := 0
			for _, sheet := range []string{"Quotes", "Quote lines", "Price months", "Freight lanes"} {
				for _, row := range c.Table(sheet).Rows {
					for i := range row.Cells {
						if v := &row.Cells[i]; v.Kind == table.Number && !slices.Contains(base.Rests, v.Place) && !keyColumn(c.Table(sheet), i) {
							tried++
							followsNumber(t, c, v, base)
						}
					}
				}
			}
			if tried < 60 {
				t.Errorf("only %d numbers", tried)
			}
		})
	}
}

func keyColumn(t *table.Table, i int) bool {
	name, _, _ := table.SplitHeading(t.Columns[i].Heading)
	return name == "line"
}

// followsNumber changes a number, and compares the chain of a run with that of the former facts, those with cells by their cells as they now are.
func followsNumber(t *testing.T, c *table.Case, v *table.Value, base *quote.Answer) {
	t.Helper()
	before := v.Number
	v.Number = before*1.07 + 0.01
	defer func() { v.Number = before }()
	fresh := askModel(t, costmodel.New(c, testLibrary(t)))
	var facts []costmodel.QuoteFact
	for _, f := range base.Facts {
		if f.Cells != nil {
			f.Value = 0
			for _, cell := range f.Cells {
				f.Value += cell.Times * numberAt(t, c, cell.Place)
			}
		}
		f.Of = sameRecord(t, base.Quotes, fresh.Quotes, f.Of)
		facts = append(facts, f)
	}
	p, ds := fresh.Quotes.Compile(facts)
	reportProblems(t, ds)
	for i, e := range p.Detail(1).Entries("quote") {
		for _, name := range chainNames(base) {
			want, ok1 := fresh.Offers[i].Entry.Value(name)
			got, ok2 := e.Value(name)
			if ok1 != ok2 || math.Abs(got-want) > 1e-9*math.Max(1, math.Abs(want)) {
				t.Errorf("%s changed: %s of %s follows to %v, a run gives %v", v.Place, name, fresh.Offers[i].Quote.Key, got, want)
				return
			}
		}
	}
}

func numberAt(t *testing.T, c *table.Case, at table.Place) float64 {
	t.Helper()
	for _, tab := range c.Tables {
		for _, row := range tab.Rows {
			for _, v := range row.Cells {
				if v.Place == at {
					return v.Number
				}
			}
		}
	}
	t.Fatal("no cell", at)
	return 0
}

// sameRecord finds the record of other quotes that stands where a record stands.
func sameRecord(t *testing.T, from, to *costmodel.Quotes, r *costmodel.Record) *costmodel.Record {
	t.Helper()
	for i, o := range from.Quotes {
		if o.Record == r {
			return to.Quotes[i].Record
		}
		for j, l := range o.Lines {
			if l == r {
				return to.Quotes[i].Lines[j]
			}
		}
	}
	t.Fatal("no record")
	return nil
}

// TestFindingsAreWritten: each finding of a quote with its question, each open point, each rule that was not checked and each pattern stands on
// the sheet, and no number is too wide for its column on any sheet of quotes.
func TestFindingsAreWritten(t *testing.T) {
	path := filepath.Join(t.TempDir(), "quotes.xlsx")
	r := writeQuotes(t, quoteTables(t), path)
	in := map[string]string{}
	for at, text := range allCells(t, path, findingsSheet) {
		column := strings.TrimRight(at, "0123456789")
		in[column] += "\n" + text
	}
	patterns := 0
	for _, o := range r.Quotes.Offers {
		for _, f := range o.Findings {
			if !strings.Contains(in["J"], "\n"+f.Rule.Question) || !strings.Contains(in["A"], "\n"+strings.ToUpper(f.Rule.Name)) {
				t.Errorf("%s: %s is not on the sheet", o.Quote.Key, f.Rule.Name)
			}
		}
		for _, x := range o.OpenPoints {
			if !strings.Contains(in["C"], "\n"+x.Ask) {
				t.Errorf("%s: the open point %s is not on the sheet", o.Quote.Key, x.Rule)
			}
		}
		for _, x := range o.NotChecked {
			if !strings.Contains(in["C"], "\n"+strings.Join(x.Needs, ", ")) {
				t.Errorf("%s: that %s was not checked is not on the sheet", o.Quote.Key, x.Rule.Name)
			}
		}
		for _, x := range o.Patterns {
			patterns++
			if !strings.Contains(in["C"], x.Says[:40]) {
				t.Errorf("%s: the pattern %s is not on the sheet", o.Quote.Key, x.Pattern)
			}
		}
	}
	if patterns == 0 {
		t.Error("no patterns")
	}
	checkWidths(t)
}

// checkWidths looks for numbers that don't fit on the printed sheets of the sample's quotes.
func checkWidths(t *testing.T) {
	t.Helper()
	pages := 0
	for _, page := range printedSample(t) {
		if !strings.Contains(page, "Quote") {
			continue
		}
		if pages++; strings.Contains(page, "###") {
			t.Error("a number is too wide for its column:", page)
		}
	}
	if pages < 10 {
		t.Errorf("%d pages with quotes", pages)
	}
}

// TestQuoteSheetsTypedOver: a figure typed over in a sheet of quotes is told as one that a run replaces, with the sheets that are to be
// changed instead, and the check of the chain sees it at once.
func TestQuoteSheetsTypedOver(t *testing.T) {
	dir := t.TempDir()
	path, edited := filepath.Join(dir, "quotes.xlsx"), filepath.Join(dir, "edited.xlsx")
	writeQuotes(t, quoteTablesOfOne(t), path)
	in := allCells(t, path, quoteCalculation)
	at := ""
	for cell, text := range in {
		if strings.HasPrefix(text, "Stated price") {
			at = strings.TrimRight(cell, "0123456789")
		}
	}
	editWorkbookFile(t, path, edited, inputEdit{cells: map[string]any{equalTermsSheet + "!D20": 13.0, shouldCostSheet + "!E9": 1.0,
		quoteCalculation + "!" + at + "24": 400.0}})
	w, err := Open(edited)
	if err != nil {
		t.Fatal(err)
	}
	c, err := Read(edited)
	if err != nil {
		t.Fatal(err)
	}
	edits, err := w.TakeOver(c, testLibrary(t))
	if err != nil {
		t.Fatal(err)
	}
	if len(edits) != 3 {
		t.Errorf("%d edits: %v", len(edits), edits)
	}
	for _, e := range edits {
		if !strings.Contains(e.Dropped, "Quotes or Quote lines") {
			t.Errorf("%s: %q", e.Place, e.Dropped)
		}
	}
	if got := recomputedSheet(t, edited, equalTermsSheet)["A3"]; !strings.Contains(got, "1 error") {
		t.Errorf("the master cell says %q", got)
	}
}
