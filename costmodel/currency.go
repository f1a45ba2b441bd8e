package costmodel

import (
	"fmt"
	"slices"
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

// readCurves reads the sheet Tables: Curve, X, X unit, Y, Y unit; the points of a curve in rising X.
func (m *Model) readCurves(sys *units.System) map[string]*curve {
	out := map[string]*curve{}
	t := m.Case.Table("Tables")
	if t == nil {
		return out
	}
	for _, row := range t.Rows {
		name := t.TextAt(row, "curve")
		x, y := t.ValueAt(row, "x"), t.ValueAt(row, "y")
		if name == "" && (x.Kind != table.Empty || y.Kind != table.Empty) {
			m.Diagnostics.Add("curve", t.ValueAt(row, "curve").Place, "the point belongs to no curve", "write the curve's name in each of its rows")
		}
		if name == "" {
			continue
		}
		if bad := slices.IndexFunc([]table.Value{x, y}, func(v table.Value) bool { return v.Kind != table.Number }); bad >= 0 {
			at, column := []table.Value{x, y}[bad].Place, []string{"X", "Y"}[bad]
			m.Diagnostics.Add("curve", at, fmt.Sprintf("curve %s: %s must be a number", name, column),
				"write it as a number, in the unit of the column "+column+" unit")
			continue
		}
		if bad := slices.IndexFunc([]table.Value{x, y}, func(v table.Value) bool { return !PossibleNumber(v.Number) }); bad >= 0 {
			v := []table.Value{x, y}[bad]
			m.Diagnostics.Add("possible", v.Place, fmt.Sprintf("curve %s: the number is %s", name, Beyond(v.Number)), "check the value and its unit")
			continue
		}
		c := out[name]
		if c == nil {
			c = &curve{}
			c.x, c.y = m.curveUnit(sys, t, row, "x_unit"), m.curveUnit(sys, t, row, "y_unit")
			out[name] = c
		}
		xv := c.x.Coherent(x.Number)
		if n := len(c.X); n > 0 && xv <= c.X[n-1] {
			m.Diagnostics.Add("curve", x.Place, fmt.Sprintf("curve %s: X does not rise", name), "sort its points by X and give each X once")
			continue
		}
		c.X, c.Y = append(c.X, xv), append(c.Y, c.y.Coherent(y.Number))
		c.xAt, c.yAt = append(c.xAt, x.Place), append(c.yAt, y.Place)
	}
	return out
}

func (m *Model) curveUnit(sys *units.System, t *table.Table, row table.Row, name string) units.Unit {
	v := t.ValueAt(row, name)
	u, err := sys.Parse(t.TextAt(row, name))
	if err != nil {
		m.Diagnostics.Add("unit", v.Place, err.Error(), "")
	}
	return u
}
