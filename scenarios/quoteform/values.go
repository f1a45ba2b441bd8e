package quoteform

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

var errNoNumber = errors.New("it is no number")

// text is a cell as the workbook will hold it: words as they are, numbers in the unit of its row or column, or with their own behind them. A
// text that is neither a number nor one of the words that may stand there is reported, so that nothing is ever taken for a formula.
func (m *maker) text(it *costmodel.Item, v Value, unit string) string {
	c := v.Cell
	refuse := func(summary, help string) string {
		m.ds.Add("cell", c.Place, fmt.Sprintf("%s: %s", table.Label(v.Name), summary), help)
		return ""
	}
	switch {
	case c.Kind == table.Broken:
		return refuse(c.Text, c.Help)
	case it == nil:
		return wordsOf(c)
	case len(it.Options) > 0:
		word := wordsOf(c)
		i := slices.IndexFunc(it.Options, func(o string) bool { return strings.EqualFold(o, word) })
		if i < 0 {
			return refuse(fmt.Sprintf("%q is not a choice", table.Shortened(word)), "write one of "+strings.Join(it.Options, ", "))
		}
		return it.Options[i]
	case c.Kind == table.Number:
		return m.number(c, v.Unit, unit, refuse)
	case c.Kind == table.Text:
		text, err := m.typed(strings.TrimSpace(c.Text), v.Unit, unit)
		switch {
		case errors.Is(err, errNoNumber):
			return refuse(fmt.Sprintf("%q is no number", table.Shortened(c.Text)), "type a number, or one with its unit, or leave the cell empty")
		case err != nil: // it says what to do
			return refuse(fmt.Sprintf("%q: %v", table.Shortened(c.Text), err), "")
		}
		return text
	}
	return refuse("the cell is formatted as a date or a condition", "type a number")
}

// wordsOf is a cell of words; TRUE and FALSE are yes and no.
func wordsOf(c table.Value) string {
	switch c.Kind {
	case table.Flag:
		if c.Number != 0 {
			return "yes"
		}
		return "no"
	case table.Number:
		return digits(c)
	}
	return strings.TrimSpace(c.Text)
}

// number writes the digits of a cell of a number; its own unit stands behind them where the workbook has another.
func (m *maker) number(c table.Value, own, unit string, refuse func(summary, help string) string) string {
	text := digits(c)
	switch {
	case c.Percent && !strings.HasPrefix(unit, "%"):
		return refuse("it is formatted as percent, and the unit is "+orNone(unit), "format the cell as a number")
	case c.Percent || sameUnit(own, unit):
		return text
	}
	if units.TwoReadings(text) != nil {
		text += "0" // 1.125 min would be read in two ways, 1.1250 min is not
	}
	return text + " " + own
}

// digits are those of a number; a percent's are those that are seen.
func digits(c table.Value) string {
	text := strconv.FormatFloat(c.Number, 'f', -1, 64)
	if !c.Percent {
		return text
	}
	n, err := strconv.ParseFloat(text+"e2", 64)
	if err != nil {
		return text
	}
	return strconv.FormatFloat(n, 'f', -1, 64)
}

// sameUnit tells whether the unit beside a number is that of the workbook; none is.
func sameUnit(own, unit string) bool {
	plain := func(u string) string {
		if u = strings.TrimSpace(u); u == "1" {
			return ""
		}
		return u
	}
	return plain(own) == "" || plain(own) == plain(unit)
}

func orNone(unit string) string {
	if unit == "" {
		return "1"
	}
	return unit
}

// typed takes a number that is text, with or without its unit, or the word included.
func (m *maker) typed(text, own, unit string) (string, error) {
	if strings.EqualFold(text, "included") {
		return "included", nil
	}
	q, err := m.sys.ParseTyped(text)
	switch {
	case errors.Is(err, units.ErrNotQuantity):
		return "", errNoNumber
	case err != nil:
		return "", err
	case !q.Bare || sameUnit(own, unit):
		return text, nil
	}
	return text + " " + own, nil
}
