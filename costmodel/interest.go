package costmodel

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// monthlyRate refuses a rate of return that is written per month. Units are linear, so that 1 %/month would be 12 %/yr,
// while a yearly capital recovery needs the effective rate of a year, (1 + i)^12 - 1 = 12.68 % (the nominal and the
// effective rate of any textbook of engineering economy). Which of the two is meant only the person can tell. The summary
// is empty where nothing is wrong.
func (m *Model) monthlyRate(q *Quantity, v table.Value, u units.Unit) (summary, help string) {
	if !q.compounds {
		return "", ""
	}
	rate, known := 0.0, false
	switch v.Kind {
	case table.Number:
		rate, known = v.Number*u.Factor/12, true
		if factor, ok := fractionFactor(u); ok && v.Percent {
			rate = v.Number * factor / 12
		}
	case table.Text:
		n, err := m.Schema.Units.ParseTyped(v.Text)
		known = err == nil
		switch {
		case err != nil:
			if quotedMonth(v.Text) {
				u.Text = "month"
			}
		case n.Bare:
			rate = n.Number * u.Factor / 12
		case n.Unit.Dim == units.None:
			rate = n.Coherent()
		default:
			rate, u = n.Coherent()/12, n.Unit
		}
	}
	if v.Kind == table.Empty || !perMonth(u) {
		return "", ""
	}
	if !known {
		return fmt.Sprintf("%s is given per month", q.Label), "write the effective yearly rate: a rate i a month compounds to (1 + i)^12 - 1 per year"
	}
	yearly, compounded := percentText(12*rate), percentText(math.Pow(1+rate, 12)-1)
	return fmt.Sprintf("%s is %s a month, which is %s per year without compound interest and %s with it", q.Label, percentText(rate), yearly, compounded),
		fmt.Sprintf("write the yearly rate: %s/yr where the month's rate compounds, %s/yr where it is a twelfth of a yearly one", compounded, yearly)
}

func perMonth(u units.Unit) bool { return strings.Contains(u.Text, "month") }

// quotedMonth tells whether an expression has a quantity per month in it.
func quotedMonth(text string) bool {
	for i, part := range strings.Split(text, `"`) {
		if i%2 == 1 && strings.Contains(part, "month") {
			return true
		}
	}
	return false
}

// percentText writes a share as percent to four figures.
func percentText(share float64) string {
	return strconv.FormatFloat(share*100, 'g', 4, 64) + " %"
}
