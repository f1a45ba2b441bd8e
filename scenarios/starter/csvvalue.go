package starter

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel/table"
	"piececost/costmodel/units"
	"piececost/scenarios/reading"
	"piececost/scenarios/sheet"
)

// A DecimalMark is the decimal mark of the numbers in CSV tables: '.' or ','. Formulas have decimal points always.
type DecimalMark byte

// Content is what a cell of a table holds, as the cell of a sheet will hold it.
type Content struct {
	Text   string
	Number float64
	Is     bool // a number: text says nothing
	bare   bool // a number or an expression, whose unit is that of its column
}

var (
	commaNumber = regexp.MustCompile(`^[+-]?([0-9]+,?[0-9]*|,[0-9]+)([eE][+-]?[0-9]+)?`)
	pointed     = regexp.MustCompile(`^[+-]?[0-9]*(\.[0-9]*)+(,[0-9]*)?(\s*[\pL%‰$€£°/][^<>=?:+*]*)?$`)
	commaInside = regexp.MustCompile(`[0-9],[0-9]`)
)

// Read turns the text of a table's cell into the content of a sheet's cell. This is the only way from a CSV table to a
// quantity; the sheet's cell is then read as any other. What could be read in two ways is an error.
func (d DecimalMark) Read(text string, kind contentKind, sys *units.System) (Content, error) {
	text = strings.TrimSpace(text)
	if kind == words || text == "" {
		return Content{Text: text}, nil
	}
	pointText, err := d.withPoint(text)
	if err != nil && kind == quantities {
		return Content{}, err
	}
	if n, ok := reading.PlainNumber(pointText); ok && err == nil {
		if kind == OwnContent && isCode(text) {
			return Content{Text: text}, nil
		}
		return Content{Number: n, Is: true, bare: true}, nil
	}
	if kind == OwnContent {
		return Content{Text: text}, nil
	}
	q, err := sys.ParseQuantity(pointText)
	switch {
	case errors.Is(err, units.ErrNotQuantity):
		return d.expression(text)
	case err != nil:
		return Content{}, err
	}
	number, unit := units.CutNumber(pointText)
	return Content{Text: units.WriteNumber(q.Number, number) + unit}, nil
}

// withPoint writes a number that stands at the beginning with a decimal point; other text stays as it is.
func (d DecimalMark) withPoint(text string) (string, error) {
	if d != ',' {
		return text, nil
	}
	if pointed.MatchString(text) {
		number := text[:len(text)-len(strings.TrimLeft(text, "+-.,0123456789"))]
		if err := units.TwoReadings(number); err != nil {
			return text, fmt.Errorf("it has a point, though the decimal mark is the comma: %w", err)
		}
		return text, fmt.Errorf("it has a point, though the decimal mark is the comma; write the number without it")
	}
	m := commaNumber.FindString(text)
	return strings.Replace(m, ",", ".", 1) + text[len(m):], nil
}

// expression keeps a formula as it is; a comma between figures would be taken for the comma between arguments.
func (d DecimalMark) expression(text string) (Content, error) {
	if d == ',' && commaInside.MatchString(text) {
		return Content{}, fmt.Errorf("it is a formula with a comma between figures; write it with decimal points, 3.72 + 1.60")
	}
	return Content{Text: text, bare: true}, nil
}

// isCode tells a number that is a code rather than a count: 007.
func isCode(text string) bool {
	return len(text) > 1 && text[0] == '0' && text[1] >= '0' && text[1] <= '9'
}

// write puts a content into a cell of an input sheet in the form in which an estimator expects it: numbers as numbers,
// shares as fractions formatted as percent. unit is that of the column or row.
func (b *starter) write(sheet string, row, col int, c Content, unit, name string, k sheet.Look) error {
	cell, err := excelize.CoordinatesToCellName(col, row)
	if err != nil {
		return err
	}
	share := strings.HasPrefix(unit, "%")
	switch {
	case c.Is && share:
		k.Format = percentFormat(c.Number)
		err = b.f.SetCellDefault(sheet, cell, plainDigits(hundredth(c.Number)))
	case c.Is:
		k.Format = numberFormat(c.Number, name)
		err = b.f.SetCellDefault(sheet, cell, plainDigits(c.Number))
	case c.Text != "":
		err = b.f.SetCellStr(sheet, cell, c.Text)
	case share:
		k.Format = percentFormat(0.5)
	}
	if err != nil {
		return err
	}
	id, err := b.looks.ID(k)
	if err != nil {
		return err
	}
	return b.f.SetCellStyle(sheet, cell, cell, id)
}

func plainDigits(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// hundredth is a number of percent as a fraction, rounded from its decimal digits: 1.8 % is 0.018, which 1.8/100 is not.
func hundredth(percent float64) float64 {
	v, err := strconv.ParseFloat(plainDigits(percent)+"e-2", 64)
	if err != nil {
		return percent / 100
	}
	return v
}

// kind tells what the cells of a column hold, or of a row where a row is a quantity; each is looked up once.
func (b *starter) kind(l *table.Layout, name string) contentKind {
	key := l.Sheet + "|" + name
	k, known := b.kinds[key]
	if !known {
		if b.kinds == nil {
			b.kinds = map[string]contentKind{}
		}
		k = b.kindOf(l, name)
		b.kinds[key] = k
	}
	return k
}

func (b *starter) kindOf(l *table.Layout, name string) contentKind {
	scope := l.Scope
	if l.Sheet == "Past tools" { // its columns are quantities of an operation
		scope = "operation"
	}
	if l.Sheet == "Past machines" { // and of this one of a machine
		scope = "machine"
	}
	switch it := b.lib.Describe(scope, name); {
	case l.Shape == table.Listed && name == "value":
		return quantities
	case isQuotes(l) && b.isQuoteWord(l, name):
		return words
	case isCount(l, name):
		return OwnContent
	case isWords(l, name):
		return words
	case it == nil:
		return OwnContent
	case it.Unit == "flag" || len(it.Options) > 0:
		return words
	}
	return quantities
}

// isCount tells the columns of words that hold numbers all the same.
func isCount(l *table.Layout, name string) bool {
	switch name {
	case "operation", "joined_at_operation", "line":
		return true
	}
	return l.Sheet == "Targets" && name == "target" || l.Sheet == "Overrides" && name == "value"
}
