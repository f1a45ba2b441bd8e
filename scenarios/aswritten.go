package scenarios

import (
	"fmt"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
	"piececost/scenarios/live"
)

// The headings of As written, in the order of its columns: a sheet, ROW(...) of a row, which moves with it, the row as it
// was written, the fingerprints of its words and numbers, and those of its formulas (in calculations of keys and numbers
// too). In the first line of a sheet the columns behind them hold COLUMN(...).
const (
	headSheet = "Sheet"
	headNow   = "Row now"
	headThen  = "Row as written"
	headWords = "Words, from column"
	headPrint = "Fingerprints, from column"
)

const writtenHead = 6 // heading row

// The words by which As written and Inputs as run are known.
const (
	writtenTitle = "Formulas as they were written"
	inputsTitle  = "Inputs as they were at the run"
	columnsWord  = "columns"
)

const writtenNote = "A fingerprint of every cell of the result sheets as it was written. By it the next run sees which cells a person changed or added, wherever they have moved: changes go into the sheet Overrides, remarks stay. Nothing is computed from it."

// asWritten writes the fingerprints, a line for each row, after a line for the columns of its sheet.
func (b *writer) asWritten() error {
	name := b.names[writtenSheetName]
	if err := b.f.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Area", RefersTo: fmt.Sprintf("%s!$A$1:$E$%d", b.quoted(writtenSheetName), writtenHead), Scope: name}); err != nil {
		return err
	}
	if err := printSetup(b.f, name, true, 0); err != nil {
		return err
	}
	sw, err := b.stream(name)
	if err != nil {
		return err
	}
	w := &printsWriter{stream: sw}
	for i, width := range []float64{28, 28, 12, 12, 60} { // the library wants the last column first
		if err := sw.SetColWidth(5-i, 5-i, width); err != nil {
			return err
		}
	}
	faint := look{kind: "faint"}
	master := w.cell(b.status, faint)
	master.Formula = b.quoted(checksSheet) + "!$A$3"
	head := look{kind: "heading"}
	for i, cells := range [][]any{
		{w.cell(writtenTitle, look{kind: "title"})}, {w.cell(ownNote, faint)}, {master}, {w.cell(writtenNote, faint)}, nil,
		{w.cell(headSheet, head), w.cell(headNow, head), w.cell(headThen, head), w.cell(headWords, head), w.cell(headPrint, head)},
	} {
		if err := w.row(i+1, cells); err != nil {
			return err
		}
	}
	row := writtenHead
	for _, s := range b.sealed {
		if row, err = w.sealedSheet(row, s); err != nil {
			return err
		}
	}
	return w.end()
}

type printsWriter struct{ *stream }

// printCell is a cell with fingerprints, nothing where there are none.
func (w *printsWriter) printCell(text string) any {
	if text == "" {
		return nil
	}
	return w.cell(text, look{kind: "key"})
}

// sealedSheet writes the lines of a sheet below a row and returns the last one.
func (w *printsWriter) sealedSheet(row int, s *sealed) (int, error) {
	label, number := look{kind: "key"}, look{kind: "key", format: "0"}
	quoted := live.QuoteSheet(s.sheet)
	anchor := func(formula string, v int) excelize.Cell {
		c := w.cell(float64(v), number)
		c.Formula = formula
		return c
	}
	line := []any{w.cell(s.sheet, label), nil, w.cell(columnsWord, label), w.cell(float64(s.drawn), number), nil}
	for c := 1; c <= s.last; c++ {
		line = append(line, anchor(fmt.Sprintf("COLUMN(%s!%s$1)", quoted, costmodel.ColumnName(c)), c))
	}
	row++
	if err := w.row(row, line); err != nil {
		return row, err
	}
	for i, n := range s.rows {
		row++
		if err := w.row(row, []any{w.cell(s.sheet, label), anchor(fmt.Sprintf("ROW(%s!$A%d)", quoted, n), n), w.cell(float64(n), number), w.printCell(s.words[i]), w.printCell(s.texts[i])}); err != nil {
			return row, err
		}
	}
	return row, nil
}
