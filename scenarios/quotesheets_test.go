package scenarios

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"piececost/costmodel"
	"piececost/costmodel/quote"
	"piececost/costmodel/table"
	"piececost/templates"
)

// quoteSheets are tables by file, with the sample's quotes among them, as rows of texts that can be edited.
type quoteSheets map[string][][]string

// sampleQuoteSheets are the sample's tables with its three quotes.
func sampleQuoteSheets(t testing.TB) quoteSheets {
	t.Helper()
	out := quoteSheets{}
	for name, file := range quoteTables(t) {
		r := csv.NewReader(bytes.NewReader(file.Data))
		r.FieldsPerRecord = -1
		rows, err := r.ReadAll()
		if err != nil {
			t.Fatal(name, err)
		}
		out[name] = rows
	}
	return out
}

// smallQuoteSheets are the sample's quotes with the tables of their part alone, which costs the same: quicker, for what is asked many times.
func smallQuoteSheets(t testing.TB) quoteSheets {
	t.Helper()
	out := sampleQuoteSheets(t)
	for file, keys := range map[string][]string{"parts.csv": {"B05"}, "operations.csv": {"B05"}, "materials.csv": {"M05", "M07"}, "machines.csv": {"E06",
		"E07", "E10"},
		"bill_of_materials.csv": nil, "studies.csv": nil, "processes.csv": nil, "tables.csv": nil, "joints.csv": nil} {
		if rows := out[file]; len(rows) > 0 {
			out[file] = slices.DeleteFunc(rows[:len(rows):len(rows)], func(row []string) bool { return row[0] != rows[0][0] && !slices.Contains(keys, row[0]) })
		}
	}
	out["scenarios.csv"] = [][]string{{"Sheet", "Row", "Column", "B variant 1"}, {"", "", "Annual volume [1/yr]", "60000"}, {"", "", "Product", "B05"},
		{"", "", "Plant", "Van plant"}}
	return out
}

func (s quoteSheets) clone() quoteSheets {
	out := maps.Clone(s)
	for name, rows := range out {
		out[name] = slices.Clone(rows)
		for i, row := range rows {
			out[name][i] = slices.Clone(row)
		}
	}
	return out
}

// files are the tables as the program reads them.
func (s quoteSheets) files(t testing.TB) fstest.MapFS {
	t.Helper()
	out := fstest.MapFS{}
	for name, rows := range s {
		var text bytes.Buffer
		w := csv.NewWriter(&text)
		if err := w.WriteAll(rows); err != nil {
			t.Fatal(name, err)
		}
		out[name] = &fstest.MapFile{Data: text.Bytes()}
	}
	return out
}

// edit returns the tables with cells changed. An edit is one of
//
//	Q1 | Price | 16.00            a cell of the sheet Quotes; a row that is not there is added, Unit may follow its name in brackets
//	Q1/3 | Time | 30              a cell of the sheet Quote lines; a line that is not there is added
//	Q1/3 | delete                 the line
//	delete | Q3                   a quote with its lines
//	price_months.csv | + | M07,…  a row more; the first row of a table that is not there is its heading
//	freight_lanes.csv | = | From,…  a table of this heading alone
//	machines.csv | E06 | Equipment allocation | dedicated
func (s quoteSheets) edit(t testing.TB, edits ...string) quoteSheets {
	t.Helper()
	out := s.clone()
	for _, text := range edits {
		e := strings.Split(text, "|")
		for i := range e {
			e[i] = strings.TrimSpace(e[i])
		}
		quote, line, isLine := strings.Cut(e[0], "/")
		switch {
		case e[0] == "delete":
			out.deleteQuote(e[1])
		case strings.HasSuffix(e[0], ".csv") && e[1] == "=":
			out[e[0]] = [][]string{strings.Split(e[2], ",")}
		case strings.HasSuffix(e[0], ".csv") && e[1] == "+":
			row := strings.Split(e[2], ",")
			for t := out[e[0]]; len(t) > 0 && len(row) < len(t[0]); {
				row = append(row, "")
			}
			out[e[0]] = append(out[e[0]], row)
		case strings.HasSuffix(e[0], ".csv"):
			out.setKeyed(t, e[0], e[1], e[2], e[3])
		case isLine && e[1] == "delete":
			out["quote_lines.csv"] = slices.DeleteFunc(out["quote_lines.csv"], func(row []string) bool { return row[0] == quote && row[1] == line })
		case isLine:
			out.setLine(t, quote, line, e[1], e[2])
		default:
			out.setQuote(t, e[0], e[1], e[2])
		}
	}
	return out
}

func (s quoteSheets) deleteQuote(key string) {
	at := slices.Index(s["quotes.csv"][0], key)
	for i, row := range s["quotes.csv"] {
		s["quotes.csv"][i] = slices.Delete(row, at, at+1)
	}
	s["quote_lines.csv"] = slices.DeleteFunc(s["quote_lines.csv"], func(row []string) bool { return row[0] == key })
}

