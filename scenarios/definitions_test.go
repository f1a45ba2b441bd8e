package scenarios

import (
	"bytes"
	"context"
	"maps"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
	"piececost/costmodel/table"
)

// sawingCopy is a copy of a process of the library, as rows.
func sawingCopy(t testing.TB, processes *table.Table) []costmodel.OwnRow {
	t.Helper()
	lib := testLibrary(t)
	rows, err := lib.OwnCopy(lib.Find("tube sawing"), "", processes)
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// addSawing puts the copy into a file, in place, and returns the rows where it is.
func addSawing(t testing.TB, path string) (first, last int, err error) {
	t.Helper()
	w, err := Open(path)
	if err != nil {
		return 0, 0, err
	}
	first, last, err = w.AddDefinitions(sawingCopy(t, nil), testLibrary(t))
	if err != nil {
		return 0, 0, err
	}
	return first, last, w.Save(context.Background(), path, SaveOptions{Replace: true})
}

// definitionSheets are what a workbook may have as the sheet Processes; nil for none.
var definitionSheets = map[string]func(t *testing.T, f *excelize.File){
	"none":    nil,
	"empty":   func(*testing.T, *excelize.File) {},
	"starter": func(*testing.T, *excelize.File) {},
	"with rows of the user's": func(t *testing.T, f *excelize.File) {
		bold, err := f.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true}, NumFmt: 9}) // percent
		if err != nil {
			t.Fatal(err)
		}
		for cell, v := range map[string]any{"A3": "my processes", "B5": "Process", "C5": "Quantity", "D5": "Note", "E5": "Formula", "F5": "Unit",
			"B6": "washing", "C6": "load_and_process_time", "E6": 40, "F6": "s", "D6": "measured", "C9": "a remark", "H40": "far below", "H7": "beside"} {
			if err := f.SetCellValue("Processes", cell, v); err != nil {
				t.Fatal(err)
			}
		}
		for _, err := range []error{f.SetCellStyle("Processes", "E6", "E20", bold), f.MergeCell("Processes", "B10", "C12"),
			f.AddComment("Processes", excelize.Comment{Cell: "E6", Author: "me", Text: "a stopwatch"}), f.SetRowHeight("Processes", 14, 30)} {
			if err != nil {
				t.Fatal(err)
			}
		}
	},
}

