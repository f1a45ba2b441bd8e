package costmodel

import (
	"fmt"
	"strings"

	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// UnitsOf returns the units of a case, its own currencies among them, where nothing else of it is wanted.
func UnitsOf(c *table.Case) *units.System { return (&Model{Case: c}).readCurrencies() }

// readCurrencies makes the system of units from the model currency and the exchange rates.
func (m *Model) readCurrencies() *units.System {
	model, at := "EUR", table.Place{File: m.Case.File, Sheet: "Case"}
	found := false
	if t := m.Case.Table("Case"); t != nil {
		for _, row := range t.Rows {
			if table.Normalise(t.TextAt(row, "quantity")) == "model_currency" {
				for i, c := range t.Columns {
					if n, _, _ := table.SplitHeading(c.Heading); n != "" && n != "quantity" && n != "unit" && !table.IsProvenance(n) &&
						row.Cells[i].Kind == table.Text {
						model, at, found = strings.TrimSpace(row.Cells[i].Text), row.Cells[i].Place, true
						break
					}
				}
			}
		}
		if _, keyed := t.Column("quantity"); !found && keyed {
			m.Diagnostics.Add("currency", t.Place, "the model currency is missing", "add a row Model currency with a code such as EUR")
		}
	}
	rates := m.exchangeRates()
	sys, err := units.NewSystem(model, rates)
	if err != nil {
		m.Diagnostics.Add("currency", at, "model currency: "+err.Error(), "")
		delete(rates, "EUR")
		sys, _ = units.NewSystem("EUR", nil)
	}
	return sys
}

// exchangeRates reads the sheet Currencies: model currency for one unit of each code.
func (m *Model) exchangeRates() map[string]float64 {
	rates := map[string]float64{}
	t := m.Case.Table("Currencies")
	if t == nil {
		return rates
	}
	for _, row := range t.Rows {
		code := strings.TrimSpace(t.TextAt(row, "code"))
		if code == "" {
			continue
		}
		v := t.ValueAt(row, "rate")
		switch {
		case !units.IsCurrency(code):
			m.Diagnostics.Add("currency", t.ValueAt(row, "code").Place, fmt.Sprintf("%q is not a currency code of ISO 4217", code),
				"write three capital letters such as CZK")
		case v.Kind != table.Number || !(v.Number > 0):
			m.Diagnostics.Add("currency", v.Place, fmt.Sprintf("the exchange rate of %s must be a number above 0", code),
				"write how much model currency one unit of it is")
		case !PossibleNumber(v.Number):
			m.Diagnostics.Add("possible", v.Place, fmt.Sprintf("the exchange rate of %s is %s", code, Beyond(v.Number)),
				"write how much model currency one unit of it is")
		default:
			rates[code] = v.Number
		}
	}
	return rates
}