// headingAt finds a column by its name, with or without a unit.
func headingAt(t testing.TB, headings []string, name string) int {
	t.Helper()
	at := slices.IndexFunc(headings, func(h string) bool { return h == name || strings.HasPrefix(h, name+" [") })
	if at < 0 {
		t.Fatalf("no column %q in %q", name, headings)
	}
	return at
}

func (s quoteSheets) setKeyed(t testing.TB, file, key, name, value string) {
	t.Helper()
	at := headingAt(t, s[file][0], name)
	for _, row := range s[file] {
		if row[0] == key {
			row[at] = value
			return
		}
	}
	t.Fatalf("no row %q in %s", key, file)
}

func (s quoteSheets) setQuote(t testing.TB, column, name, value string) {
	t.Helper()
	name, unit, _ := strings.Cut(strings.TrimSuffix(name, "]"), " [")
	rows := s["quotes.csv"]
	at := slices.Index(rows[0], column)
	if at < 0 { // a quote more
		at = len(rows[0])
		for i := range rows {
			rows[i] = append(rows[i], "")
		}
		rows[0][at] = column
	}
	for _, row := range rows {
		if row[0] == name {
			row[at] = value
			if unit != "" {
				row[1] = unit
			}
			return
		}
	}
	row := make([]string, len(rows[0]))
	row[0], row[1], row[at] = name, unit, value
	s["quotes.csv"] = append(rows, row)
}

func (s quoteSheets) setLine(t testing.TB, key, line, name, value string) {
	t.Helper()
	rows := s["quote_lines.csv"]
	if slices.Contains([]string{"Agreed", "Output per hour", "Batch"}, name) && !slices.Contains(rows[0], name) {
		for i := range rows {
			rows[i] = append(rows[i], "")
		}
		rows[0][len(rows[0])-1] = name
	}
	at := headingAt(t, rows[0], name)
	last := len(rows) - 1
	for i, row := range rows {
		if row[0] == key && row[1] == line {
			row[at] = value
			return
		}
		if row[0] == key {
			last = i
		}
	}
	row := make([]string, len(rows[0]))
	row[0], row[1], row[at] = key, line, value
	s["quote_lines.csv"] = slices.Insert(rows, last+1, row)
}

// A quoteCase is a case whose model is built once, to be asked with several libraries of quotes.
type quoteCase struct {
	name   string
	sheets quoteSheets
	model  *costmodel.Model
}

func newQuoteCase(t testing.TB, name string, sheets quoteSheets) *quoteCase {
	t.Helper()
	c, err := ReadTables(sheets.files(t), "quotes")
	if err != nil {
		t.Fatal(name, err)
	}
	m := sheets.modelOf(t, c)
	for _, d := range m.Diagnostics.Sorted() {
		if d.Severity == table.Error {
			t.Fatal(name, d)
		}
	}
	return &quoteCase{name, sheets, m}
}

// modelsOfQuotes are the models of tables that differ in nothing but the sheets of quotes, which a model does not read: hundreds of cases would
// hold as many of some fourteen megabytes each.
var modelsOfQuotes sync.Map

// modelOf is the model of a case, that of other quotes where only their sheets differ.
func (s quoteSheets) modelOf(t testing.TB, c *table.Case) *costmodel.Model {
	t.Helper()
	var key strings.Builder
	for _, name := range slices.Sorted(maps.Keys(s)) {
		if l := table.LayoutOf(strings.ReplaceAll(strings.TrimSuffix(name, ".csv"), "_", " ")); l == nil || !table.OfQuotes(l.Sheet) {
			fmt.Fprintln(&key, name, s[name])
		}
	}
	shared, there := modelsOfQuotes.Load(key.String())
	if !there {
		shared, _ = modelsOfQuotes.LoadOrStore(key.String(), costmodel.New(c, testLibrary(t)))
	}
	m := *shared.(*costmodel.Model)
	m.Case = c
	return &m
}

// ask answers for the quotes of a case; an error among its findings of the quotes themselves is the second result.
func (c *quoteCase) ask(t testing.TB, lib *costmodel.QuoteLibrary) (*quote.Answer, *table.Diagnostic) {
	t.Helper()
	a, ds, err := quote.Ask(t.Context(), costmodel.ReadQuotes(c.model, lib))
	if err != nil {
		t.Fatal(c.name, err)
	}
	for _, d := range ds.Sorted() {
		if d.Severity == table.Error {
			return nil, &d
		}
	}
	return a, nil
}

// quoteLibraryOnce is read once; nothing changes it.
var quoteLibraryOnce = sync.OnceValues(func() (*costmodel.QuoteLibrary, error) { return costmodel.LoadQuotes(templates.Files) })

func quoteLibrary(t testing.TB) *costmodel.QuoteLibrary {
	t.Helper()
	lib, err := quoteLibraryOnce()
	if err != nil {
		t.Fatal(err)
	}
	return lib
}

// mustAsk answers for edited quotes of the sample.
func mustAsk(t testing.TB, name string, sheets quoteSheets) (*quoteCase, *quote.Answer) {
	t.Helper()
	c := newQuoteCase(t, name, sheets)
	a, d := c.ask(t, quoteLibrary(t))
	if d != nil {
		t.Fatal(name, ": ", d)
	}
	return c, a
}
