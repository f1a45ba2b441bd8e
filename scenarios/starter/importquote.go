package starter

import (
	"fmt"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel/table"
)

// Rows are a table in memory for an input sheet: headings first, as in the sheet. File is named in errors.
type Rows struct {
	Sheet, File string
	Rows        [][]string
}

// ImportRows is Import for tables in memory.
func ImportRows(f *excelize.File, list []Rows, options ImportOptions) (*ImportReport, error) {
	im := newImporter(f, options)
	var tables []*importTable
	for _, r := range list {
		l := table.LayoutOf(r.Sheet)
		t := &importTable{file: r.File, layout: l, rows: r.Rows}
		for _, h := range r.Rows[0] {
			t.maps = append(t.maps, ColumnMap{File: r.File, Column: h, Sheet: l.Sheet, Heading: h})
		}
		tables = append(tables, t)
	}
	return im.fill(tables)
}

// NoteAtCells puts notes at the cells of a column of a sheet on which a row is a quantity, by the labels of the rows.
func NoteAtCells(f *excelize.File, on, heading string, notes map[string]string) error {
	rows, err := f.GetRows(on)
	if err != nil || len(rows) == 0 {
		return err
	}
	col, label := indexOf(rows[0], heading), indexOf(rows[0], "Quantity")
	for r, row := range rows {
		text := notes[cellAt(row, label)]
		if r == 0 || text == "" || col < 0 {
			continue
		}
		cell, err := excelize.CoordinatesToCellName(col+1, r+1)
		if err != nil {
			return err
		}
		if err := f.AddComment(on, excelize.Comment{Cell: cell, Author: "piececost", Text: text, Width: 260, Height: 50}); err != nil {
			return err
		}
	}
	return nil
}

// unitOfRow is rowUnit; a row of the sheet Quotes, whose money is of each quote's own currency, takes the table's unit where it is empty, and
// never converts.
func (s *importSheet) unitOfRow(q *tableQuantity, at, labelColumn int) error {
	_, shown := rowQuantity(s.layout, s.existing[0], s.existing[at-1])
	if shown == "" {
		_, shown, _ = table.SplitHeading(cellAt(s.existing[at-1], labelColumn-1))
	}
	if !isQuotes(s.layout) || !q.given || q.table == shown || q.kind == words {
		return s.rowUnit(q, at, labelColumn)
	}
	for i, h := range s.existing[0] {
		if isValueColumn(h) && cellAt(s.existing[at-1], i) != "" {
			return fmt.Errorf("%s: %s is in [%s] in the sheet Quotes and in [%s] here; write the unit with each number, 12 %s", s.file, q.label, shown, q.table,
				q.table)
		}
	}
	q.shown = q.table
	return s.changeRow(at, labelColumn, q.table)
}
