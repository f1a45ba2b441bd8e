package scenarios

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
	"piececost/costmodel/table"
)

// changedPlate writes the plate with other cells and reads it again.
func changedPlate(t *testing.T, change func(f *excelize.File) error) (*table.Case, error) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "plate.xlsx")
	f := plateBook(t, plainWords)
	if err := change(f); err != nil {
		t.Fatal(err)
	}
	if err := f.SaveAs(path); err != nil {
		t.Fatal(err)
	}
	f.Close()
	return Read(path)
}

// TestColumnsBeyond holds that no heading is dropped: one in the last column that is read counts, one beyond is an error.
func TestColumnsBeyond(t *testing.T) {
	const last, beyond = "SF", "SG" // 500 and 501
	for _, c := range []struct{ at, want string }{{last, ""},
		{beyond, "the sheet Operations has headings up to column SG, beyond the 500 columns that can be read, up to SF"}} {
		read, err := changedPlate(t, func(f *excelize.File) error {
			if err := f.SetCellStr("Operations", c.at+"1", "Crew"); err != nil {
				return err
			}
			return f.SetCellFloat("Operations", c.at+"2", 4, -1, 64)
		})
		switch {
		case c.want != "":
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("a heading in %s1: %v", c.at, err)
			}
		case err != nil:
			t.Error(err)
		default:
			if row := read.Table("Operations").Rows[0]; row.Cells[499].Number != 4 {
				t.Errorf("a heading in %s1: its cell reads %v", c.at, row.Cells[499])
			}
		}
	}
}

// TestTextBeyondCell holds that a text of more than 32,767 characters (ECMA-376 part 1, 18.4.12), which another program may
// write, is said and not cut: as a word it is an error, as a note a warning.
func TestTextBeyondCell(t *testing.T) {
	for _, c := range []struct {
		cell, text string
		want       table.Severity
	}{
		{"Parts!B2", strings.Repeat("x", 32767), ""},
		{"Parts!B2", strings.Repeat("🚀", 16384), table.Error},
		{"Parts!N2", strings.Repeat("x", 32768), table.Warning},
	} {
		path := filepath.Join(t.TempDir(), "plate.xlsx")
		f := plateBook(t, plainWords)
		sheet, cell, _ := strings.Cut(c.cell, "!")
		const mark = "a text to be replaced"
		if err := f.SetCellStr(sheet, cell, mark); err != nil {
			t.Fatal(err)
		}
		if err := f.SaveAs(path); err != nil {
			t.Fatal(err)
		}
		f.Close()
		parts := unzip(t, path)
		parts["xl/sharedStrings.xml"] = []byte(strings.Replace(string(parts["xl/sharedStrings.xml"]), mark, c.text, 1))
		rezip(t, path, parts)
		read, err := Read(path)
		if err != nil {
			t.Fatal(err)
		}
		var said table.Severity
		for _, d := range costmodel.New(read, testLibrary(t)).Diagnostics {
			if d.Place.Sheet+"!"+d.Place.Cell() == c.cell && strings.Contains(d.Summary,
				fmt.Sprintf("a text of %d characters, more than the 32767", table.Characters(c.text))) {
				said = d.Severity
			}
		}
		if said != c.want {
			t.Errorf("%s with %d characters: %q, wanted %q", c.cell, table.Characters(c.text), said, c.want)
		}
	}
}

// TestEditsBeyondListed overwrites more result cells than are listed: how many more is said.
func TestEditsBeyondListed(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "plate.xlsx")
	f := plateBook(t, plainWords)
	if err := f.SaveAs(path); err != nil {
		t.Fatal(err)
	}
	f.Close()
	runTo(t, path, path)
	f, err := excelize.OpenFile(path)
	if err != nil {
		t.Fatal(err)
	}
	changed := 0
	for _, sheet := range []string{summarySheet, breakdownSheet, billSheet, partSheet, ratesSheet, investmentSheet} {
		for row := 4; row < 120; row++ {
			for col := 1; col < 30; col++ {
				at := table.ColumnName(col) + fmt.Sprint(row)
				if formula, err := f.GetCellFormula(sheet, at); err != nil || formula == "" {
					continue
				}
				if err := f.SetCellValue(sheet, at, 987); err != nil {
					t.Fatal(err)
				}
				changed++
			}
		}
	}
	if changed < listedEdits+20 {
		t.Fatalf("only %d cells with formulas", changed)
	}
	if err := f.SaveAs(path); err != nil {
		t.Fatal(err)
	}
	f.Close()
	edits := foundEdits(t, path)
	want := fmt.Sprintf("nor are %d more changed cells, which are not listed", changed-listedEdits-1)
	if len(edits) != listedEdits+1 || !strings.Contains(edits[len(edits)-1].String(), want) {
		t.Errorf("%d cells changed, %d listed, the last as %q, wanted %q", changed, len(edits), edits[len(edits)-1], want)
	}
}
