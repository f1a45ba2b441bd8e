package quote

import (
	"fmt"
	"math"
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// moneyPerKg reads a price of a mass: a bare number is in the unit of its heading, or the model currency per kg. An empty cell is NaN.
func moneyPerKg(q *costmodel.Quotes, t *table.Table, row table.Row, column string, ds *table.Diagnostics) (float64, bool) {
	return cellIn(q, t, row, column, "currency/kg", ds)
}

// cellIn reads a number of a table that is no quantity of the model, in a unit. An empty cell is NaN.
func cellIn(q *costmodel.Quotes, t *table.Table, row table.Row, column, unit string, ds *table.Diagnostics) (float64, bool) {
	v := t.ValueAt(row, column)
	sys := q.Model.Schema.Units
	want, err := sys.Parse(unit)
	if err != nil {
		panic(unit + ": " + err.Error())
	}
	u := want
	if c, ok := t.Column(column); ok {
		if _, written, bracket := table.SplitHeading(c.Heading); bracket {
			if given, err := sys.Parse(written); err == nil && given.Fits(want) {
				u = given
			} else {
				ds.Add("unit", c.Place, fmt.Sprintf("heading %q has another unit than %s", table.Shortened(c.Heading), unit),
					"write "+table.Label(column)+" ["+unit+"]")
				return 0, false
			}
		}
	}
	switch v.Kind {
	case table.Empty:
		return math.NaN(), true
	case table.Number:
		if v.Percent && want.Dim == units.None {
			return v.Number, true
		}
		return u.Coherent(v.Number), true
	case table.Text:
		if n, err := sys.ParseTyped(strings.TrimSpace(v.Text)); err == nil && (n.Bare || n.Unit.Fits(want)) {
			if n.Bare {
				return u.Coherent(n.Number), true
			}
			return n.Coherent(), true
		}
	}
	ds.Add("number", v.Place, fmt.Sprintf("%q is no number of %s", table.Shortened(v.Text), unit), "write a number, or one with its unit")
	return 0, false
}

// A lane is a row of the sheet Freight lanes.
type lane struct {
	from, term                             string
	freight, duty, transitDays, truckPrice float64 // NaN where the cell is empty; days as days
}

func readLanes(q *costmodel.Quotes, ds *table.Diagnostics) (out []lane) {
	t := q.Model.Case.Table("Freight lanes")
	if t == nil {
		return nil
	}
	for _, row := range t.Rows {
		l := lane{from: t.TextAt(row, "from"), term: t.TextAt(row, "delivery_term")}
		if l.from == "" {
			continue
		}
		good := true
		for _, c := range []struct {
			column, unit string
			into         *float64
		}{{"freight", "currency", &l.freight}, {"duty", "%", &l.duty}, {"transit_days", "d", &l.transitDays}, {"truck", "currency", &l.truckPrice}} {
			v, ok := cellIn(q, t, row, c.column, c.unit, ds)
			*c.into = v
			good = good && ok
		}
		if good {
			out = append(out, l)
		}
	}
	return out
}

// laneOf finds the lane of a place, by its delivery term where the lane names one.
func laneOf(lanes []lane, place, term string) *lane {
	for i := range lanes {
		if strings.EqualFold(lanes[i].from, place) && (lanes[i].term == "" || strings.EqualFold(lanes[i].term, term)) {
			return &lanes[i]
		}
	}
	return nil
}
