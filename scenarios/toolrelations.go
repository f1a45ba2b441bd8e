package scenarios

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"

	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/scenarios/ooxml"
)

// A RelationSheet is a sheet of coefficients: by kind of tool, or by machine.
type RelationSheet struct{ name, key string }

// The sheets of coefficients.
var (
	ToolRelations    = RelationSheet{"Tool relations", "Tool kind"}
	MachineRelations = RelationSheet{"Machine relations", "Machine"}
)

// Name is what the sheet is called.
func (r RelationSheet) Name() string { return r.name }

// headings are the columns of the sheet, in their order where it is made.
func (r RelationSheet) headings() []string {
	return []string{r.key, "Coefficient", "Value", "Unit", "State", "Date", "Count", "Source", "Note"}
}

// A RelationRow is a row to be put into a sheet of coefficients: one of a kind of tool or of a machine.
type RelationRow struct {
	Kind, Coefficient string
	Value             float64
	Unit, State, Date string
	Count             int // past tools that it rests on; 0 for none
	Source, Note      string
}

func (r RelationRow) cells() []string {
	count := ""
	if r.Count > 0 {
		count = strconv.Itoa(r.Count)
	}
	return []string{r.Kind, r.Coefficient, strconv.FormatFloat(r.Value, 'g', -1, 64), r.Unit, r.State, r.Date, count, r.Source, r.Note}
}

// AddRelations puts rows below those of a sheet of coefficients, writes "replaced" under State in rows that are there, and says which
// rows are new; where there is no such sheet it is made. Everything else in the workbook stays as it is, to the byte. The error is fit
// to be shown.
func (w *Workbook) AddRelations(to RelationSheet, rows []RelationRow, replaced []int, lib *costmodel.Library) (first, last int, err error) {
	c, err := w.Case()
	if err != nil {
		return 0, 0, err
	}
	var out bytes.Buffer
	if t := c.Table(to.name); t != nil {
		first, err = w.belowRelations(to, &out, t, rows, replaced)
	} else {
		first, err = 2, w.relationsSheet(to, &out, rows, lib)
	}
	if err != nil {
		return 0, 0, err
	}
	w.out = out.Bytes()
	return first, first + len(rows) - 1, w.relationsReadBack(to, first, rows)
}

// relationsSheet adds the sheet with the rows in it.
func (w *Workbook) relationsSheet(to RelationSheet, out *bytes.Buffer, rows []RelationRow, lib *costmodel.Library) error {
	cells := [][]string{to.headings()}
	for _, r := range rows {
		cells = append(cells, r.cells())
	}
	return w.addSheet(out, to.name, cells, lib)
}

// belowRelations puts the rows below the last one in use and returns the first of them.
func (w *Workbook) belowRelations(to RelationSheet, out *bytes.Buffer, t *table.Table, rows []RelationRow, replaced []int) (int, error) {
	heading := 1
	if len(t.Columns) > 0 {
		heading = t.Columns[0].Place.Row
	}
	last, right := heading, 0
	for _, row := range t.Rows {
		last = max(last, row.Number)
	}
	s := w.sheetOf(to.name)
	grid, err := w.pack.Read(s)
	if err != nil {
		return 0, err
	}
	for i := range grid.Cells {
		right = max(right, grid.Cells[i].Col)
	}
	columns, cells := to.columns(t, heading, right)
	last, err = w.belowMerged(s, last, slices.Max(columns))
	if err != nil {
		return 0, err
	}
	if last+len(rows) > mostRows {
		return 0, fmt.Errorf("the sheet %s has no room for %d rows below row %d", to.name, len(rows), last)
	}
	state := columns[slices.Index(to.headings(), "State")]
	for _, row := range replaced {
		cells = append(cells, textCell(row, state, costmodel.StateReplaced))
	}
	for i, r := range rows {
		for j, text := range r.cells() {
			c := textCell(last+1+i, columns[j], text)
			if name := to.headings()[j]; text != "" && (name == "Value" || name == "Count" || name == "Unit" && text == "1") {
				c.Type = ooxml.Number
			}
			cells = append(cells, c)
		}
	}
	return last + 1, ooxml.PutCells(out, w.pack, s, cells, last)
}

func textCell(row, col int, text string) ooxml.Cell {
	return ooxml.Cell{Row: row, Col: col, Style: ooxml.AsThere, Type: ooxml.Text, Value: text, HasValue: text != ""}
}

// columns finds the columns of the headings; those that are not there are added at the right of all that the sheet holds, with
// their headings.
func (r RelationSheet) columns(t *table.Table, heading, right int) (columns []int, added []ooxml.Cell) {
	for _, h := range r.headings() {
		if c, ok := t.Column(table.Normalise(h)); ok {
			columns = append(columns, c.Place.Col)
			continue
		}
		right++
		columns, added = append(columns, right), append(added, textCell(heading, right, h))
	}
	return columns, added
}

// relationsReadBack reads what is to be saved and finds the rows in it.
func (w *Workbook) relationsReadBack(to RelationSheet, first int, rows []RelationRow) error {
	back, err := From(w.name, w.out)
	if err != nil {
		return err
	}
	c, err := back.Case()
	if err != nil {
		return err
	}
	found := 0
	if t := c.Table(to.name); t != nil {
		for _, row := range t.Rows {
			i := row.Number - first
			if i >= 0 && i < len(rows) && t.TextAt(row, table.Normalise(to.key)) == rows[i].Kind && t.ValueAt(row, "value").Number == rows[i].Value {
				found++
			}
		}
	}
	if found != len(rows) || len(back.pack.Sheets) < len(w.pack.Sheets) {
		return fmt.Errorf("the workbook with its new rows does not read back; nothing was written: please report it")
	}
	return nil
}
