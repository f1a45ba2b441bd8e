package scenarios

import (
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel/table"
	"piececost/scenarios/sheetformula"
	"piececost/templates"
)

// startedFrom makes a workbook from a sample's folder.
func startedFrom(t testing.TB, sample string) *Workbook {
	t.Helper()
	tables, err := fs.Sub(templates.Files, "samples/"+sample)
	if err != nil {
		t.Fatal(err)
	}
	w, err := Starter(tables, testLibrary(t))
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// TestFormatsReachAsFarAsValidations holds that the percent format, the ranges and the lists of every column go down to the
// last row of the sheet: in an empty workbook, in the sample, and after an import longer than what is marked.
func TestFormatsReachAsFarAsValidations(t *testing.T) {
	long := startedFrom(t, "empty")
	if _, err := long.Import(manyOperations(1200), ImportOptions{Library: testLibrary(t)}); err != nil {
		t.Fatal(err)
	}
	for name, w := range map[string]*Workbook{"empty": startedFrom(t, "empty"), "sample": startedFrom(t, "battery-tray"), "imported": long} {
		columns := 0
		for _, l := range table.Layouts {
			if l.Shape == table.ColumnsAre {
				continue
			}
			heads, err := w.f.GetRows(l.Sheet)
			if err != nil || len(heads) == 0 {
				continue
			}
			for c, heading := range heads[0] {
				if _, unit, _ := table.SplitHeading(heading); unit == "%" {
					columns++
					reaches(t, w, l.Sheet, c+1, fmt.Sprintf("%s, %s, %s", name, l.Sheet, heading))
				}
			}
		}
		if columns < 4 {
			t.Errorf("%s: %d columns in percent were looked at", name, columns)
		}
	}
}

// reaches looks at the format of the column, which a cell takes that is typed below the others, and at its range.
func reaches(t *testing.T, w *Workbook, sheet string, col int, what string) {
	t.Helper()
	letters, err := excelize.ColumnNumberToName(col)
	if err != nil {
		t.Fatal(err)
	}
	id, err := w.f.GetColStyle(sheet, letters)
	if err != nil {
		t.Fatal(err)
	}
	style, err := w.f.GetStyle(id)
	if err != nil || style.CustomNumFmt == nil || !strings.Contains(*style.CustomNumFmt, "%") {
		t.Errorf("%s: the column is not formatted as percent", what)
	}
	all, err := w.f.GetDataValidations(sheet)
	if err != nil {
		t.Fatal(err)
	}
	for _, dv := range all {
		if dv.Sqref == fmt.Sprintf("%s2:%s%d", letters, letters, sheetformula.LastRow) {
			return
		}
	}
	t.Errorf("%s: no range down to the last row", what)
}

// manyOperations is operations of more rows than an empty workbook marks, with a share that the sheet has in no column yet.
func manyOperations(rows int) fstest.MapFS {
	text := strings.Builder{}
	text.WriteString("Part,Operation,Reject rate [%],Defect share [%],Rework share [%]\n")
	for i := range rows {
		fmt.Fprintf(&text, "P%d,10,4,1,2\n", i)
	}
	return fstest.MapFS{"operations.csv": {Data: []byte(text.String())}}
}

// TestSharesStayFractions holds that a share is a fraction formatted as percent, in Plants and Case too, and that an empty
// formatted cell is no row.
func TestSharesStayFractions(t *testing.T) {
	w := startedFrom(t, "empty")
	tables := manyOperations(30)
	tables["plants.csv"] = &fstest.MapFile{Data: []byte("Quantity,Unit,North,South\nPlanned capacity utilisation,%,80,75\nLine-balance " +
		"efficiency,1,0.9,0.85\n")}
	if _, err := w.Import(tables, ImportOptions{Library: testLibrary(t)}); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "shares.xlsx")
	if err := w.Save(t.Context(), path, SaveOptions{}); err != nil {
		t.Fatal(err)
	}
	c, err := Read(path)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(c.Table("Operations").Rows); n != 30 {
		t.Errorf("%d rows, want 30", n)
	}
	for _, row := range c.Table("Plants").Rows {
		v := row.Cells[2]
		switch row.Cells[0].Text {
		case "Planned capacity utilisation":
			if !v.Percent || v.Number != 0.8 {
				t.Errorf("planned capacity utilisation %+v, want 80 %% as a fraction", v)
			}
		case "Line-balance efficiency":
			if v.Percent || v.Number != 0.9 || row.Cells[1].Number != 1 && row.Cells[1].Text != "1" {
				t.Errorf("line-balance efficiency %+v in %q, want 0.9 in 1", v, row.Cells[1].Text)
			}
		}
	}
	all, err := w.f.GetDataValidations("Plants")
	if err != nil {
		t.Fatal(err)
	}
	south := 0
	for _, dv := range all {
		if strings.HasSuffix(dv.Sqref, "15") {
			t.Errorf("line-balance efficiency is no percent any more, but has a range in %s", dv.Sqref)
		}
		if strings.HasPrefix(dv.Sqref, "F") {
			south++
		}
	}
	if south < 3 {
		t.Errorf("%d ranges in the column of the second plant", south)
	}
}

// TestKeyListsGrow holds that drop-downs of keys offer the last key of a long import.
func TestKeyListsGrow(t *testing.T) {
	text := strings.Builder{}
	text.WriteString("Part,Form\n")
	for i := range offeredKeys + 10 {
		fmt.Fprintf(&text, "P%d,assembly\n", i)
	}
	w := startedFrom(t, "empty")
	if _, err := w.Import(fstest.MapFS{"parts.csv": {Data: []byte(text.String())}}, ImportOptions{Library: testLibrary(t)}); err != nil {
		t.Fatal(err)
	}
	all, err := w.f.GetDataValidations("Operations")
	if err != nil {
		t.Fatal(err)
	}
	found := false
	for _, dv := range all {
		found = found || dv.Formula1 == fmt.Sprintf("Parts!$A$2:$A$%d", 2*offeredKeys+11)
	}
	if !found {
		t.Error("no list of Operations reaches the last part")
	}
}
