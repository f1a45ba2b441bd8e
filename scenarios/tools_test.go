package scenarios

import (
	"math"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/xuri/excelize/v2"

	"piececost/costmodel/study"
	"piececost/scenarios/ooxml"
)

// toolBook writes the workbook of the archive of tools, not costed.
func toolBook(t testing.TB, path string) {
	t.Helper()
	a, err := txtar.ParseFile(filepath.Join(secondCaseDir, "tools.txtar"))
	if err != nil {
		t.Fatal(err)
	}
	tables := fstest.MapFS{}
	for _, f := range a.Files {
		tables[f.Name] = &fstest.MapFile{Data: f.Data}
	}
	addTrial(tables)
	s, err := Starter(tables, testLibrary(t))
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Save(t.Context(), path, SaveOptions{Replace: true}); err != nil {
		t.Fatal(err)
	}
}

// toolEdits are edits of the archive of tools that the formulas must follow: sizes, stages, features, coefficients.
var toolEdits = []inputEdit{
	{name: "a blank's sizes", cells: map[string]any{"Parts!E3": 700, "Parts!F3": 290}},
	{name: "pitch and strip width", cells: map[string]any{"Parts!I4": 52, "Parts!H4": 70}},
	{name: "holes and bends", cells: map[string]any{"Parts!J3": 12, "Parts!K4": 0}},
	{name: "stages, face area and features that are typed", cells: map[string]any{"Operations!Q9": 4, "Operations!P9": 1111, "Operations!R9": 3}},
	{name: "what the process counts stages by", cells: map[string]any{"Operations!N21": 61}},
	{name: "what joins", cells: map[string]any{"Bill of materials!C2": 4}},
	{name: "coefficients", cells: map[string]any{"Tool relations!C3": 4.5, "Tool relations!C6": 99, "Tool relations!C13": 12}},
	{name: "a typed price", cells: map[string]any{"Operations!S12": 8800}},
	{name: "a life of a kind", cells: map[string]any{"Tool relations!C20": 40000}},
}

// toolRunAgain are edits of it that ask for a run.
var toolRunAgain = []inputEdit{
	{name: "another kind", cells: map[string]any{"Operations!E8": "hemming tool"}},
	{name: "no kind", cells: map[string]any{"Operations!E8": nil}},
	{name: "a price in an empty cell", cells: map[string]any{"Operations!S8": 5000}},
	{name: "a row that was replaced after all", cells: map[string]any{"Tool relations!E3": "replaced"}},
	{name: "another coefficient", cells: map[string]any{"Tool relations!B3": "Hours per stage"}},
	{name: "another unit", cells: map[string]any{"Tool relations!D3": "min"}},
	{name: "the kind of a row", cells: map[string]any{"Tool relations!A3": "hemming tool"}},
	{name: "a past tool, on which the sheet of fits rests", cells: map[string]any{"Past tools!C3": 39000}},
	{name: "a measured value, on which the sheet of trials rests", cells: map[string]any{"Trial values!H2": 91}},
	{name: "another gauge tried", cells: map[string]any{"Studies!E2": "1.5; 1.7"}},
	{name: "a row more", cells: map[string]any{"Tool relations!A21": "press die", "Tool relations!B21": "Toolroom rate", "Tool relations!C21": 80,
		"Tool relations!D21": "EUR/h"}},
}

// TestToolPricesRecalculated: the build-up of tool prices is formulas, which independent programs compute from poisoned values.
func TestToolPricesRecalculated(t *testing.T) {
	path := filepath.Join(t.TempDir(), "tools.xlsx")
	toolBook(t, path)
	w, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	r := resultOf(t, path)
	if r.ToolFits, err = study.FitTools(t.Context(), r.Details[0].Plan.Model, study.ToolFitOptions{}); err != nil {
		t.Fatal(err)
	}
	r.Trials = []*study.Trial{trialOfTools(t, r)}
	if err := w.Write(t.Context(), r); err != nil {
		t.Fatal(err)
	}
	if err := w.Save(t.Context(), path, SaveOptions{Replace: true}); err != nil {
		t.Fatal(err)
	}
	checkFormulas(t, path)
	residuals, differences := 0, 0
	eachFormula(t, path, func(sheet string, _ *ooxml.Cell) {
		if sheet == "Tool fits" {
			residuals++
		}
		if sheet == "Trial matrix" {
			differences++
		}
	})
	if residuals < 18 || differences < 3 {
		t.Errorf("the sheet of fits has %d formulas, that of trials %d", residuals, differences)
	}
	poison(t, path, poisonedOf(path))
	if n := comparePoisoned(t, path, poisonedOf(path)); n < 1500 {
		t.Errorf("only %d formulas", n)
	}
}

