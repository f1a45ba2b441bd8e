package starter

import (
	"fmt"
	"io/fs"
	"strings"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/scenarios/sheet"
)

// New makes a workbook from the tables of a folder: one CSV file for each input sheet, named after it in lower case
// with underscores, headings as in the workbook. Sheets without a file get their headings only.
func New(tables fs.FS, lib *costmodel.Library) (*excelize.File, error) {
	f := excelize.NewFile()
	sys, err := tableUnits(tables)
	if err != nil {
		return nil, err
	}
	b := &starter{f: f, lib: lib, looks: sheet.NewLooks(f), sys: sys}
	if err := b.guide(); err != nil {
		return nil, err
	}
	for i := range table.Layouts {
		l := &table.Layouts[i]
		rows, err := ReadCSV(tables, table.Normalise(l.Sheet)+".csv")
		if err != nil {
			return nil, err
		}
		if rows == nil {
			continue
		}
		if rows, err = b.withQuoteRows(l, rows); err != nil {
			return nil, err
		}
		if err := b.sheet(l, rows); err != nil {
			return nil, fmt.Errorf("sheet %s: %w", l.Sheet, err)
		}
	}
	f.SetActiveSheet(0)
	setProperties(f)
	return f, nil
}

// sheet writes one input sheet.
func (b *starter) sheet(l *table.Layout, rows [][]string) error {
	if _, err := b.f.NewSheet(l.Sheet); err != nil {
		return err
	}
	head := rows[0]
	if err := b.percentColumns(l, head); err != nil {
		return err
	}
	heading, err := b.looks.ID(sheet.Look{Kind: "heading"})
	if err != nil {
		return err
	}
	for c, text := range head {
		if err := b.put(l.Sheet, 1, c+1, text, heading); err != nil {
			return err
		}
	}
	for r, row := range rows[1:] {
		for c, text := range row {
			if err := b.cell(l, head, row, r+2, c, text); err != nil {
				return err
			}
		}
	}
	if err := b.emptyRows(l, head, len(rows)); err != nil {
		return err
	}
	if err := b.sheetGuide(l, len(head)); err != nil {
		return err
	}
	if err := b.columns(l, rows); err != nil {
		return err
	}
	if err := b.dropDowns(l, head, rows); err != nil {
		return err
	}
	if err := b.comments(l, rows); err != nil {
		return err
	}
	return b.finish(l, head)
}

// columns sets widths by content, the last column first as the library wants it.
func (b *starter) columns(l *table.Layout, rows [][]string) error {
	for c := len(rows[0]) - 1; c >= 0; c-- {
		width := 0
		for _, w := range strings.Fields(rows[0][c]) {
			width = max(width, len([]rune(w)))
		}
		for _, row := range rows[1:] {
			width = max(width, len([]rune(row[c])))
		}
		name, err := excelize.ColumnNumberToName(c + 1)
		if err != nil {
			return err
		}
		if err := b.f.SetColWidth(l.Sheet, name, name, min(widest(rows[0][c]), float64(width)+2.5)); err != nil {
			return err
		}
	}
	return nil
}

// comments puts the note of each quantity at its heading, or at its row where a row is a quantity.
func (b *starter) comments(l *table.Layout, rows [][]string) error {
	add := func(row, col int, text string) error {
		name, _, _ := table.SplitHeading(text)
		note := b.noteOf(l, name)
		if note == "" {
			return nil
		}
		cell, err := excelize.CoordinatesToCellName(col, row)
		if err != nil {
			return err
		}
		return b.f.AddComment(l.Sheet, excelize.Comment{Cell: cell, Author: "piececost", Text: note, Width: 260, Height: 70})
	}
	if isQuotes(l) && l.Shape == table.ColumnsAre {
		at := indexOf(rows[0], "Quantity")
		for r, row := range rows[1:] {
			if err := add(r+2, at+1, cellAt(row, at)); err != nil {
				return err
			}
		}
		return nil
	}
	if l.Shape == table.ColumnsAre {
		return nil // these sheets have a column Note
	}
	for c, text := range rows[0] {
		if err := add(1, c+1, text); err != nil {
			return err
		}
	}
	return nil
}

// finish freezes the heading and the key columns, sets print and filter.
func (b *starter) finish(l *table.Layout, head []string) error {
	keys := len(l.Key)
	if l.Scope == "scenario" {
		keys = 3
	}
	if l.Sheet == "Volumes" {
		keys = 0
	}
	if i := indexOf(head, "Name"); i == keys {
		keys++
	}
	corner, err := excelize.CoordinatesToCellName(keys+1, 2)
	if err != nil {
		return err
	}
	pane := "bottomRight"
	if keys == 0 {
		pane = "bottomLeft"
	}
	if err := b.f.SetPanes(l.Sheet, &excelize.Panes{Freeze: true, XSplit: keys, YSplit: 1, TopLeftCell: corner, ActivePane: pane}); err != nil {
		return err
	}
	if err := b.f.SetRowHeight(l.Sheet, 1, 44); err != nil {
		return err
	}
	return sheet.PrintSetup(b.f, l.Sheet, len(head) > 6 || sheetGuides[l.Sheet] != nil, 1)
}

// widest is how wide a column may grow.
func widest(heading string) float64 {
	if heading == "Note" {
		return 75
	}
	return 48
}
