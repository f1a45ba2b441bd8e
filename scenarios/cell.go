package scenarios

import (
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
)

// notCalculated is said of a native formula whose value is neither stored nor plain arithmetic.
const notCalculated = "the cell's formula has no stored result"

const saveOnce = "open the workbook in a spreadsheet program and save it once"

// book reads cells of an open workbook and remembers what its styles mean.
type book struct {
	f      *excelize.File
	styles map[int]styleUse
	// computed holds cells without stored value that formulas led to, as sheet!A1 in lower case
	computed map[string]result
}

type styleUse struct{ percent, date bool }

func newBook(f *excelize.File) *book {
	return &book{f: f, styles: map[int]styleUse{}, computed: map[string]result{}}
}

// value reads a cell; a native formula is replaced by its stored result, or by its value where it is plain arithmetic.
func (b *book) value(sheet string, row, col int) (costmodel.Value, error) {
	name, err := excelize.CoordinatesToCellName(col, row)
	if err != nil {
		return costmodel.Value{}, err
	}
	raw, err := b.f.GetCellValue(sheet, name, excelize.Options{RawCellValue: true})
	if err != nil {
		return costmodel.Value{}, err
	}
	kind, err := b.f.GetCellType(sheet, name)
	if err != nil {
		return costmodel.Value{}, err
	}
	formula, err := b.f.GetCellFormula(sheet, name)
	if err != nil {
		return costmodel.Value{}, err
	}
	use, err := b.style(sheet, name)
	if err != nil {
		return costmodel.Value{}, err
	}
	if formula != "" && raw == "" && kind != excelize.CellTypeError {
		return b.calculated(sheet, formula, use), nil
	}
	return stored(raw, kind, use), nil
}

func stored(raw string, kind excelize.CellType, use styleUse) costmodel.Value {
	switch {
	case kind == excelize.CellTypeError || strings.HasPrefix(raw, "#") && errorValues[raw]:
		return costmodel.Value{Kind: costmodel.Broken, Text: "the cell shows " + raw, Help: "correct its formula or type a value"}
	case strings.TrimSpace(raw) == "":
		return costmodel.Value{}
	case kind == excelize.CellTypeBool:
		return costmodel.Value{Kind: costmodel.Flag, Number: flagNumber(raw), Text: raw}
	case kind == excelize.CellTypeSharedString || kind == excelize.CellTypeInlineString:
		return costmodel.Value{Kind: costmodel.Text, Text: raw, Percent: use.percent}
	}
	n, err := strconv.ParseFloat(raw, 64)
	switch {
	case err != nil:
		return costmodel.Value{Kind: costmodel.Text, Text: raw, Percent: use.percent}
	case use.date:
		return costmodel.Value{Kind: costmodel.Date, Number: n, Text: dateText(n)}
	}
	return costmodel.Value{Kind: costmodel.Number, Number: n, Percent: use.percent}
}

var errorValues = map[string]bool{"#REF!": true, "#DIV/0!": true, "#VALUE!": true, "#NAME?": true, "#N/A": true, "#NUM!": true, "#NULL!": true}

func flagNumber(raw string) float64 {
	if raw == "1" || strings.EqualFold(raw, "true") {
		return 1
	}
	return 0
}

func dateText(serial float64) string {
	t, err := excelize.ExcelDateToTime(serial, false)
	if err != nil {
		return ""
	}
	return t.Format("2006-01-02")
}

func (b *book) calculated(sheet, formula string, use styleUse) costmodel.Value {
	n, err := b.arithmetic(sheet, formula)
	if err != nil {
		return costmodel.Value{Kind: costmodel.Broken, Text: notCalculated + " and " + err.Error(), Help: saveOnce}
	}
	return costmodel.Value{Kind: costmodel.Number, Number: n, Percent: use.percent}
}

// style tells what the number format of a cell means.
func (b *book) style(sheet, name string) (styleUse, error) {
	id, err := b.f.GetCellStyle(sheet, name)
	if err != nil {
		return styleUse{}, err
	}
	if use, ok := b.styles[id]; ok {
		return use, nil
	}
	use := styleUse{}
	if st, err := b.f.GetStyle(id); err == nil && st != nil {
		switch n := st.NumFmt; {
		case n == 9 || n == 10:
			use.percent = true
		case n >= 14 && n <= 22 || n >= 27 && n <= 36 || n >= 45 && n <= 47 || n >= 50 && n <= 58:
			use.date = true
		}
		if st.CustomNumFmt != nil {
			use = formatUse(*st.CustomNumFmt)
		}
	}
	b.styles[id] = use
	return use, nil
}

// formatUse reads a custom number format outside quotes, brackets and escapes.
func formatUse(format string) styleUse {
	var use styleUse
	quoted, bracket := false, false
	for i := 0; i < len(format); i++ {
		switch c := format[i]; {
		case c == '"':
			quoted = !quoted
		case quoted:
		case c == '\\' || c == '_' || c == '*':
			i++
		case c == '[':
			bracket = true
		case c == ']':
			bracket = false
		case bracket:
		case c == '%':
			use.percent = true
		case strings.ContainsRune("ymdhsYMDHS", rune(c)):
			use.date = true
		case c == ';':
			return use
		}
	}
	return use
}
