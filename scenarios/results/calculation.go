package results

import (
	"math"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel/table"
	"piececost/scenarios/live"
	"piececost/scenarios/seal"
	"piececost/scenarios/sheet"
)

// calculation writes the live calculation of one scenario, streamed row by row.
func (b *writer) calculation(s *live.Sheet) error {
	return b.calculationPage(&calcWriter{writer: b, sheet: s, wide: pagesWide}, "Calculation of "+s.Plan.Scenario.Name, calcNote)
}

// calculationPage streams a calculation under a title and a note.
func (b *writer) calculationPage(w *calcWriter, title, note string) error {
	s := w.sheet
	if err := w.print(); err != nil {
		return err
	}
	var err error
	if w.Stream, err = b.Stream(s.Name); err != nil {
		return err
	}
	if err := w.setup(); err != nil {
		return err
	}
	if err := w.Words(1, []any{w.Cell(title, sheet.Look{Kind: "title"})}); err != nil {
		return err
	}
	if err := w.Words(2, []any{w.Cell(sheet.OwnNote+" "+note, sheet.Look{Kind: "faint"})}); err != nil {
		return err
	}
	for _, block := range s.Blocks {
		if err := w.block(block); err != nil {
			return err
		}
	}
	return w.End()
}

const calcNote = "Green: links to the input sheets and to other blocks; black: formulas. Above each heading: source, formula in words, unit."

type calcWriter struct {
	*writer
	*sheet.Stream
	sheet *live.Sheet
	wide  int // pages in print
}

func (w *calcWriter) setup() error {
	widest := 0
	for _, b := range w.sheet.Blocks {
		widest = max(widest, len(b.Columns))
	}
	for c := widest; c >= 1; c-- {
		width := 13.0
		if c <= 2 {
			width = 16
		}
		if err := w.SetColWidth(c, c, width); err != nil {
			return err
		}
	}
	return w.SetPanes(&excelize.Panes{Freeze: true, XSplit: 1, YSplit: 2, TopLeftCell: "B3", ActivePane: "bottomRight"})
}

// pagesWide is how many pages a calculation is wide in print; its first column is repeated on each.
const pagesWide = 4

func (w *calcWriter) print() error {
	name := w.sheet.Name
	if err := sheet.PrintSetup(w.File, name, true, 0); err != nil {
		return err
	}
	if err := w.File.SetPageLayout(name, &excelize.PageLayoutOptions{FitToWidth: &w.wide}); err != nil {
		return err
	}
	return w.File.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", RefersTo: live.QuoteSheet(name) + "!$A:$A", Scope: name})
}

// block writes the five heading rows and the data rows of a block.
func (w *calcWriter) block(b *live.Block) error {
	heads := [][]any{{w.Cell(b.Title, sheet.Look{Kind: "total"})}, nil, nil, nil, nil}
	for _, c := range b.Columns {
		heads[1] = append(heads[1], w.Cell(c.Source, sheet.Look{Kind: "faint"}))
		heads[2] = append(heads[2], w.Cell(equationWords(c), sheet.Look{Kind: "faint"}))
		heads[3] = append(heads[3], w.Cell(c.Unit, sheet.Look{Kind: "faint", Right: !c.Text}))
		heads[4] = append(heads[4], w.Cell(c.Heading, sheet.Look{Kind: "heading", Right: !c.Text}))
	}
	for i, h := range heads {
		if err := w.Words(b.First-live.HeadingRows+i, h); err != nil {
			return err
		}
	}
	for row := range b.Rows {
		cells := make([]any, len(b.Columns))
		fingerprints, words := seal.Fingerprints{}, seal.Fingerprints{}
		for i, c := range b.Columns {
			cell := b.Cell(c, row)
			if table.Characters(cell.Formula) > mostInFormula { // of a quote; a case with one is refused
				cell.Formula, cell.Found = "", true
			}
			cells[i] = w.data(c, cell)
			switch {
			case cell.Formula != "":
				fingerprints[c.At] = w.FingerprintOf(w.sheet.Name, cell.Formula)
			case cell.Kind == live.Number:
				fingerprints[c.At] = seal.OfNumber(cell.Num)
			case c.At == 1: // by the key it is known whether the row has been sorted away
				fingerprints[c.At] = seal.OfKey(cell.Text)
			case cell.Kind == live.Word:
				if fingerprint := w.FingerprintOfValue(cell.Text); fingerprint != "" {
					words[c.At] = fingerprint
				}
			}
		}
		w.Seal(w.sheet.Name, b.First+row, fingerprints, words)
		if err := w.Row(b.First+row, cells); err != nil {
			return err
		}
	}
	return nil
}

func equationWords(c *live.Column) string {
	if c.Words == "" {
		return c.Note
	}
	return c.Words
}

// data makes a data cell: its formula with its value.
func (w *calcWriter) data(c *live.Column, cell live.Cell) any {
	if cell.Kind == live.Blank {
		return nil
	}
	out := w.Cell(nil, sheet.Look{Kind: cellLook(c, cell), Format: numberFormatOf(c, cell.Num)})
	out.Formula = cell.Formula
	if cell.Kind == live.Word {
		out.Value = cell.Text
	} else {
		out.Value = cell.Num
	}
	return out
}

func cellLook(c *live.Column, cell live.Cell) string {
	switch {
	case cell.Found:
		return "found"
	case cell.Input || c.Kind == live.Link:
		return "link"
	case c.Kind == live.Key:
		return "key"
	}
	return "number"
}

// numberFormatOf shows a number of a column with sensible digits for its unit and size.
func numberFormatOf(c *live.Column, v float64) string {
	a := math.Abs(v)
	switch {
	case c.Text:
		return ""
	case c.Percent:
		return "0.00%"
	case c.Whole || a >= 1e5 || a >= 1e3 && v == math.Trunc(v):
		return "#,##0"
	case a >= 1e3:
		return "#,##0.0"
	case a >= 1 || a == 0:
		return "#,##0.00##"
	case a >= 1e-4:
		return "0.0000##"
	}
	return "0.00E+00"
}
