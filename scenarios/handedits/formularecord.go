package handedits

import (
	"fmt"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel/table"
	"piececost/scenarios/live"
	"piececost/scenarios/sheet"
)

// The headings of Formula record, in the order of its columns: a sheet, ROW(...) of a row, which moves with it, the row as it
// was written, the fingerprints of its words and numbers, and those of its formulas (in calculations of keys and numbers
// too). In the first line of a sheet the columns behind them hold COLUMN(...).
const (
	headSheet        = "Sheet"
	headNow          = "Row now"
	headThen         = "Row as written"
	headWords        = "Words, from column"
	headFingerprints = "Fingerprints, from column"
)

// WrittenSheet is the sheet of the fingerprints.
const WrittenSheet = "Formula record"

const writtenHead = 6 // heading row

// The words by which Formula record and Input record are known.
const (
	writtenTitle = "Formulas as they were written"
	InputsTitle  = "Inputs as they were at the run"
	columnsWord  = "columns"
)

const writtenNote = "A fingerprint of every cell of the result sheets as it was written. By it the next run sees which cells a person changed or " +
	"added, wherever they have moved: changes go into the sheet Overrides, remarks stay. Nothing is computed from it."

// WriteAsWritten writes the fingerprints, a line for each row, after a line for the columns of its sheet.
func WriteAsWritten(b *sheet.Book) error {
	name := b.Names[WrittenSheet]
	if err := b.File.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Area",
		RefersTo: fmt.Sprintf("%s!$A$1:$E$%d", b.Quoted(WrittenSheet), writtenHead), Scope: name}); err != nil {
		return err
	}
	if err := sheet.PrintSetup(b.File, name, true, 0); err != nil {
		return err
	}
	sw, err := b.Stream(name)
	if err != nil {
		return err
	}
	w := &fingerprintWriter{Stream: sw}
	for i, width := range []float64{28, 28, 12, 12, 60} { // the library wants the last column first
		if err := sw.SetColWidth(5-i, 5-i, width); err != nil {
			return err
		}
	}
	faint := sheet.Look{Kind: "faint"}
	master := w.Cell(b.Status, faint)
	master.Formula = b.Quoted(sheet.ChecksSheet) + "!$A$3"
	head := sheet.Look{Kind: "heading"}
	for i, cells := range [][]any{
		{w.Cell(writtenTitle, sheet.Look{Kind: "title"})}, {w.Cell(sheet.OwnNote, faint)}, {master}, {w.Cell(writtenNote, faint)}, nil,
		{w.Cell(headSheet, head), w.Cell(headNow, head), w.Cell(headThen, head), w.Cell(headWords, head), w.Cell(headFingerprints, head)},
	} {
		if err := w.Row(i+1, cells); err != nil {
			return err
		}
	}
	row := writtenHead
	for _, s := range b.Sealed {
		if row, err = w.sealedSheet(row, s); err != nil {
			return err
		}
	}
	return w.End()
}

type fingerprintWriter struct{ *sheet.Stream }

// fingerprintCell is a cell with fingerprints, nothing where there are none.
func (w *fingerprintWriter) fingerprintCell(text string) any {
	if text == "" {
		return nil
	}
	return w.Cell(text, sheet.Look{Kind: "key"})
}

// sealedSheet writes the lines of a sheet below a row and returns the last one.
func (w *fingerprintWriter) sealedSheet(row int, s *sheet.Sealed) (int, error) {
	label, number := sheet.Look{Kind: "key"}, sheet.Look{Kind: "key", Format: "0"}
	quoted := live.QuoteSheet(s.Sheet)
	anchor := func(formula string, v int) excelize.Cell {
		c := w.Cell(float64(v), number)
		c.Formula = formula
		return c
	}
	line := []any{w.Cell(s.Sheet, label), nil, w.Cell(columnsWord, label), w.Cell(float64(s.Drawn), number), nil}
	for c := 1; c <= s.Last; c++ {
		line = append(line, anchor(fmt.Sprintf("COLUMN(%s!%s$1)", quoted, table.ColumnName(c)), c))
	}
	row++
	if err := w.Row(row, line); err != nil {
		return row, err
	}
	for i, n := range s.Rows {
		row++
		if err := w.Row(row, []any{w.Cell(s.Sheet, label), anchor(fmt.Sprintf("ROW(%s!$A%d)", quoted, n), n), w.Cell(float64(n), number),
			w.fingerprintCell(s.Words[i]), w.fingerprintCell(s.Texts[i])}); err != nil {
			return row, err
		}
	}
	return row, nil
}
