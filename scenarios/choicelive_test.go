package scenarios

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"
)

// TestChosenMachinesInWorkbook: a workbook with chosen machines is one that an independent program computes alike; a machine's price is
// followed, with a warning that another machine may cost less; another annual volume, or a machine typed, asks for a run.
func TestChosenMachinesInWorkbook(t *testing.T) {
	s := openCase(t, "B05/20", "A05/10")
	s.copyMachine(t, "E06", "E06D", "Price=3500000", "Equipment allocation=dedicated")
	dir := t.TempDir()
	path := filepath.Join(dir, "chosen.xlsx")
	saveTables(t, s.files(t), path)
	saveResults(t, path, resultOf(t, path))
	checkFormulas(t, path)
	poison(t, path, poisonedOf(path))
	comparePoisoned(t, path, poisonedOf(path))
	for i, x := range []struct {
		cell   [4]string
		master string
		cost   bool // the piece cost is that of a run of the edited case
	}{
		{[4]string{"Machines", "E06", "Price", "3250000"}, "no errors, 2 warnings, see Checks", true},
		{[4]string{"Scenarios", "/", "B variant 1", "61000"}, "RUN AGAIN: something has changed that the formulas can't follow, see Checks", false},
		{[4]string{"Operations", "B05/20", "Machine", "E06D"}, "RUN AGAIN: something has changed that the formulas can't follow, see Checks", false},
	} {
		edited := filepath.Join(dir, fmt.Sprintf("edited%d.xlsx", i))
		if x.cell[0] == "Scenarios" {
			editWorkbookFile(t, path, edited, inputEdit{cells: map[string]any{"Scenarios!" + volumeCell(t, path, x.cell[2]): 61000.0}})
		} else {
			editQuotes(t, path, edited, [][4]string{x.cell})
		}
		if got := recomputedSheet(t, edited, "Checks")["A3"]; got != x.master {
			t.Errorf("%v: the master cell says %q, want %q", x.cell, got, x.master)
		}
		if x.cost {
			sameSummaries(t, recomputedSheet(t, edited, summarySheet), edited)
		}
	}
}

// volumeCell is the cell of a scenario's annual volume.
func volumeCell(t *testing.T, path, scenario string) string {
	t.Helper()
	c, err := Read(path)
	if err != nil {
		t.Fatal(err)
	}
	tab := c.Table("Scenarios")
	for _, row := range tab.Rows {
		for i, col := range tab.Columns {
			if strings.HasPrefix(textOf(row.Cells[2]), "Annual volume") && col.Heading == scenario {
				return row.Cells[i].Place.Cell()
			}
		}
	}
	t.Fatal("no annual volume of ", scenario)
	return ""
}

// sameSummaries: the piece costs that a spreadsheet program computed are those of a run of the same input sheets.
func sameSummaries(t *testing.T, cells map[string]string, inputs string) {
	t.Helper()
	r := resultOf(t, inputs)
	for i, d := range r.Details {
		want := d.Scenario().Must("piece_cost")
		row := 7 + len(d.Plan.Model.Schema.Elements)
		at := fmt.Sprintf("%c%d", 'B'+i, row)
		if !sameCell(cells[at], fmt.Sprintf("%.12g", want)) && !sameTo(refNumber(t, cells[at]), want, 1e-9) {
			t.Errorf("%s of Summary is %s, a run gives %v", at, cells[at], want)
		}
	}
}
