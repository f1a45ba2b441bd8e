package starter

import (
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/costmodel/units"
	"piececost/scenarios/sheet"
)

// A starter is a workbook of input sheets while it is made or filled.
type starter struct {
	f     *excelize.File
	lib   *costmodel.Library
	looks *sheet.Looks
	sys   *units.System // of the tables' currencies
	kinds map[string]contentKind
}

func (b *starter) put(sheet string, row, col int, value any, style int) error {
	name, err := excelize.CoordinatesToCellName(col, row)
	if err != nil {
		return err
	}
	if value != nil && value != "" {
		if err := b.f.SetCellValue(sheet, name, value); err != nil {
			return err
		}
	}
	return b.f.SetCellStyle(sheet, name, name, style)
}

func isWords(l *table.Layout, name string) bool {
	for _, list := range [][]string{l.Key, l.Texts, {"source", "date", "owner", "confidence", "note"}} {
		for _, w := range list {
			if w == name && !(l.Sheet == "Volumes") {
				return true
			}
		}
	}
	return false
}

// rowQuantity is the quantity of a row and its unit, on a sheet on which a row is a quantity.
func rowQuantity(l *table.Layout, head, row []string) (name, unit string) {
	label := "Quantity"
	if l.Scope == "scenario" {
		label = "Column"
	}
	name, unit, _ = table.SplitHeading(cellAt(row, indexOf(head, label)))
	if i := indexOf(head, "Unit"); i >= 0 {
		unit = cellAt(row, i)
	}
	return name, unit
}

func indexOf(list []string, text string) int {
	for i, x := range list {
		if x == text {
			return i
		}
	}
	return -1
}

func cellAt(row []string, i int) string {
	if i < 0 || i >= len(row) {
		return ""
	}
	return strings.TrimSpace(row[i])
}

func percentFormat(n float64) string {
	if n == float64(int(n)) {
		return "0%"
	}
	return "0.0##%"
}

// numberFormat shows a number with its own decimals and a thousands separator where it helps.
func numberFormat(n float64, name string) string {
	text := strconv.FormatFloat(n, 'f', -1, 64)
	decimals := 0
	if i := strings.IndexByte(text, '.'); i >= 0 {
		decimals = len(text) - i - 1
	}
	if name == "operation" || name == "joined_at_operation" || name == "density" {
		return "0"
	}
	if decimals == 0 {
		return "#,##0"
	}
	return "#,##0." + strings.Repeat("0", max(2, min(decimals, 6)))
}

const markedRows = 25 // empty rows marked as inputs below the data

// contentKind says what a cell of an input sheet holds.
type contentKind uint8

const (
	words      contentKind = iota // a key, a name, a remark: as it is
	OwnContent                    // a number where it is one, else words
	quantities                    // a number, a number with a unit or an expression
)
