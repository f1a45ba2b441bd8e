package scenarios

import (
	"math"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"piececost/costmodel/quote"
)

// multiplied multiplies numbers of a table by a factor: of the rows that begin with a key, or of a row of its own name, by heading or, of the sheet
// Plants, by its first column.
func (s quoteSheets) multiplied(t *testing.T, file, key, heading string, factor float64) {
	t.Helper()
	at := headingAt(t, s[file][0], heading)
	for _, row := range s[file][1:] {
		if row[0] == key {
			row[at] = strconv.FormatFloat(refNumber(t, row[at])*factor, 'g', -1, 64)
		}
	}
}

// TestExplanationsHold puts what an explanation asks for into the tables: the should-cost then is what was quoted.
func TestExplanationsHold(t *testing.T) {
	sample := smallQuoteSheets(t)
	_, a := mustAsk(t, "sample", sample)
	if err := a.Explain(t.Context()); err != nil {
		t.Fatal(err)
	}
	into := map[string]func(s quoteSheets, factor float64){
		"cycle time":  func(s quoteSheets, f float64) { s.multiplied(t, "operations.csv", "B05", "Load and process time", f) },
		"labour rate": func(s quoteSheets, f float64) { s.multiplied(t, "plants.csv", "Direct labour rate", "Van plant", f) },
		"reject rate": func(s quoteSheets, f float64) { s.multiplied(t, "operations.csv", "B05", "Reject rate", f) },
		"material price": func(s quoteSheets, f float64) {
			s.multiplied(t, "materials.csv", "M07", "Base price", f)
			s.multiplied(t, "materials.csv", "M07", "Extras", f)
		},
		"capacity utilisation": func(s quoteSheets, f float64) {
			s.multiplied(t, "plants.csv", "Planned capacity utilisation", "Van plant", f)
		},
	}
	held := map[string]bool{}
	for i, o := range a.Offers {
		for _, e := range o.Explained {
			if e.Of() != "price without tools" {
				continue
			}
			for _, x := range e.Single {
				put := into[x.Name]
				if put == nil || math.IsNaN(x.Factor) || x.Verdict != quote.Plausible { // others lie outside what a cell may hold
					continue
				}
				changed := sample.clone()
				put(changed, x.Factor)
				_, then := mustAsk(t, x.Name, changed)
				if got := then.Offers[i].Entry.Must("model_price"); !sameTo(got, e.Quoted, 1e-6) {
					t.Errorf("%s: with %s x %v the should-cost is %v, quoted is %v", o.Quote.Key, x.Name, x.Factor, got, e.Quoted)
				}
				held[x.Name] = true
			}
		}
	}
	if len(held) < 4 {
		t.Errorf("only %v were tried", held)
	}
}

// TestExplanationsAreWritten: each assumption stands on its sheet with what it would have to be and its verdict, and so does each pair.
func TestExplanationsAreWritten(t *testing.T) {
	path := filepath.Join(t.TempDir(), "quotes.xlsx")
	r := writeQuotes(t, quoteTables(t), path)
	cells := allCells(t, path, "Quote explanations")
	row := 7
	find := func(column, text string) {
		t.Helper()
		for from := row; row < from+12; row++ {
			if cells[column+strconv.Itoa(row)] == text {
				return
			}
		}
		t.Fatalf("%q stands in none of the rows %d to %d", text, row-12, row)
	}
	number := func(column string, want float64) {
		t.Helper()
		text := cells[column+strconv.Itoa(row)]
		got, err := strconv.ParseFloat(text, 64)
		if math.IsNaN(want) != (err != nil) || err == nil && !sameTo(got, want, 1e-9) {
			t.Errorf("%s%d is %q, want %v", column, row, text, want)
		}
	}
	pairs := 0
	for _, o := range r.Quotes.Offers {
		for _, e := range o.Explained {
			for _, x := range e.Single {
				find("A", strings.ToUpper(x.Name[:1])+x.Name[1:])
				number("C", x.Base)
				number("D", x.Needed)
				number("E", x.Factor)
				if got := cells["H"+strconv.Itoa(row)]; !strings.EqualFold(got, string(x.Verdict)) {
					t.Errorf("H%d is %q, want %s", row, got, x.Verdict)
				}
				row++
			}
			for _, p := range e.Pairs {
				pairs++
				find("A", strings.ToUpper(p.First[:1])+p.First[1:])
				number("C", p.Points[0].First)
				number("G", p.Points[4].First)
				row++
				number("C", p.Points[0].Second)
				number("G", p.Points[4].Second)
			}
		}
	}
	if pairs == 0 {
		t.Error("no pairs")
	}
}

// TestRecordOfTalksAsksForNoRun: a row written into the negotiation record after a run is no change of an input.
func TestRecordOfTalksAsksForNoRun(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "quotes.xlsx")
	writeQuotes(t, quoteTablesOfOne(t), path)
	edited := filepath.Join(dir, "talked.xlsx")
	editWorkbookFile(t, path, edited, inputEdit{cells: map[string]any{"Negotiation record!A3": "Q1", "Negotiation record!B3": "2025-05-02",
		"Negotiation record!C3": "price", "Negotiation record!E2": "50"}})
	before := allCells(t, path, "Checks")["A3"]
	if got := recomputedSheet(t, edited, "Checks")["A3"]; got != before {
		t.Errorf("the master cell says %q, before %q", got, before)
	}
}
