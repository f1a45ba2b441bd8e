package scenarios

import (
	"bytes"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"piececost/scenarios/ooxml"
	"piececost/templates"
)

// nowhereNames are load and process times that name a next step where there is none, behind conditions that do not hold: all cost
// what the plain time costs.
var nowhereNames = []struct{ row, time, expression, formula string }{
	{"A01,20,", "6.5", `crew > 99 ? 6.5 + 2 * next.cycle_time : 6.5`, "6.5+2*NA()"},
	{"A02,10,", "1.6", `crew > 99 and next.crew > 1 ? 7 : 1.6`, "IF(IF("},
	{"A03,10,", "1.5", `crew < 99 or next.crew > 1 ? 1.5 : 7`, "IF(IF("},
	{"A04,20,", "6.8", `crew > 99 and (next.equipment_allocation.pooled or crew > 3) ? 7 : 6.8`, `NA()="pooled"`},
}

// TestNamesThatLeadNowhere: an expression may name what is not there behind a condition that does not hold. Its formula is one that
// spreadsheets read, gives the same number, and shows an error where the condition comes to hold.
func TestNamesThatLeadNowhere(t *testing.T) {
	tables := fstest.MapFS{}
	names, err := fs.Glob(templates.Files, "samples/battery-tray/*")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		raw, err := fs.ReadFile(templates.Files, name)
		if err != nil {
			t.Fatal(err)
		}
		if strings.HasSuffix(name, "/operations.csv") {
			for _, n := range nowhereNames {
				raw = withExpression(t, raw, n.row, n.time, n.expression)
			}
		}
		tables[filepath.Base(name)] = &fstest.MapFile{Data: raw}
	}
	dir := t.TempDir()
	plain, path := filepath.Join(dir, "plain.xlsx"), filepath.Join(dir, "nowhere.xlsx")
	saveSample(t, plain)
	saveTables(t, tables, path)
	writeLive(t, path)
	checkFormulas(t, path)
	want, got := resultOf(t, plain), resultOf(t, path)
	for i, d := range got.Details {
		if a, b := d.Scenario().Must("piece_cost"), want.Details[i].Scenario().Must("piece_cost"); a != b {
			t.Errorf("%s costs %v, %v with plain times", d.Plan.Scenario.Name, a, b)
		}
	}
	for _, n := range nowhereNames {
		found := false
		eachFormula(t, path, func(_ string, c *ooxml.Cell) { found = found || strings.Contains(c.Formula, n.formula) })
		if !found {
			t.Errorf("%s: no formula has %s", n.expression, n.formula)
		}
	}
	poisoned, opened := filepath.Join(dir, "poisoned.xlsx"), filepath.Join(dir, "opened.xlsx")
	poison(t, path, poisoned)
	editWorkbookFile(t, path, opened, inputEdit{cells: map[string]any{"Machines!J3": 100}}) // the crew of E02
	comparePoisoned(t, path, poisoned)
	for _, c := range readSummary(t, recomputed(t, opened)) {
		if c.Row > 4 && c.Col == 2 && c.Value == "#N/A" {
			return
		}
	}
	t.Error("with a crew of 100 the first scenario shows a number")
}

// withExpression puts an expression in the place of a step's time.
func withExpression(t *testing.T, table []byte, row, time, expression string) []byte {
	t.Helper()
	lines := bytes.Split(table, []byte("\n"))
	for i, l := range lines {
		if bytes.HasPrefix(l, []byte(row)) {
			if bytes.Count(l, []byte(","+time+",")) != 1 {
				t.Fatalf("%s is not once in %s", time, l)
			}
			lines[i] = bytes.Replace(l, []byte(","+time+","), []byte(`,"`+expression+`",`), 1)
			return bytes.Join(lines, []byte("\n"))
		}
	}
	t.Fatalf("no row %s", row)
	return nil
}
