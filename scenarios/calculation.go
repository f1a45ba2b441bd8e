package scenarios

import (
	"math"
	"regexp"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
	"piececost/scenarios/live"
	"piececost/scenarios/seal"
)

// calculation writes the live calculation of one scenario, streamed row by row.
func (b *writer) calculation(s *live.Sheet) error {
	w := &calcWriter{writer: b, sheet: s}
	if err := w.print(); err != nil {
		return err
	}
	var err error
	if w.sw, err = b.f.NewStreamWriter(s.Name); err != nil {
		return err
	}
	if err := w.setup(); err != nil {
		return err
	}
	if err := w.row(1, []any{w.cell("Calculation of "+s.Plan.Scenario.Name, look{kind: "title"})}); err != nil {
		return err
	}
	if err := w.row(2, []any{w.cell(ownNote+" "+calcNote, look{kind: "faint"})}); err != nil {
		return err
	}
	for _, block := range s.Blocks {
		if err := w.block(block); err != nil {
			return err
		}
	}
	if w.err != nil {
		return w.err
	}
	return w.sw.Flush()
}

const calcNote = "Green: links to the input sheets and to other blocks; black: formulas. Above each heading: source, formula in words, unit."

type calcWriter struct {
	*writer
	sw    *excelize.StreamWriter
	sheet *live.Sheet
	err   error
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
		if err := w.sw.SetColWidth(c, c, width); err != nil {
			return err
		}
	}
	return w.sw.SetPanes(&excelize.Panes{Freeze: true, XSplit: 1, YSplit: 2, TopLeftCell: "B3", ActivePane: "bottomRight"})
}

// pagesWide is how many pages a calculation is wide in print; its first column is repeated on each.
const pagesWide = 4

func (w *calcWriter) print() error {
	name := w.sheet.Name
	if err := printSetup(w.f, name, true, 0); err != nil {
		return err
	}
	wide := pagesWide
	if err := w.f.SetPageLayout(name, &excelize.PageLayoutOptions{FitToWidth: &wide}); err != nil {
		return err
	}
	return w.f.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", RefersTo: live.QuoteSheet(name) + "!$A:$A", Scope: name})
}

// cell makes a styled cell; a style that can't be made is remembered for the end.
func (w *calcWriter) cell(value any, k look) excelize.Cell {
	id, err := w.looks.id(k)
	if err != nil && w.err == nil {
		w.err = err
	}
	return excelize.Cell{StyleID: id, Value: value}
}

func (w *calcWriter) row(n int, cells []any) error {
	at, err := excelize.CoordinatesToCellName(1, n)
	if err != nil {
		return err
	}
	return w.sw.SetRow(at, cells)
}

// block writes the five heading rows and the data rows of a block.
func (w *calcWriter) block(b *live.Block) error {
	heads := [][]any{{w.cell(b.Title, look{kind: "total"})}, nil, nil, nil, nil}
	for _, c := range b.Columns {
		heads[1] = append(heads[1], w.cell(c.Source, look{kind: "faint"}))
		heads[2] = append(heads[2], w.cell(w.words(c), look{kind: "faint"}))
		heads[3] = append(heads[3], w.cell(c.Unit, look{kind: "faint", right: !c.Text}))
		heads[4] = append(heads[4], w.cell(c.Heading, look{kind: "heading", right: !c.Text}))
	}
	for i, h := range heads {
		if err := w.row(b.First-live.HeadingRows+i, h); err != nil {
			return err
		}
	}
	for row := range b.Rows {
		cells := make([]any, len(b.Columns))
		prints := seal.Row{}
		for i, c := range b.Columns {
			cell := b.Cell(c, row)
			cells[i] = w.data(c, cell)
			switch {
			case cell.Formula != "":
				prints[c.At] = w.printOf(w.sheet.Name, cell.Formula)
			case cell.Kind == live.Number:
				prints[c.At] = seal.PrintNumber(cell.Num)
			case c.At == 1: // by the key it is known whether the row has been sorted away
				prints[c.At] = seal.PrintKey(cell.Text)
			}
		}
		w.seal(w.sheet.Name, b.First+row, prints)
		if err := w.row(b.First+row, cells); err != nil {
			return err
		}
	}
	return nil
}

func (w *calcWriter) words(c *live.Column) string {
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
	out := w.cell(nil, look{kind: cellLook(c, cell), format: numberFormatOf(c, cell.Num)})
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

// escapeLike is what a workbook reads as one character (ECMA-376 part 1, 22.9.2.19).
var escapeLike = regexp.MustCompile(`_(x[0-9A-Fa-f]{4})_`)

// calculationName names the calculation sheet of a scenario.
func calculationName(s *costmodel.Scenario, taken map[string]bool) string {
	return sheetName("Calculation "+s.Name, taken)
}
