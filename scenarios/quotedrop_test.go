package scenarios

import (
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// TestQuoteDropDowns: the choices of templates/quotes stand in the lists of a new workbook, in the columns of quotes that are added too, and each row
// and heading that has a note shows it.
func TestQuoteDropDowns(t *testing.T) {
	lib, err := testLibrary(t).Quotes()
	if err != nil {
		t.Fatal(err)
	}
	w := startedFrom(t, "empty")
	rows, err := w.f.GetRows("Quotes")
	if err != nil {
		t.Fatal(err)
	}
	choices := 0
	for i, row := range rows[1:] {
		name := strings.ReplaceAll(strings.ToLower(row[0]), " ", "_")
		it := lib.Describe("quote", name)
		if it == nil || len(it.Options) == 0 {
			continue
		}
		choices++
		for _, col := range []int{4, 6, 20} {
			cell, _ := excelize.CoordinatesToCellName(col, i+2)
			if got := listAt(t, w.f, "Quotes", cell); got != strings.Join(it.Options, ",") {
				t.Errorf("%s at %s offers %q", row[0], cell, got)
			}
		}
	}
	if choices != 5 { // delivery term, tool owner, scrap, reduction base, index clause
		t.Errorf("%d rows with choices", choices)
	}
	for _, c := range []struct{ sheet, cell, scope, name string }{{"Quote lines", "C999", "quote line", "element"},
		{"Freight lanes", "B7", "quote", "delivery_term"}} {
		if got := listAt(t, w.f, c.sheet, c.cell); got != strings.Join(lib.Describe(c.scope, c.name).Options, ",") {
			t.Errorf("%s of %s offers %q", c.name, c.sheet, got)
		}
	}
	notes := 0
	for _, name := range lib.SheetRows() {
		if lib.NoteOf("quote", name) != "" || lib.NoteOf("request", name) != "" {
			notes++
		}
	}
	if comments, err := w.f.GetComments("Quotes"); err != nil || len(comments) != notes || notes < 30 {
		t.Errorf("%d notes, want %d, %v", len(comments), notes, err)
	}
	if len(rows)-1 != len(lib.SheetRows()) {
		t.Errorf("%d rows, want %d", len(rows)-1, len(lib.SheetRows()))
	}
}

// listAt is the list that a cell offers, as words with commas.
func listAt(t *testing.T, f *excelize.File, sheet, cell string) string {
	t.Helper()
	all, err := f.GetDataValidations(sheet)
	if err != nil {
		t.Fatal(err)
	}
	col, row, _ := excelize.CellNameToCoordinates(cell)
	for _, dv := range all {
		from, to, ok := strings.Cut(dv.Sqref, ":")
		if !ok {
			to = from
		}
		c1, r1, err1 := excelize.CellNameToCoordinates(from)
		c2, r2, err2 := excelize.CellNameToCoordinates(to)
		if err1 == nil && err2 == nil && col >= c1 && col <= c2 && row >= r1 && row <= r2 && dv.Type == "list" {
			return strings.ReplaceAll(strings.Trim(dv.Formula1, `"`), "&amp;", "&")
		}
	}
	return ""
}
