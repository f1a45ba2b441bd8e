package report

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// A csvTable is a table written as CSV (RFC 4180): the one way in which commands write it.
type csvTable struct{ to *csv.Writer }

// newCSV begins a table with its first line; flush must be called at the end.
func newCSV(w io.Writer, head ...string) *csvTable {
	t := &csvTable{csv.NewWriter(w)}
	cells := make([]any, len(head))
	for i, h := range head {
		cells[i] = h
	}
	t.row(cells...)
	return t
}

// row writes a line. The output keeps its own first error, so none is looked at here.
func (t *csvTable) row(cells ...any) {
	line := make([]string, len(cells))
	for i, c := range cells {
		line[i] = csvCell(c)
	}
	t.to.Write(line)
}

func (t *csvTable) flush() { t.to.Flush() }

// csvCell writes a text, a number or a truth.
func csvCell(cell any) string {
	switch c := cell.(type) {
	case string:
		return csvText(c)
	case float64:
		return csvNumber(c)
	case int:
		return strconv.Itoa(c)
	case bool:
		return strconv.FormatBool(c)
	}
	panic(fmt.Sprintf("a cell of CSV can't be a %T", cell))
}

// csvText is a text that no spreadsheet program computes: one that begins with = + - @ or a control character gets an
// apostrophe before it, which marks a text there. A part's name is no formula.
func csvText(text string) string {
	if text != "" && strings.ContainsRune("=+-@\t\r", rune(text[0])) {
		return "'" + text
	}
	return text
}

// csvNumber writes a number without an exponent, nothing where there is none.
func csvNumber(v float64) string {
	if math.IsNaN(v) {
		return ""
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

func yesNo(yes bool) string {
	if yes {
		return "yes"
	}
	return "no"
}