// TestToolEditsAreFollowed: after edits LibreOffice shows what a run of the edited case gives, and others ask for that run.
func TestToolEditsAreFollowed(t *testing.T) {
	dir := t.TempDir()
	plain, base := filepath.Join(dir, "plain.xlsx"), filepath.Join(dir, "tools.xlsx")
	toolBook(t, plain)
	toolBook(t, base)
	writeLive(t, base)
	before := resultOf(t, plain).Details[0].Scenario().Must("piece_cost")
	shown := editInOffice(t, base, append(append([]inputEdit{{name: "nothing"}}, toolEdits...), toolRunAgain...))
	if shown == nil {
		t.Skip("LibreOffice made no edits; that they are followed is NOT checked by an independent program")
	}
	if got := shown["nothing"]; !near(got.costs[0], before) || strings.HasPrefix(got.master, "RUN AGAIN") {
		t.Errorf("without an edit: %v", got)
	}
	for _, e := range toolEdits {
		got, path := shown[e.name], filepath.Join(t.TempDir(), "edit.xlsx")
		editWorkbookFile(t, plain, path, e)
		want := resultOf(t, path).Details[0].Scenario().Must("piece_cost")
		if !near(got.costs[0], want) || math.Abs(want-before) < 1e-6 {
			t.Errorf("%s: the workbook shows %v, the engine says %v, before %v", e.name, got.costs[0], want, before)
		}
		if strings.HasPrefix(got.master, "RUN AGAIN") {
			t.Errorf("%s: the master cell says %q", e.name, got.master)
		}
	}
	for _, e := range toolRunAgain {
		if got := shown[e.name]; !strings.HasPrefix(got.master, "RUN AGAIN") {
			t.Errorf("%s: the master cell says %q", e.name, got.master)
		}
	}
}

// TestToolHandEdits: numbers typed over the build-up in a calculation are taken over: at an operation and at a coefficient of the library.
func TestToolHandEdits(t *testing.T) {
	dir := t.TempDir()
	path, edited := filepath.Join(dir, "tools.xlsx"), filepath.Join(dir, "edited.xlsx")
	toolBook(t, path)
	writeLive(t, path)
	f, err := excelize.OpenFile(path)
	if err != nil {
		t.Fatal(err)
	}
	const calculation = "Calculation A"
	rows, err := f.GetRows(calculation, excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range []handEdit{{block: "Operations", key: "SHEET/30", heading: "Tool hours", value: 500},
		{block: "Tool relations", key: "press die", heading: "Toolroom rate", value: 91}} {
		if err := f.SetCellValue(calculation, cellOf(t, rows, e.block, e.key, e.heading), e.value); err != nil {
			t.Fatal(err)
		}
	}
	if err := f.SaveAs(edited); err != nil {
		t.Fatal(err)
	}
	f.Close()
	edits, r := editedResult(t, edited)
	if len(edits) != 2 {
		t.Errorf("found %v", edits)
	}
	for _, e := range r.Details[0].Entries("operation") {
		// by hand: 500 h at 91, 992 kg of steel at 4, 1 stage and 8 features, 16 h at 140
		if e.Record().Key == "SHEET/30" && !near(e.Must("tool_price"), 500*91+992*4+2500+8*90+16*140) {
			t.Errorf("the tool price is %v", e.Must("tool_price"))
		}
	}
	if more, _ := editedResult(t, edited); len(more) > 0 {
		t.Errorf("found again: %v", more)
	}
}
