package scenarios

import (
	"bytes"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel/table"
	"piececost/scenarios/ooxml"
)

// inputEdit changes input cells of a result workbook, as a person would in a spreadsheet program.
type inputEdit struct {
	name  string
	cells map[string]any // Sheet!Cell: value; nil clears
	rows  string         // Sheet!Row: an empty row is inserted there
	swap  string         // Sheet!a,b: two rows are exchanged, as sorting does
}

// followed are edits that the formulas must follow by themselves.
var followed = []inputEdit{
	{name: "gauge of the cover", cells: map[string]any{"Parts!F18": 0.9}},
	{name: "base price, wage, electricity", cells: map[string]any{"Materials!E2": 1.05, "Plants!C7": 45.5, "Plants!C10": 0.31}},
	{name: "interest and programme life", cells: map[string]any{"Case!C8": 0.04, "Case!C7": 8}},
	{name: "interest of nothing", cells: map[string]any{"Case!C8": 0}},
	{name: "reject, set-up, batch", cells: map[string]any{"Operations!N3": 0.2, "Operations!O3": 90, "Operations!P3": 450}},
	{name: "tool price and life", cells: map[string]any{"Operations!Q3": 900000, "Operations!R3": 90000, "Operations!S3": 30000}},
	{name: "machine price and planned capacity utilisation", cells: map[string]any{"Machines!D3": 20000000, "Plants!C14": 0.6}},
	{name: "quantity in the bill", cells: map[string]any{"Bill of materials!C6": 40}},
	{name: "annual volumes", cells: map[string]any{"Scenarios!D2": 17777, "Scenarios!E2": 250000, "Scenarios!F2": 1}},
	{name: "another grade", cells: map[string]any{"Parts!E18": "M06"}},
	{name: "another machine", cells: map[string]any{"Operations!E3": "E03"}},
	{name: "a machine this design had no operation on", cells: map[string]any{"Operations!E3": "E18"}},
	{name: "pooled to shared, shared to dedicated", cells: map[string]any{"Machines!M12": "shared", "Machines!M3": "dedicated"}},
	{name: "shared to pooled", cells: map[string]any{"Machines!M3": "pooled", "Machines!M4": "pooled"}},
	{name: "labour allocation", cells: map[string]any{"Machines!N12": "hours", "Machines!N10": "whole shifts"}},
	{name: "crew, power, footprint, downtime", cells: map[string]any{"Machines!J12": 2, "Machines!H3": 100, "Machines!G3": 9000, "Machines!L12": 0.5}},
	{name: "joints and seams", cells: map[string]any{"Operations!J45": 99, "Operations!L47": 500}},
	{name: "all at once", cells: map[string]any{"Parts!F18": 0.5, "Materials!E2": 2, "Operations!N3": 0.5, "Machines!M12": "dedicated",
		"Scenarios!D2": 3000, "Parts!E21": "M01", "Operations!E20": "E01"}},
}

// runAgain are edits that formulas can't follow: the master cell must say so.
var runAgain = []inputEdit{
	{name: "a row inserted", rows: "Parts!20"},
	{name: "a row added below", cells: map[string]any{"Parts!A51": "NEW", "Parts!D51": "assembly"}},
	{name: "two rows exchanged", swap: "Parts!18,19"},
	{name: "a key renamed", cells: map[string]any{"Parts!A18": "A01x"}},
	{name: "the unit of a heading", cells: map[string]any{"Parts!F1": "Gauge [in]"}},
	{name: "a text quantity", cells: map[string]any{"Parts!F21": "0.9 mm"}},
	{name: "a number made a text", cells: map[string]any{"Parts!F18": "0.75 mm"}},
	{name: "a tag", cells: map[string]any{"Parts!C18": "new"}},
	{name: "a process", cells: map[string]any{"Operations!D3": "timed operation"}},
	{name: "an input cleared", cells: map[string]any{"Parts!F18": nil}},
	{name: "an empty cell filled", cells: map[string]any{"Operations!J3": 4}},
	{name: "a change added to a scenario", cells: map[string]any{"Scenarios!A7": "Parts", "Scenarios!B7": "A01", "Scenarios!C7": "Gauge", "Scenarios!D7": 1}},
	{name: "another joining operation", cells: map[string]any{"Bill of materials!D4": 10}},
	{name: "the unit of a plant's quantity", cells: map[string]any{"Plants!B4": "min"}},
	{name: "another product", cells: map[string]any{"Scenarios!D3": "TRAY_B"}},
}

