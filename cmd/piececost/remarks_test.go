package main

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel/table"
	"piececost/scenarios/ooxml"
)

const ownNote = "Written by piececost; replaced at each run."

// runPiececost runs a command and returns what it says.
func runPiececost(t *testing.T, args ...string) (stdout, stderr string) {
	t.Helper()
	var out, errs bytes.Buffer
	c := newRoot()
	c.SetArgs(args)
	c.SetOut(&out)
	c.SetErr(&errs)
	if err := c.Execute(); err != nil {
		t.Fatalf("%v: %v\n%s", args, err, errs.String())
	}
	return out.String(), errs.String()
}

// A typed cell is what a person put into a result sheet. place is where: beside, below or between the tables, over a label.
type typedCell struct{ sheet, cell, text, place string }

// typeRemarks types into every result sheet of a workbook: a text right of a row, one below everything, one in an empty row
// between tables, and other words over a label in the first column. It returns what it typed.
func typeRemarks(t *testing.T, path string) []typedCell {
	t.Helper()
	var typed []typedCell
	editBook(t, path, func(f *excelize.File) {
		bold, err := f.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true, Color: "C00000"}})
		if err != nil {
			t.Fatal(err)
		}
		for _, sheet := range f.GetSheetList() {
			rows, err := f.GetRows(sheet, excelize.Options{RawCellValue: true})
			if err != nil {
				t.Fatal(err)
			}
			if len(rows) < 2 || len(rows[1]) == 0 || !strings.HasPrefix(rows[1][0], ownNote) || sheet == "Formula record" {
				continue
			}
			put := func(place string, row, col int) {
				cell, _ := excelize.CoordinatesToCellName(col, row)
				c := typedCell{sheet, cell, fmt.Sprintf("my remark %s %s & <more>", place, sheet), place}
				if err := f.SetCellValue(sheet, cell, c.text); err != nil {
					t.Fatal(err)
				}
				if err := f.SetCellStyle(sheet, cell, cell, bold); err != nil {
					t.Fatal(err)
				}
				typed = append(typed, c)
			}
			put("below", len(rows)+3, 2)
			empty := 0
			for i := 5; i < len(rows); i++ {
				if len(rows[i]) == 0 && len(rows[i-1]) > 0 {
					empty = i + 1
				}
			}
			if empty > 0 {
				put("between", empty, 1)
			}
			row := lastWith(rows, 2)
			put("beside", row, len(rows[row-1])+2)
			if at := labelRow(t, f, sheet, rows); at > 0 {
				put("label", at, 1)
			}
		}
	})
	return typed
}

// lastWith is the last row with some cells.
func lastWith(rows [][]string, n int) int {
	for i := len(rows) - 1; i > 0; i-- {
		if len(rows[i]) >= n {
			return i + 1
		}
	}
	return 1
}

// labelRow is the first row below the heading rows whose first cell is a word without formula, and no key of a calculation.
func labelRow(t *testing.T, f *excelize.File, sheet string, rows [][]string) int {
	for i := 3; i < len(rows); i++ {
		if len(rows[i]) == 0 || rows[i][0] == "" || strings.Trim(rows[i][0], "0123456789.") == "" {
			continue
		}
		cell := fmt.Sprintf("A%d", i+1)
		formula, err := f.GetCellFormula(sheet, cell)
		if err != nil {
			t.Fatal(err)
		}
		if formula == "" {
			return i + 1
		}
	}
	return 0
}

