package scenarios

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"piececost/scenarios/ooxml"
)

// ownDefinitionRows are rows of the sheet Processes: a process with bare numbers, a level of temperature, a percent, a condition and
// a check; one that is based on another; a form of material of its own; an equation of all operations.
var ownDefinitionRows = [][]any{
	{"moulding", "wall", "mm", 3}, {"moulding", "melt", "degC", 290}, {"moulding", "slow_share", "%", 12},
	{"moulding", "check", "", "melt > 200", "too cold"},
	{"moulding", "load_and_process_time", "s", `wall > 2 ? 12 + wall / "0.4 mm/s" * (1 + slow_share) : 8`},
	{"my trimming", "based on", "", "laser trimming"}, {"my trimming", "load_and_process_time", "s", 1.5},
	{"form: with runner", "runner", "g", 12}, {"form: with runner", "gross_mass", "kg", "net_mass_of_this_level + runner / 2"},
	{"all operations", "overhead", "EUR/yr", "plant.indirect_labour_share * labour + 100"},
}

// TestOwnDefinitionsRecalculated: what a workbook defines for itself is live formulas like everything else: an independent program
// computes each from poisoned values, a curve and an own form of material among them.
func TestOwnDefinitionsRecalculated(t *testing.T) {
	dir := t.TempDir()
	from, path := filepath.Join(dir, "plate.xlsx"), filepath.Join(dir, "own.xlsx")
	f := plateBook(t, plainWords)
	cells := map[string]any{"Parts!D2": "with runner", "Parts!P2": 0.31, "Parts!F2": nil, "Parts!G2": nil, "Parts!H2": nil, "Parts!J2": nil, "Parts!K2": nil,
		"Operations!D2": "example gap filling", "Operations!H2": nil, "Operations!X1": "Pad length [mm]", "Operations!Y1": "Pad width [mm]",
		"Operations!X2": 400, "Operations!Y2": 300}
	for i, process := range []string{"moulding", "my trimming"} {
		for col, v := range map[string]any{"A": plainWords.part, "B": 20 + 10*i, "D": process, "E": plainWords.machine, "O": 10, "P": 1000} {
			cells[fmt.Sprintf("Operations!%s%d", col, 3+i)] = v
		}
	}
	for i, row := range ownDefinitionRows {
		for c, v := range row {
			if v == "" { // which a spreadsheet program would not store
				continue
			}
			cells[fmt.Sprintf("Processes!%s%d", string(rune('A'+c)), 12+i)] = v
		}
	}
	for at, v := range cells {
		sheet, cell, _ := strings.Cut(at, "!")
		if err := f.SetCellValue(sheet, cell, v); err != nil {
			t.Fatal(err)
		}
	}
	if err := f.SaveAs(from); err != nil {
		t.Fatal(err)
	}
	f.Close()
	runTo(t, from, path)
	checkFormulas(t, path)
	interpolated := false
	eachFormula(t, path, func(_ string, c *ooxml.Cell) { interpolated = interpolated || strings.Contains(c.Formula, "Tables!") })
	if !interpolated {
		t.Error("no formula reads the sheet Tables")
	}
	r := resultOf(t, path)
	for name, want := range map[string][3]float64{
		// by hand: 417.6 g of paste at 6.6 g/s and 12 s; a wall of 3 mm; typed
		"load_and_process_time": {12 + 417.6/6.6, 12 + 3/0.4*1.12, 1.5},
	} {
		for i, e := range r.Details[0].Entries("operation") {
			if got := e.Must(name); got-want[i] > 1e-9 || want[i]-got > 1e-9 {
				t.Errorf("%s of operation %d is %v, want %v", name, i, got, want[i])
			}
		}
	}
	if got, want := r.Details[0].Entries("part")[0].Must("gross_mass"), 0.31+0.006; got-want > 1e-12 || want-got > 1e-12 {
		t.Errorf("the gross mass is %v, want %v", got, want)
	}
	poison(t, path, poisonedOf(path))
	n, differences := formulaDifferences(t, path, filepath.Join(recalculate(t, poisonedOf(path)), filepath.Base(poisonedOf(path))))
	for _, d := range differences[:min(len(differences), 8)] {
		t.Error(d)
	}
	t.Logf("%d formulas, %d differ", n, len(differences))
	if n < 200 || len(differences) > 0 {
		t.Errorf("%d formulas, %d differ", n, len(differences))
	}
}
