package scenarios

import (
	"bytes"
	"fmt"
	"io/fs"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
	"piececost/templates"
)

// libraryElements are the names of the elements of cost in their order.
var libraryElements = sync.OnceValue(func() []string {
	lib, err := costmodel.LoadLibrary(templates.Files)
	if err != nil {
		panic(err)
	}
	var out []string
	for _, e := range lib.Elements {
		out = append(out, e.Name)
	}
	return out
})

// sweepQuantities are what a sweep computes: the piece cost, then the elements a piece.
func sweepQuantities() []string {
	out := []string{"piece_cost"}
	for _, e := range libraryElements() {
		out = append(out, "piece_"+e)
	}
	return out
}

// packagingLibrary is the library with one more element of cost, between consumables and energy: 0.25 of the currency for each
// piece put into a step.
func packagingLibrary(t *testing.T) *costmodel.Library {
	t.Helper()
	files := fstest.MapFS{}
	for _, pattern := range []string{"equations/*", "forms/*", "processes/*"} {
		names, err := fs.Glob(templates.Files, pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range names {
			raw, err := fs.ReadFile(templates.Files, name)
			if err != nil {
				t.Fatal(err)
			}
			for _, more := range [][3]string{
				{"equations/elements.yaml", "  energy: {", "  packaging_material: {label: Packaging of operations}\n"},
				{"equations/7-operation.yaml", "  energy: {", "  packaging_material: {unit: currency/yr, is: 'produced_quantity * \"0.25 currency\"'}\n"},
			} {
				if name == more[0] {
					raw = bytes.Replace(raw, []byte(more[1]), []byte(more[2]+more[1]), 1)
				}
			}
			files[name] = &fstest.MapFile{Data: raw}
		}
	}
	lib, err := costmodel.LoadLibrary(files)
	if err != nil {
		t.Fatal(err)
	}
	return lib
}

// TestElementAdded adds an element of cost to the definitions and to nothing else: it is in every sheet and table that shows the
// elements, at its place, and in every total.
func TestElementAdded(t *testing.T) {
	path := filepath.Join(t.TempDir(), "tray.xlsx")
	saveSample(t, path)
	before := resultOf(t, path)
	c, err := Read(path)
	if err != nil {
		t.Fatal(err)
	}
	r := resultWith(t, c, packagingLibrary(t))
	for i, d := range r.Details {
		pieces := 0.0
		for _, s := range d.Entries("operation") {
			pieces += s.Must("produced_quantity")
		}
		added := pieces * 0.25 / d.Volume
		s, was := d.Scenario(), before.Details[i].Scenario()
		if got := s.Must("piece_packaging_material"); added <= 1 || math.Abs(got-added) > 1e-9*added {
			t.Errorf("%s: packaging %v, want %v", d.Plan.Scenario.Name, got, added)
		}
		if got, want := s.Must("piece_cost"), was.Must("piece_cost")+added; math.Abs(got-want) > 1e-9*want {
			t.Errorf("%s: piece cost %v, want %v", d.Plan.Scenario.Name, got, want)
		}
		st := d.Statement()
		if l := st.Lines[5]; len(st.Lines) != 14 || l.Name != "packaging_material" || l.Label != "Packaging of operations" || math.Abs(l.Exact-added) > 1e-9 {
			t.Errorf("statement: %+v", st.Lines)
		}
		if col := r.Sweeps[i].Columns; len(col) != 15 || math.Abs(col[6][1]-added) > 1e-9*added {
			t.Errorf("sweep: %d columns", len(col))
		}
	}
	if table := r.Compare.Table("element"); table.Rows[5].Name != "Packaging of operations" || len(table.Rows) != 14 {
		t.Errorf("compare: %+v", table.Rows)
	}
	checkElementInWorkbook(t, path, r)
}

// checkElementInWorkbook writes the results: each sheet that shows an element shows the new one beside it, and an independent
// program computes every formula to the same figure.
func checkElementInWorkbook(t *testing.T, path string, r *Result) {
	t.Helper()
	w, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := w.Write(t.Context(), r); err != nil {
		t.Fatal(err)
	}
	if err := w.Save(t.Context(), path, SaveOptions{Replace: true}); err != nil {
		t.Fatal(err)
	}
	shown := map[string][2]int{} // sheet: cells that say Consumables, Packaging of steps
	f, err := excelize.OpenFile(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for _, sheet := range f.GetSheetList() {
		n := shown[sheet]
		for _, text := range slices.Concat(rawRows(t, f, sheet)...) {
			switch text {
			case "Consumables":
				n[0]++
			case "Packaging of operations":
				n[1]++
			}
		}
		shown[sheet] = n
	}
	var sheets []string
	for _, sheet := range sortedKeys(shown) {
		n := shown[sheet]
		if n[0] != n[1] {
			t.Errorf("%s says Consumables %d times, Packaging of operations %d times", sheet, n[0], n[1])
		}
		if n[0] > 0 {
			sheets = append(sheets, sheet)
		}
	}
	for _, want := range []string{summarySheet, breakdownSheet, partSheet, compareSheet} {
		if !slices.Contains(sheets, want) {
			t.Errorf("%s shows no elements: %v", want, sheets)
		}
	}
	t.Logf("in %v", sheets)
	compareFormulas(t, path, recomputed(t, path))
}

// TestElementWithoutCost: an element without its quantity, or one that stands nowhere, is an error at start.
func TestElementWithoutCost(t *testing.T) {
	for _, c := range []struct{ file, from, to, says string }{
		{"equations/elements.yaml", "  energy: {", "  freight_in: {}\n  energy: {", "no quantity freight_in of the operation"},
		{"equations/elements.yaml", "elements:", "quantities:", "no file lists the elements of cost"},
		{"equations/8-scenario.yaml", `  "piece_{element}":`, `  "each_{element}":`, "no quantity piece_material of the scenario"},
		{"equations/5-part.yaml", `  "{element}":`, `  "own_{element}":`, "no quantity material of the part"},
	} {
		files := fstest.MapFS{}
		for _, pattern := range []string{"equations/*", "forms/*", "processes/*"} {
			names, err := fs.Glob(templates.Files, pattern)
			if err != nil {
				t.Fatal(err)
			}
			for _, name := range names {
				raw, err := fs.ReadFile(templates.Files, name)
				if err != nil {
					t.Fatal(err)
				}
				if name == c.file {
					raw = []byte(strings.Replace(string(raw), c.from, c.to, 1))
				}
				files[name] = &fstest.MapFile{Data: raw}
			}
		}
		if _, err := costmodel.LoadLibrary(files); err == nil || !strings.Contains(fmt.Sprint(err), c.says) {
			t.Errorf("%s with %q: %v", c.file, c.to, err)
		}
	}
}
