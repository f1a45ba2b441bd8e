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
func moneyPerKg(q *costmodel.Quotes, t *table.Table, row table.Row, column string, ds *table.Diagnostics) (figure, bool) {
	return cellIn(q, t, row, column, "currency/kg", ds)
}

// A figure is a number of a table that is no quantity of the model, coherent, and the cells that add up to it; NaN where the cell is
// empty, without cells where no formula can follow them.
type figure struct {
	value float64
	cells []costmodel.FactCell
	typed bool // a part of it is no cell's plain number
}

// add adds a figure, times a number. One without cells takes away those of the sum.
func (g *figure) add(part figure, times float64) {
	g.value += part.value * times
	g.typed = g.typed || len(part.cells) == 0
	for _, c := range part.cells {
		g.cells = append(g.cells, costmodel.FactCell{Place: c.Place, Times: c.Times * times})
	}
	if g.typed {
		g.cells = nil
	}
}

// cellIn reads a number of a table in a unit.
func cellIn(q *costmodel.Quotes, t *table.Table, row table.Row, column, unit string, ds *table.Diagnostics) (figure, bool) {
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
				return figure{}, false
			}
		}
	}
	switch v.Kind {
	case table.Empty:
		return figure{value: math.NaN()}, true
	case table.Number:
		times := u.Factor
		if v.Percent && want.Dim == units.None {
			times = 1
		}
		return figure{value: v.Number * times, cells: []costmodel.FactCell{{Place: v.Place, Times: times}}}, true
	case table.Text:
		if n, err := sys.ParseTyped(strings.TrimSpace(v.Text)); err == nil && (n.Bare || n.Unit.Fits(want)) {
			if n.Bare {
				return figure{value: u.Coherent(n.Number)}, true
			}
			return figure{value: n.Coherent()}, true
		}
	}
	ds.Add("number", v.Place, fmt.Sprintf("%q is no number of %s", table.Shortened(v.Text), unit), "write a number, or one with its unit")
	return figure{}, false
}

// A lane is a row of the sheet Freight lanes.
type lane struct {
	from, term                             string
	freight, duty, transitDays, truckPrice figure
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
			into         *figure
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