func editBook(t *testing.T, path string, edit func(f *excelize.File)) {
	t.Helper()
	f, err := excelize.OpenFile(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	edit(f)
	if err := lightly(f).Save(); err != nil {
		t.Fatal(err)
	}
}

// textsOf are the texts of all cells that hold a remark of the test, by sheet and cell, and how many there are of each.
func textsOf(t *testing.T, path string) (at map[string]string, count map[string]int) {
	t.Helper()
	at, count = map[string]string{}, map[string]int{}
	eachCell(t, path, func(sheet string, c *ooxml.Cell) {
		if strings.HasPrefix(c.Value, "my ") {
			at[sheet+"!"+table.ColumnName(c.Col)+strconv.Itoa(c.Row)] = c.Value
			count[c.Value]++
		}
	})
	return at, count
}

// eachCell visits the cells of a workbook, sheet by sheet.
func eachCell(t *testing.T, path string, visit func(sheet string, c *ooxml.Cell)) {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	p, err := ooxml.Open(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	for i := range p.Sheets {
		g, err := p.Read(&p.Sheets[i])
		if err != nil {
			t.Fatal(err)
		}
		for j := range g.Cells {
			visit(p.Sheets[i].Name, &g.Cells[j])
		}
	}
}

func copyFile(t *testing.T, from, to string) {
	t.Helper()
	data, err := os.ReadFile(from)
	if err == nil {
		err = os.WriteFile(to, data, 0o644)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// A costedOnce is a costed workbook of which each test of the package has a copy.
type costedOnce struct {
	once sync.Once
	data []byte
}

// copyFor writes the sample, has it prepared and costs it where no test did before, and returns a copy.
func (c *costedOnce) copyFor(t *testing.T, prepare func(path string)) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "tray.xlsx")
	c.once.Do(func() {
		first := filepath.Join(t.TempDir(), "tray.xlsx")
		runPiececost(t, "new", "--sample", "battery-tray", first)
		prepare(first)
		runPiececost(t, "run", first)
		c.data, _ = os.ReadFile(first)
	})
	if err := os.WriteFile(path, c.data, 0o644); err != nil || len(c.data) == 0 {
		t.Fatalf("%d bytes of a costed sample, %v", len(c.data), err)
	}
	return path
}

var sampleCosted, fewStudiesCosted costedOnce

// costedSample is the sample with all its result sheets.
func costedSample(t *testing.T) string {
	t.Helper()
	return sampleCosted.copyFor(t, func(string) {})
}

// costedWithFewStudies is the sample with the result sheets that every run writes, for tests of single cells in these, with a sheet
// Studies that asks for little.
func costedWithFewStudies(t *testing.T) string {
	t.Helper()
	return fewStudiesCosted.copyFor(t, func(path string) { withFewStudies(t, path) })
}

// recalculateAlways is the setting by which LibreOffice computes every formula of a workbook that it opens.
const recalculateAlways = `<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>
`

// throughOffice has LibreOffice compute a workbook and save it.
func throughOffice(t *testing.T, path string) string {
	t.Helper()
	if _, err := exec.LookPath("soffice"); err != nil {
		t.Skip("LibreOffice is not installed (Debian: libreoffice-calc-nogui); remarks in workbooks that it saved are NOT checked")
	}
	dir := t.TempDir()
	if err := os.MkdirAll(filepath.Join(dir, "profile", "user"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "profile", "user", "registrymodifications.xcu"), []byte(recalculateAlways), 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("soffice", "-env:UserInstallation=file://"+filepath.Join(dir, "profile"), "--headless", "--convert-to", "xlsx", "--outdir",
		dir, path).CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	return filepath.Join(dir, filepath.Base(path))
}

// throughGnumeric has gnumeric compute a workbook, which it does in a third of the time.
func throughGnumeric(t *testing.T, path string) string {
	t.Helper()
	if _, err := exec.LookPath("ssconvert"); err != nil {
		t.Skip("gnumeric is not installed (Debian: gnumeric); the formulas are NOT computed by it")
	}
	out := filepath.Join(t.TempDir(), filepath.Base(path))
	if said, err := exec.Command("ssconvert", "--recalc", path, out).CombinedOutput(); err != nil {
		t.Fatalf("%v: %.500s", err, said)
	}
	return out
}

// officeToo has LibreOffice save a workbook with remarks in between, which takes as long as all else in TestRemarks; TestNoFalseEdits of package
// scenarios has it save one in every test.
var officeToo = flag.Bool("office-too", false, "LibreOffice saves workbooks with remarks too, as in make check")

// TestRemarks types remarks into every result sheet, in a workbook as it was written and in one that LibreOffice saved in
// between: each stays in its cell, words over a label are in Overrides with their place, and further runs change nothing.
func TestRemarks(t *testing.T) {
	written := costedSample(t)
	for _, office := range []bool{false, true} {
		if office && !*officeToo {
			continue
		}
		t.Run(map[bool]string{false: "as written", true: "saved by LibreOffice"}[office], func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "tray.xlsx")
			copyFile(t, written, path)
			typed := typeRemarks(t, path)
			if len(typed) < 60 {
				t.Fatalf("only %d remarks typed", len(typed))
			}
			if office {
				path = throughOffice(t, path)
			}
			_, said := runPiececost(t, "run", path)
			checkRemarks(t, path, typed, said)
			_, said = runPiececost(t, "run", path)
			if strings.Contains(said, "carried") || strings.Contains(said, "changed by hand") {
				t.Errorf("the second run says %s", said)
			}
			if office { // as with the one that was never there
				return
			}
			before, _ := os.ReadFile(path)
			runPiececost(t, "run", path)
			checkRemarks(t, path, typed, "")
			if after, _ := os.ReadFile(path); !bytes.Equal(before, after) {
				t.Error("a third run gives other bytes")
			}
		})
	}
}

func checkRemarks(t *testing.T, path string, typed []typedCell, said string) {
	t.Helper()
	at, count := textsOf(t, path)
	carried := 0
	for _, c := range typed {
		if want := map[bool]int{true: 3, false: 1}[c.place == "label"]; count[c.text] != want { // Input record lists Overrides too, then and now
			t.Errorf("%q is there %d times", c.text, count[c.text])
		}
		switch stays := at[c.sheet+"!"+c.cell] == c.text; {
		case c.place == "label":
			carried++
			if stays {
				t.Errorf("the label at %s!%s is not written anew", c.sheet, c.cell)
			}
		case c.sheet == "Input record" && len(at) > 0: // it has grown by the rows of Overrides
		case !stays:
			t.Errorf("%q is not in %s!%s any more", c.text, c.sheet, c.cell)
		}
	}
	overrides := strings.Join(overrideRows(t, path), "\n")
	for _, c := range typed {
		if c.place == "label" && !strings.Contains(overrides, "|"+c.text+"|label|"+c.sheet+"!"+c.cell+"|") {
			t.Errorf("Overrides has no label of %s!%s:\n%s", c.sheet, c.cell, overrides)
		}
	}
	if said != "" && (!strings.Contains(said, fmt.Sprintf("%d remarks in the result sheets kept", len(typed)-carried)) ||
		!strings.Contains(said, fmt.Sprintf("%d remarks in the result sheets carried to the sheet Overrides", carried)) ||
		strings.Contains(said, "changed by hand")) {
		t.Errorf("said: %s", said)
	}
}

// overrideRows are the rows of Overrides, cells between bars.
func overrideRows(t *testing.T, path string) []string {
	t.Helper()
	f, err := excelize.OpenFile(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if i, err := f.GetSheetIndex("Overrides"); err != nil || i < 0 {
		return nil
	}
	rows, err := f.GetRows("Overrides")
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, r := range rows {
		out = append(out, strings.Join(r, "|")+"|")
	}
	return out
}

// cells reads some cells of a workbook.
func cellOf(t *testing.T, f *excelize.File, sheet, cell string) (value, formula string) {
	t.Helper()
	value, err := f.GetCellValue(sheet, cell, excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	if formula, err = f.GetCellFormula(sheet, cell); err != nil {
		t.Fatal(err)
	}
	return value, formula
}

// rowOf finds the row of a label in the first column, from a row on.
func rowOf(t *testing.T, f *excelize.File, sheet, label string, from int) int {
	t.Helper()
	rows, err := f.GetRows(sheet)
	if err != nil {
		t.Fatal(err)
	}
	for i, r := range rows {
		if i+1 >= from && (len(r) == 0 && label == "" || len(r) > 0 && r[0] == label) {
			return i + 1
		}
	}
	return len(rows) + 1
}

// TestRemarksMove adds a step to a part between two runs and takes one out: a remark follows its row
// by its label and stays right of it, one below a table stays as far below it, formulas lead where they led, and what has
// no row any more is in Overrides with its words and place.
func TestRemarksMove(t *testing.T) {
	path := costedWithFewStudies(t)
	editBook(t, path, func(f *excelize.File) {
		steps := rowOf(t, f, "Cost breakdown", "A baseline by operation and element", 1)
		total := rowOf(t, f, "Cost breakdown", "Total", steps)
		set := func(sheet string, row, col int, v string) {
			cell, _ := excelize.CoordinatesToCellName(col, row)
			var err error
			if err = f.SetCellValue(sheet, cell, v); strings.HasPrefix(v, "=") {
				err = f.SetCellFormula(sheet, cell, v[1:])
			}
			if err != nil {
				t.Fatal(err)
			}
		}
		for _, step := range []string{"A01/20", "A06/10", "TRAY_A/10"} {
			row := rowOf(t, f, "Cost breakdown", step, steps)
			if row > total {
				t.Fatalf("no operation %s", step)
			}
			set("Cost breakdown", row, 17, "my word on "+step)
			set("Cost breakdown", row, 18, fmt.Sprintf(`=$O%d*2&Case!C7&Q%d&"O%d"`, row, row, row))
		}
		set("Cost breakdown", total+1, 1, "my word below")
		// a step more, and another under a new number
		n := rowOf(t, f, "Operations", "A01", 1)
		if err := f.DuplicateRow("Operations", n+1); err != nil {
			t.Fatal(err)
		}
		set("Operations", n+2, 2, "15")
		gone := rowOf(t, f, "Operations", "A06", 1)
		if v, _ := cellOf(t, f, "Operations", fmt.Sprintf("A%d", gone+1)); v == "A06" {
			t.Fatal("the part has several operations")
		}
		set("Operations", gone, 2, "11")
	})
	_, said := runPiececost(t, "run", path)
	f, err := excelize.OpenFile(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	steps := rowOf(t, f, "Cost breakdown", "A baseline by operation and element", 1)
	for _, step := range []string{"A01/20", "TRAY_A/10"} {
		row := rowOf(t, f, "Cost breakdown", step, steps)
		if v, _ := cellOf(t, f, "Cost breakdown", fmt.Sprintf("Q%d", row)); v != "my word on "+step {
			t.Errorf("beside %s stands %q", step, v)
		}
		if v, formula := cellOf(t, f, "Cost breakdown", fmt.Sprintf("R%d", row)); formula != fmt.Sprintf(`$O%d*2&Case!C7&Q%d&"O%s"`, row, row,
			formula[strings.LastIndex(formula, "O")+1:len(formula)-1]) {
			t.Errorf("the formula beside %s is %q, %q", step, formula, v)
		}
	}
	if v, _ := cellOf(t, f, "Cost breakdown", fmt.Sprintf("A%d", rowOf(t, f, "Cost breakdown", "Total", steps)+1)); v != "my word below" {
		t.Errorf("below the table stands %q", v)
	}
	overrides := strings.Join(overrideRows(t, path), "\n")
	if !strings.Contains(overrides, "|Cost breakdown|A06/10||my word on A06/10|remark|Cost breakdown!Q") ||
		!strings.Contains(said, "my word on A06/10: its row is no longer there") {
		t.Errorf("the remark of an operation that is gone is lost: %s\n%s", overrides, said)
	}
}

// TestSummaryTypedOver types a number over an element of a scenario in Summary. LibreOffice, which knows only the workbook,
// finds the check failed; the next run finds the edit, writes the element anew and says so.
func TestSummaryTypedOver(t *testing.T) {
	path := costedWithFewStudies(t)
	editBook(t, path, func(f *excelize.File) {
		row := rowOf(t, f, "Summary", "Labour", 1)
		if err := f.SetCellValue("Summary", fmt.Sprintf("C%d", row), 1.5); err != nil {
			t.Fatal(err)
		}
	})
	f, err := excelize.OpenFile(throughGnumeric(t, path))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := f.GetRows("Checks")
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range rows {
		if len(r) > 5 && strings.HasPrefix(r[0], "Summary as shown") {
			if want := map[bool]string{true: "error", false: "passed"}[strings.HasPrefix(r[1], "B ")]; r[5] != want {
				t.Errorf("%q", r)
			}
		}
	}
	if v, _ := cellOf(t, f, "Summary", "A3"); v != "1 error, see Checks" {
		t.Errorf("the status is %q", v)
	}
	if _, said := runPiececost(t, "run", path); !strings.Contains(said, "1 cell changed by hand") ||
		!strings.Contains(said, "Summary!C13: 1.5 is not taken over") {
		t.Errorf("said: %s", said)
	}
	if rows := overrideRows(t, path); len(rows) != 6 || !strings.Contains(rows[5], "|Summary|Labour|B variant 1|1.5|not taken over|Summary!C13|") {
		t.Errorf("%q", rows)
	}
}

// TestRemarkDrawn: a run that would take a chart of a person's away writes nothing, and a copy without it when asked to.
func TestRemarkDrawn(t *testing.T) {
	path := costedWithFewStudies(t)
	editBook(t, path, func(f *excelize.File) {
		if err := f.AddChart("Hourly rates", "B60", &excelize.Chart{Type: excelize.Col, Series: []excelize.ChartSeries{
			{Values: "'Hourly rates'!$C$7:$C$9"}}}); err != nil {
			t.Fatal(err)
		}
	})
	before, _ := os.ReadFile(path)
	c := newRoot()
	c.SetArgs([]string{"run", path})
	c.SetErr(&bytes.Buffer{})
	c.SetOut(&bytes.Buffer{})
	if err := c.Execute(); err == nil || !strings.Contains(err.Error(), "Hourly rates: 1 chart") {
		t.Errorf("it runs: %v", err)
	}
	if after, _ := os.ReadFile(path); !bytes.Equal(before, after) {
		t.Error("the workbook has changed")
	}
	if _, said := runPiececost(t, "run", path, "-o", path+".copy.xlsx"); !strings.Contains(said, "Hourly rates: 1 chart") {
		t.Errorf("said: %s", said)
	}
}

// TestRemarkNotes attaches notes to cells of result sheets: they are there after further runs, and gone once deleted.
func TestRemarkNotes(t *testing.T) {
	path := costedWithFewStudies(t)
	notes := map[string]excelize.Comment{
		"Summary": {Cell: "C12", Author: "buyer", Text: "why so much?"}, "Cost over volume": {Cell: "K40", Author: "", Text: "two\nlines & <more>"},
		"Calculation A baseline": {Cell: "H30", Author: "cost", Text: "agreed"},
	}
	editBook(t, path, func(f *excelize.File) {
		for sheet, c := range notes {
			if err := f.AddComment(sheet, c); err != nil {
				t.Fatal(err)
			}
		}
	})
	for i := range 3 {
		if i == 2 {
			editBook(t, path, func(f *excelize.File) {
				if err := f.DeleteComment("Summary", "C12"); err != nil {
					t.Fatal(err)
				}
			})
			delete(notes, "Summary")
		}
		runPiececost(t, "run", path)
		f, err := excelize.OpenFile(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, sheet := range []string{"Summary", "Cost over volume", "Calculation A baseline", "Cost breakdown"} {
			got, err := f.GetComments(sheet)
			if err != nil {
				t.Fatal(err)
			}
			want, there := notes[sheet]
			if len(got) > 1 || there != (len(got) == 1) || there && (got[0].Text != want.Text || got[0].Cell != want.Cell ||
				got[0].Author != want.Author && want.Author != "") {
				t.Errorf("run %d: %s has %+v", i, sheet, got)
			}
		}
		f.Close()
	}
}