// TestAddDefinitions: rows of a copy stand below those that are there, in the columns that the sheet has; every other cell, style, note
// and part of the workbook is as it was, and so is every other sheet of the case.
func TestAddDefinitions(t *testing.T) {
	for name, make := range definitionSheets {
		path := filepath.Join(t.TempDir(), "plate.xlsx")
		f := plateBook(t, plainWords)
		userSheets(t, f)
		if name != "starter" {
			if err := f.DeleteSheet("Processes"); err != nil {
				t.Fatal(err)
			}
		}
		if make != nil {
			if _, err := f.NewSheet("Processes"); err != nil {
				t.Fatal(err)
			}
			make(t, f)
		}
		if err := f.SaveAs(path); err != nil {
			t.Fatal(err)
		}
		f.Close()
		before := unzip(t, path)
		userPartsByHand(t, before)
		path = strings.TrimSuffix(path, ".xlsx") + ".xlsm"
		rezip(t, path, before)
		was, err := Read(path)
		if err != nil {
			t.Fatal(err)
		}
		first, last, err := addSawing(t, path)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		is, err := Read(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, old := range was.Tables {
			now := is.Table(old.Sheet)
			if old.Sheet == "Processes" && len(old.Columns) > 0 {
				now.Rows = now.Rows[:len(old.Rows)]
			}
			if (old.Sheet != "Processes" || len(old.Columns) > 0) && !reflect.DeepEqual(old, now) {
				t.Errorf("%s: the sheet %s reads otherwise", name, old.Sheet)
			}
		}
		if is, err = Read(path); err != nil { // once more, for rows were cut off
			t.Fatal(err)
		}
		checkCopied(t, name, is.Table("Processes"), first, last)
		after := unzip(t, path)
		if name == "none" {
			checkUserParts(t, before, after)
		} else {
			checkOnlyPart(t, before, after, "xl/workbook.xml", partOfSheet(t, path, "Processes"))
		}
		if first, _, err = addSawing(t, path); err == nil && first != last+1 {
			t.Errorf("%s: a second copy stands in row %d, not %d", name, first, last+1)
		}
	}
}

// checkCopied: the rows mean what the library says.
func checkCopied(t *testing.T, name string, sheet *table.Table, first, last int) {
	t.Helper()
	rows := sawingCopy(t, nil)
	if last-first+1 != len(rows) {
		t.Fatalf("%s: rows %d to %d", name, first, last)
	}
	if want := map[string]int{"none": 2, "empty": 2, "starter": 12, "with rows of the user's": 13}[name]; first != want {
		t.Errorf("%s: the copy begins in row %d, not %d", name, first, want)
	}
	for _, row := range sheet.Rows {
		i := row.Number - first
		if i < 0 || i >= len(rows) {
			continue
		}
		r := rows[i]
		got := costmodel.OwnRow{Process: sheet.TextAt(row, "process"), Quantity: sheet.TextAt(row, "quantity"), Unit: sheet.TextAt(row, "unit"),
			Note: sheet.TextAt(row, "note"), Source: r.Source}
		for _, heading := range []string{"formula_or_value", "formula"} {
			got.Formula += sheet.TextAt(row, heading)
			if sheet.ValueAt(row, heading).Percent {
				t.Errorf("%s: row %d is formatted as percent", name, row.Number)
			}
		}
		if got != r {
			t.Errorf("%s: row %d is %q, want %q", name, row.Number, got, r)
		}
	}
}

// checkOnlyPart: parts but those named are the same to the byte, and of these all elements are there in their order.
func checkOnlyPart(t *testing.T, before, after map[string][]byte, but ...string) {
	t.Helper()
	if a, b := slices.Sorted(maps.Keys(before)), slices.Sorted(maps.Keys(after)); !slices.Equal(a, b) {
		t.Errorf("parts were %q and are %q", a, b)
	}
	for name, data := range before {
		if !slices.Contains(but, name) {
			if !bytes.Equal(data, after[name]) {
				t.Errorf("%s has changed", name)
			}
			continue
		}
		was := slices.DeleteFunc(elementsOf(t, data), func(e string) bool { return strings.HasPrefix(e, "dimension") || strings.HasPrefix(e, "calcPr") })
		checkElements(t, name, emptyCellsOut(was), emptyCellsOut(elementsOf(t, after[name])))
	}
}

// emptyCellsOut leaves out cells, for those without a value may get one.
func emptyCellsOut(elements []string) []string {
	return slices.DeleteFunc(elements, func(e string) bool { return strings.HasPrefix(e, "c[") })
}

func partOfSheet(t *testing.T, path, sheet string) string {
	t.Helper()
	w, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	return w.pack.PartOf(w.pack.Sheet(sheet))
}

// TestAddDefinitionsRefused: with a reason, and nothing written.
func TestAddDefinitionsRefused(t *testing.T) {
	for want, make := range map[string]func(f *excelize.File) error{
		"the sheet Processes is protected; unprotect it": func(f *excelize.File) error {
			return f.ProtectSheet("Processes", &excelize.SheetProtectionOptions{Password: "x"})
		},
		`the sheet Processes has no column "Quantity"; add it to the heading row, or rename the sheet if it is your own`: func(f *excelize.File) error {
			return f.SetSheetRow("Processes", "A1", &[]any{"Process", "Duration"})
		},
		`the sheet Processes has no column "Formula or value"`: func(f *excelize.File) error {
			return f.SetSheetRow("Processes", "A1", &[]any{"Process", "Quantity"})
		},
	} {
		path := filepath.Join(t.TempDir(), "plate.xlsx")
		f := plateBook(t, plainWords)
		if err := f.DeleteSheet("Processes"); err != nil {
			t.Fatal(err)
		}
		if _, err := f.NewSheet("Processes"); err != nil {
			t.Fatal(err)
		}
		if err := make(f); err != nil {
			t.Fatal(err)
		}
		if err := f.SaveAs(path); err != nil {
			t.Fatal(err)
		}
		f.Close()
		before := readFile(t, path)
		if _, _, err := addSawing(t, path); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %q", err, want)
		}
		if !bytes.Equal(before, readFile(t, path)) {
			t.Errorf("%s: the file was written", want)
		}
	}
}
