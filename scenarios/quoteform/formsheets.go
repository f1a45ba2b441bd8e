package quoteform

import (
	"fmt"
	"strings"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
	"piececost/scenarios/sheet"
)

// The headings of the sheet Quotation.
var quotationHeadings = []string{"Quantity", "Unit", "Asked for", "Offered", "Remark"}

const (
	offeredColumn = 4
	spareRows     = 10  // of the sheet Quotation, for what a supplier adds
	lastFormRow   = 500 // to which lists and formats of the breakdown reach
)

// quotation writes the sheet of the terms: a row a quantity, what was asked for and an empty cell for what is offered.
func (w *form) quotation(asked *costmodel.Asked) error {
	if _, err := w.f.NewSheet(quotationSheet); err != nil {
		return err
	}
	if err := w.headings(quotationSheet, quotationHeadings); err != nil {
		return err
	}
	names := w.lib.Form["quote"]
	for i, name := range names {
		if err := w.quotationRow(i+2, name, asked); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
	}
	for r := len(names) + 2; r < len(names)+2+spareRows; r++ {
		for c := range quotationHeadings {
			if err := w.put(quotationSheet, r, c+1, nil, sheet.Look{Kind: "input"}); err != nil {
				return err
			}
		}
	}
	if err := w.widths(quotationSheet, 30, 14, 22, 26, 50); err != nil {
		return err
	}
	return w.finish(quotationSheet, 1, false)
}

func (w *form) quotationRow(row int, name string, asked *costmodel.Asked) error {
	it := w.lib.Describe("quote", name)
	cells := []struct {
		value any
		look  sheet.Look
	}{{w.lib.Label("quote", name), sheet.Look{Kind: "label"}}, {unitShown(it), sheet.Look{Kind: "input"}}, {asked.Of(name), factLook(asked.Of(name))},
		{nil, sheet.Look{Kind: "input", Format: format(it)}}, {nil, sheet.Look{Kind: "input", Wrap: true}}}
	for c, cell := range cells {
		if err := w.put(quotationSheet, row, c+1, cell.value, cell.look); err != nil {
			return err
		}
	}
	if err := w.note(quotationSheet, row, 1, w.lib.NoteOf("quote", name)); err != nil {
		return err
	}
	at, err := excelize.CoordinatesToCellName(offeredColumn, row)
	if err != nil {
		return err
	}
	return w.validate(quotationSheet, at, it)
}

// unitShown is the unit of a row; a choice, words and a plain number have none.
func unitShown(it *costmodel.Item) string {
	if it == nil || it.Unit == "1" || len(it.Options) > 0 {
		return ""
	}
	return it.Unit
}

// format is that of a cell: words stay as they are typed, so that 2025-03 becomes no date.
func format(it *costmodel.Item) string {
	switch {
	case it == nil:
		return "@"
	case strings.HasPrefix(it.Unit, "%"):
		return "0.0##%"
	}
	return ""
}

// validate gives cells the list of a choice, or asks for a number; a warning only, since words such as included may stand there.
func (w *form) validate(on, cells string, it *costmodel.Item) error {
	if it == nil {
		return nil
	}
	dv := excelize.NewDataValidation(true)
	dv.SetSqref(cells)
	if len(it.Options) > 0 {
		if err := dv.SetDropList(it.Options); err != nil {
			return err
		}
		dv.SetError(excelize.DataValidationErrorStyleWarning, it.Label, "Not one of the listed words.")
		return w.f.AddDataValidation(on, dv)
	}
	if err := dv.SetRange(-1e12, 1e12, excelize.DataValidationTypeDecimal, excelize.DataValidationOperatorBetween); err != nil {
		return err
	}
	dv.SetError(excelize.DataValidationErrorStyleWarning, it.Label, "A number is expected, or a number with its unit.")
	return w.f.AddDataValidation(on, dv)
}

// breakdown writes the sheet of the lines of a price.
func (w *form) breakdown(*costmodel.Asked) error {
	if _, err := w.f.NewSheet(breakdownSheet); err != nil {
		return err
	}
	names := w.lib.Form["quote line"]
	head := []string{"Line"}
	for _, name := range names {
		head = append(head, headingOf(w.lib, name))
	}
	for c, name := range names {
		if err := w.lineColumn(c+2, name); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
	}
	if err := w.headings(breakdownSheet, head); err != nil {
		return err
	}
	for r := 2; r < emptyLines+2; r++ {
		if err := w.put(breakdownSheet, r, 1, r-1, sheet.Look{Kind: "input"}); err != nil {
			return err
		}
		for c, name := range names {
			look := sheet.Look{Kind: "input", Format: format(w.lib.Describe("quote line", name)), Wrap: name == "text"}
			if err := w.put(breakdownSheet, r, c+2, nil, look); err != nil {
				return err
			}
		}
	}
	if err := w.lineWidths(names); err != nil {
		return err
	}
	return w.finish(breakdownSheet, 2, true)
}

func (w *form) lineWidths(names []string) error {
	widths := []float64{6}
	for _, name := range names {
		width := 11.0
		switch name {
		case "text":
			width = 36
		case "element", "material":
			width = 16
		}
		widths = append(widths, width)
	}
	return w.widths(breakdownSheet, widths...)
}

// headingOf is the heading of a column of the breakdown, with its unit.
func headingOf(lib *costmodel.QuoteLibrary, name string) string {
	label := lib.Label("quote line", name)
	if it := lib.Describe("quote line", name); it != nil && unitShown(it) != "" && it.Unit != "currency" {
		label += " [" + it.Unit + "]"
	}
	return label
}

// lineColumn gives a column of the breakdown its format, list and note.
func (w *form) lineColumn(col int, name string) error {
	it := w.lib.Describe("quote line", name)
	letters, err := excelize.ColumnNumberToName(col)
	if err != nil {
		return err
	}
	if err := w.note(breakdownSheet, 1, col, w.lib.NoteOf("quote line", name)); err != nil {
		return err
	}
	return w.validate(breakdownSheet, fmt.Sprintf("%s2:%s%d", letters, letters, lastFormRow), it)
}

func (w *form) headings(on string, head []string) error {
	for c, text := range head {
		if err := w.put(on, 1, c+1, text, sheet.Look{Kind: "heading"}); err != nil {
			return err
		}
	}
	return w.f.SetRowHeight(on, 1, 32)
}

// finish freezes the headings and sets the print.
func (w *form) finish(on string, keys int, landscape bool) error {
	corner, err := excelize.CoordinatesToCellName(keys+1, 2)
	if err != nil {
		return err
	}
	if err := w.f.SetPanes(on, &excelize.Panes{Freeze: true, XSplit: keys, YSplit: 1, TopLeftCell: corner, ActivePane: "bottomRight"}); err != nil {
		return err
	}
	return sheet.PrintSetup(w.f, on, landscape, 1)
}
