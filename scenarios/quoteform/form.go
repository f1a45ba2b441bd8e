package quoteform

import (
	"encoding/xml"
	"fmt"
	"math"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
	"piececost/scenarios/sheet"
)

// The sheets of the form.
const (
	requestSheet   = "Request"
	quotationSheet = "Quotation"
	breakdownSheet = "Price breakdown"
)

const emptyLines = 40 // of the breakdown

// The properties of the form: none of ours, nor the library's of 2006.
const (
	bareCore = xml.Header + `<cp:coreProperties xmlns:cp="http://schemas.openxmlformats.org/package/2006/metadata/core-properties"/>`
	bareApp  = xml.Header + `<Properties xmlns="http://schemas.openxmlformats.org/officeDocument/2006/extended-properties"/>`
)

// A form is the workbook while it is made.
type form struct {
	f     *excelize.File
	looks *sheet.Looks
	lib   *costmodel.QuoteLibrary
}

// Make makes the workbook that a supplier fills in: the request as far as he is told of it, a sheet for his terms, one for the lines of his
// price, with lists and notes. There is no figure of the model in it, no other quote, no target.
func Make(q *costmodel.Quotes) ([]byte, error) {
	f := excelize.NewFile()
	defer f.Close()
	w := &form{f: f, looks: sheet.NewLooks(f), lib: q.Library}
	asked := q.Asked()
	for _, write := range []func(*costmodel.Asked) error{w.request, w.quotation, w.breakdown} {
		if err := write(asked); err != nil {
			return nil, err
		}
	}
	f.SetActiveSheet(0)
	f.Pkg.Store("docProps/core.xml", []byte(bareCore))
	f.Pkg.Store("docProps/app.xml", []byte(bareApp))
	buf, err := f.WriteToBuffer()
	if err != nil {
		return nil, err
	}
	return buf.Bytes(), nil
}

// guide is what the first sheet says below the request.
var guide = []string{
	"How to fill in",
	"Sheet Quotation: what you offer, in the column Offered. Leave empty what you do not want to state; nothing is read into an empty cell.",
	"Currency, Price and Annual volume must be given. Price is that of so many pieces as Price unit says, 1 where it is empty.",
	"Money is in the currency of your quotation, of one piece; tools paid and one-off costs are totals. An amount in another currency bears its " +
		"code, 1200 EUR.",
	"Freight, packaging, insurance, loading and duty: the amount of one piece, or the word included.",
	"A unit may be changed in the column Unit, or written with the number. A price at another annual volume is a row of its own, Price at 150000.",
	"Sheet Price breakdown: a row is a line of the price of one piece; Element and Amount must be given. The amounts should add up to the " +
		"price of a piece.",
	"Scrap credits are negative amounts. A line of the element tool is a tool: its price, Quantity is its sets, Life the pieces of a set; it " +
		"is no part of the sum.",
	"A quotation without a breakdown is welcome too. Rows and columns may be added, and columns moved; the headings must stay.",
	"Dates are written 2025-03-14, months 2025-03, quarters 2025-Q1.",
}

// request writes the sheet that says what is asked for.
func (w *form) request(asked *costmodel.Asked) error {
	if err := w.f.SetSheetName("Sheet1", requestSheet); err != nil {
		return err
	}
	if err := w.put(requestSheet, 1, 1, "Request for quotation", sheet.Look{Kind: "title"}); err != nil {
		return err
	}
	row := 3
	for _, fact := range asked.Facts {
		label := fact.Label
		if fact.Unit != "" {
			label += " [" + fact.Unit + "]"
		}
		if err := w.put(requestSheet, row, 1, label, sheet.Look{Kind: "label"}); err != nil {
			return err
		}
		if err := w.put(requestSheet, row, 2, fact.Value(), factLook(fact.Value())); err != nil {
			return err
		}
		row++
	}
	for i, line := range guide {
		look := sheet.Look{Kind: "text", Wrap: true}
		if i == 0 {
			look = sheet.Look{Kind: "total"}
		}
		if err := w.wide(requestSheet, row+1+i, line, look); err != nil {
			return err
		}
	}
	if err := w.widths(requestSheet, 30, 46, 44); err != nil {
		return err
	}
	return sheet.PrintSetup(w.f, requestSheet, false, 0)
}

// factLook is the look of what was asked for: thousands of a whole number are set apart.
func factLook(value any) sheet.Look {
	look := sheet.Look{Kind: "label", Wrap: true}
	if n, ok := value.(float64); ok && n == math.Trunc(n) {
		look.Format = "#,##0"
	}
	return look
}

// wide writes a line over the columns of the first sheet.
func (w *form) wide(on string, row int, text string, look sheet.Look) error {
	if err := w.put(on, row, 1, text, look); err != nil {
		return err
	}
	if err := w.f.MergeCell(on, fmt.Sprintf("A%d", row), fmt.Sprintf("C%d", row)); err != nil {
		return err
	}
	return w.f.SetRowHeight(on, row, 28)
}

func (w *form) put(on string, row, col int, value any, look sheet.Look) error {
	cell, err := excelize.CoordinatesToCellName(col, row)
	if err != nil {
		return err
	}
	if value != nil && value != "" {
		if err := w.f.SetCellValue(on, cell, value); err != nil {
			return err
		}
	}
	id, err := w.looks.ID(look)
	if err != nil {
		return err
	}
	return w.f.SetCellStyle(on, cell, cell, id)
}

// widths sets the widths of the first columns, the last first as the library wants it.
func (w *form) widths(on string, widths ...float64) error {
	for i := len(widths) - 1; i >= 0; i-- {
		name, err := excelize.ColumnNumberToName(i + 1)
		if err != nil {
			return err
		}
		if err := w.f.SetColWidth(on, name, name, widths[i]); err != nil {
			return err
		}
	}
	return nil
}

// note puts a note at a cell.
func (w *form) note(on string, row, col int, text string) error {
	if text == "" {
		return nil
	}
	cell, err := excelize.CoordinatesToCellName(col, row)
	if err != nil {
		return err
	}
	return w.f.AddComment(on, excelize.Comment{Cell: cell, Author: "Request", Text: text, Width: 260, Height: 70})
}