// editedCells are the cells that an edit gives other values, in order; exchanged rows are told cell by cell.
func (e inputEdit) editedCells(t testing.TB, f *excelize.File) (at []string, values []any) {
	t.Helper()
	for _, cell := range sortedKeys(e.cells) {
		at, values = append(at, cell), append(values, e.cells[cell])
	}
	sheet, rows, ok := strings.Cut(e.swap, "!")
	if !ok {
		return at, values
	}
	a, b, _ := strings.Cut(rows, ",")
	x, err := f.GetRows(sheet, excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	for _, pair := range [][2]string{{a, b}, {b, a}} {
		n, err := strconv.Atoi(pair[0])
		if err != nil {
			t.Fatal(err)
		}
		for c := range x[0] {
			var v any
			if row := x[n-1]; c < len(row) && row[c] != "" {
				if v = row[c]; isNumber(row[c]) {
					v, _ = strconv.ParseFloat(row[c], 64)
				}
			}
			at, values = append(at, sheet+"!"+columnCell(c+1, pair[1])), append(values, v)
		}
	}
	return at, values
}

func isNumber(text string) bool {
	_, err := strconv.ParseFloat(text, 64)
	return err == nil
}

// editWorkbookFile writes an edited copy of a workbook.
func editWorkbookFile(t testing.TB, from, to string, e inputEdit) {
	t.Helper()
	f, err := excelize.OpenFile(from)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	check := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	cells, values := e.editedCells(t, f)
	for i, at := range cells {
		sheet, cell, _ := strings.Cut(at, "!")
		check(f.SetCellValue(sheet, cell, values[i]))
	}
	if sheet, row, ok := strings.Cut(e.rows, "!"); ok {
		n, err := strconv.Atoi(row)
		check(err)
		check(f.InsertRows(sheet, n, 1))
	}
	check(lightly(f).SaveAs(to))
}

func columnCell(col int, row string) string { return table.ColumnName(col) + row }

// readSummary reads the cells of a result workbook's summary.
func readSummary(t testing.TB, path string) []ooxml.Cell {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	p, err := ooxml.Open(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	g, err := p.Read(p.Sheet(summarySheet))
	if err != nil {
		t.Fatal(err)
	}
	return g.Cells
}

// A shownSummary is what a result workbook shows: the master cell and the unrounded piece cost of each scenario.
type shownSummary struct {
	master string
	costs  []float64
}

// editableStarter writes the sample, one gauge typed as a text with its unit.
func editableStarter(t testing.TB, path string) {
	t.Helper()
	plain := filepath.Join(t.TempDir(), "plain.xlsx")
	saveSample(t, plain)
	editWorkbookFile(t, plain, path, inputEdit{cells: map[string]any{"Parts!F21": "0.8 mm"}})
}

// TestEditsAreFollowed changes inputs in the result workbook, has an independent program compute it, and compares with
// what piececost makes of the same inputs afterwards.
func TestEditsAreFollowed(t *testing.T) {
	shown := shownAfter(t, followed)
	starter := filepath.Join(t.TempDir(), "starter.xlsx")
	editableStarter(t, starter)
	for i, e := range followed {
		if strings.HasPrefix(shown[i].master, "RUN AGAIN") || shown[i].master == "" {
			t.Errorf("%s: the master cell says %q", e.name, shown[i].master)
		}
		path := filepath.Join(t.TempDir(), "edit.xlsx")
		editWorkbookFile(t, starter, path, e)
		r := resultOf(t, path)
		if len(shown[i].costs) != len(r.Details) {
			t.Fatalf("%s: %d piece costs shown", e.name, len(shown[i].costs))
		}
		for j, d := range r.Details {
			if want := d.Scenario().Must("piece_cost"); !near(shown[i].costs[j], want) {
				t.Errorf("%s: %s shows %v, the engine says %v", e.name, d.Plan.Scenario.Name, shown[i].costs[j], want)
			}
		}
	}
}

// TestEditsThatAskForARun makes the other kinds of edit: the master cell on the result sheets must say so.
func TestEditsThatAskForARun(t *testing.T) {
	for i, s := range shownAfter(t, append([]inputEdit{{name: "nothing"}}, runAgain...)) {
		switch asked := strings.HasPrefix(s.master, "RUN AGAIN"); {
		case i == 0 && asked:
			t.Errorf("without an edit the master cell says %q", s.master)
		case i > 0 && !asked:
			t.Errorf("%s: the master cell says %q", runAgain[i-1].name, s.master)
		}
	}
}
