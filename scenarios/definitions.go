package scenarios

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/scenarios/ooxml"
	"piececost/scenarios/starter"
)

const (
	definitions = "Processes" // the sheet of own definitions
	mostRows    = 1048576     // of a sheet (ECMA-376)
)

// Copied is a process or form of the library as it was put into the sheet Processes of a workbook.
type Copied struct {
	From     string // name of the library
	Name     string // under which it stands in the sheet
	Form     bool   // a form of material, for the sheet Parts; else a process, for Operations
	First    int    // row of the sheet
	Last     int
	File     string // that was written
	NewSheet bool   // the workbook had no sheet Processes
}

// AddDefinitions puts rows below those of the sheet Processes and says which rows they are; where there is no such sheet it is made,
// with its guide. Everything else in the workbook stays as it is, to the byte. The error is fit to be shown.
func (w *Workbook) AddDefinitions(rows []costmodel.OwnRow, lib *costmodel.Library) (first, last int, err error) {
	c, err := w.Case()
	if err != nil {
		return 0, 0, err
	}
	var out bytes.Buffer
	if t := c.Table(definitions); t != nil {
		first, err = w.belowDefinitions(&out, t, rows)
	} else {
		first, err = 2, w.definitionsSheet(&out, rows, lib)
	}
	if err != nil {
		return 0, 0, err
	}
	w.out = out.Bytes()
	return first, first + len(rows) - 1, w.readsBack(first, rows)
}

// definitionsSheet adds the sheet with the rows in it.
func (w *Workbook) definitionsSheet(out *bytes.Buffer, rows []costmodel.OwnRow, lib *costmodel.Library) error {
	cells := [][]string{costmodel.OwnHeadings}
	for _, r := range rows {
		cells = append(cells, r.Cells())
	}
	return w.addSheet(out, definitions, cells, lib)
}

// addSheet adds an input sheet with its heading and rows.
func (w *Workbook) addSheet(out *bytes.Buffer, sheet string, cells [][]string, lib *costmodel.Library) error {
	f, err := starter.OneSheet(table.LayoutOf(sheet), cells, lib)
	if err != nil {
		return err
	}
	defer f.Close()
	buf, err := f.WriteToBuffer()
	if err != nil {
		return err
	}
	ours, err := ooxml.OpenOwn(bytes.NewReader(buf.Bytes()), int64(buf.Len()))
	if err != nil {
		return err
	}
	return ooxml.Put(out, w.pack, ours, func(*ooxml.Sheet) bool { return false }, nil)
}

// belowDefinitions puts the rows below the last one in use and returns the first of them.
func (w *Workbook) belowDefinitions(out *bytes.Buffer, t *table.Table, rows []costmodel.OwnRow) (int, error) {
	columns, heading, err := definitionColumns(t)
	if err != nil {
		return 0, err
	}
	last := heading
	for _, row := range t.Rows {
		last = max(last, row.Number)
	}
	s := w.sheetOf(definitions)
	if last, err = w.belowMerged(s, last, slices.Max(columns)); err != nil {
		return 0, err
	}
	if last+len(rows) > mostRows {
		return 0, fmt.Errorf("the sheet %s has no room for %d rows below row %d", definitions, len(rows), last)
	}
	var cells []ooxml.Cell
	if len(t.Columns) == 0 { // an empty sheet
		for i, text := range costmodel.OwnHeadings {
			cells = append(cells, ooxml.Cell{Row: 1, Col: i + 1, Style: ooxml.AsThere, Type: ooxml.Text, Value: text, HasValue: true})
		}
	}
	for i, r := range rows {
		cells = append(cells, definitionCells(r, last+1+i, columns)...)
	}
	return last + 1, ooxml.PutCells(out, w.pack, s, cells, last)
}

// sheetOf is the sheet that the case reads as an input sheet; it must be there.
func (w *Workbook) sheetOf(name string) *ooxml.Sheet {
	for i := range w.pack.Sheets {
		if table.LayoutOf(w.pack.Sheets[i].Name) == table.LayoutOf(name) {
			return &w.pack.Sheets[i]
		}
	}
	panic("no sheet " + name)
}

// belowMerged is the last row of what is merged in the columns up to one, where that is below a row: a cell within would not be shown.
func (w *Workbook) belowMerged(s *ooxml.Sheet, row, column int) (int, error) {
	grid, err := w.pack.Read(s)
	if err != nil {
		return 0, err
	}
	for _, m := range grid.Merged {
		from, to, ok := strings.Cut(m, ":")
		col, _, err1 := excelize.CellNameToCoordinates(from)
		_, last, err2 := excelize.CellNameToCoordinates(to)
		if ok && err1 == nil && err2 == nil && col <= column {
			row = max(row, last)
		}
	}
	return row, nil
}

// definitionColumns finds the columns of OwnHeadings, 0 for one that is not there, and the heading row.
func definitionColumns(t *table.Table) (columns []int, heading int, err error) {
	if len(t.Columns) == 0 {
		return []int{1, 2, 3, 4, 5, 6}, 1, nil
	}
	for _, names := range [][]string{{"process"}, {"quantity"}, {"unit"}, costmodel.DefinitionHeadings, {"note"}, {"source"}} {
		at := 0
		for _, name := range names {
			if c, ok := t.Column(name); ok && at == 0 {
				at = c.Place.Col
			}
		}
		if at == 0 && names[0] != "unit" && names[0] != "note" && names[0] != "source" {
			return nil, 0, fmt.Errorf("the sheet %s has no column %q; add it to the heading row, or rename the sheet if it is your own", definitions,
				table.Label(names[0]))
		}
		columns = append(columns, at)
	}
	return columns, t.Columns[0].Place.Row, nil
}

// definitionCells are the cells of a row; without a column Unit the unit stands behind the quantity.
func definitionCells(r costmodel.OwnRow, row int, columns []int) []ooxml.Cell {
	texts := r.Cells()
	if columns[2] == 0 && r.Unit != "" {
		texts[1] += " [" + r.Unit + "]"
	}
	var out []ooxml.Cell
	for i, text := range texts {
		if columns[i] == 0 {
			continue
		}
		c := ooxml.Cell{Row: row, Col: columns[i], Style: ooxml.AsThere, Type: ooxml.Text, Value: text, HasValue: text != ""}
		if _, err := strconv.ParseFloat(text, 64); err == nil && (i == 2 || i == 3) {
			c.Type = ooxml.Number
		}
		out = append(out, c)
	}
	return out
}

// readsBack reads what is to be saved and finds the rows in it.
func (w *Workbook) readsBack(first int, rows []costmodel.OwnRow) error {
	back, err := From(w.name, w.out)
	if err != nil {
		return err
	}
	c, err := back.Case()
	if err != nil {
		return err
	}
	found := 0
	if t := c.Table(definitions); t != nil {
		for _, row := range t.Rows {
			if i := row.Number - first; i >= 0 && i < len(rows) && t.TextAt(row, "process") == rows[i].Process {
				found++
			}
		}
	}
	if found != len(rows) || len(back.pack.Sheets) < len(w.pack.Sheets) {
		return fmt.Errorf("the workbook with its new rows does not read back; nothing was written: please report it")
	}
	return nil
}
