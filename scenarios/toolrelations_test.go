package scenarios

import (
	"bytes"
	"path/filepath"
	"slices"
	"testing"

	"github.com/xuri/excelize/v2"
)

// TestAddRelations: rows go below those that are there, in the columns that the sheet has; a column that it lacks is added at its right;
// rows that are replaced say so; every other cell and every other part of the workbook is as it was.
func TestAddRelations(t *testing.T) {
	rows := []RelationRow{{Kind: "press die", Coefficient: "Toolroom rate", Value: 70, Unit: "EUR/h", State: "replaced", Source: "placeholder of the library"},
		{Kind: "press die", Coefficient: "Toolroom rate", Value: 81.25, Unit: "EUR/h", State: "fitted", Date: "2026-01-31", Count: 9, Note: "=1+1"}}
	for name, make := range map[string]func(f *excelize.File){
		"none":    func(f *excelize.File) { f.DeleteSheet("Tool relations") },
		"starter": func(*excelize.File) {},
		"the user's": func(f *excelize.File) {
			f.DeleteSheet("Tool relations")
			f.NewSheet("Tool relations")
			for cell, v := range map[string]any{"B3": "Coefficient", "C3": "Tool kind", "D3": "Unit", "F3": "Value", "G3": "mine",
				"B4": "Toolroom rate", "C4": "press die",
				"D4": "EUR/h", "F4": 66, "G4": "keep", "B5": "Base hours", "C5": "press die", "D5": "h", "F5": 41, "H9": "a remark"} {
				f.SetCellValue("Tool relations", cell, v)
			}
		},
	} {
		path := filepath.Join(t.TempDir(), "plate.xlsx")
		f := plateBook(t, plainWords)
		userSheets(t, f)
		f.SetCellValue("Machines", "O2", nil) // a remark of the user's, where a machine says its processes
		make(f)
		if err := f.SaveAs(path); err != nil {
			t.Fatal(err)
		}
		f.Close()
		before := unzip(t, path)
		w, err := Open(path)
		if err != nil {
			t.Fatal(err)
		}
		var replaced []int
		want, kept := 2, map[string]string{}
		if name == "the user's" {
			replaced, want, kept = []int{4}, 6, map[string]string{"G4": "keep", "B5": "Base hours", "F5": "41", "H9": "a remark",
				"I3": "State", "I4": "replaced", "F4": "66",
				"C6": "press die", "F7": "81.25", "I7": "fitted", "J3": "Date", "J7": "2026-01-31", "K7": "9", "M7": "=1+1"}
		}
		first, last, err := w.AddRelations(ToolRelations, rows, replaced, testLibrary(t))
		if err != nil || first != want || last != first+1 {
			t.Fatalf("%s: rows %d to %d, %v", name, first, last, err)
		}
		if err := w.Save(t.Context(), path, SaveOptions{Replace: true}); err != nil {
			t.Fatal(err)
		}
		after := unzip(t, path)
		if name != "none" {
			but := []string{"xl/workbook.xml", partOfSheet(t, path, "Tool relations")}
			for part, data := range before {
				if !slices.Contains(but, part) && !bytes.Equal(data, after[part]) {
					t.Errorf("%s: %s has changed", name, part)
				}
			}
		}
		g, err := excelize.OpenFile(path)
		if err != nil {
			t.Fatal(err)
		}
		for cell, text := range kept {
			if got, err := g.GetCellValue("Tool relations", cell); err != nil || got != text {
				t.Errorf("%s: %s holds %q, want %q (rows from %d)", name, cell, got, text, first)
			}
		}
		g.Close()
		e := resultOf(t, path)
		if len(e.Details) == 0 {
			t.Errorf("%s: the case is not costed any more", name)
		}
	}
}
