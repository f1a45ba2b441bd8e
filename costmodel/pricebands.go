package costmodel

import (
	"fmt"
	"slices"
	"strings"

	"piececost/costmodel/formula"
	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// Price bands: the sheet lists from which annual quantity on which price holds, of a purchased part (Parts) or a grade (Materials). A band
// is reached by the scenario's own annual quantity. The bands of a key are a curve that goes in steps; the price that they give is an
// equation of its row, so that sweeps, cross-overs and live formulas see each jump.

// mostBands is how many bands a key may have: a spreadsheet formula has one condition inside another for each.
const mostBands = 60

// bandedPrices says which price the bands of a sheet give, over which quantity of the same row, in which units where none are written.
var bandedPrices = map[string]struct{ scope, price, over, quantityUnit, priceUnit string }{
	"parts":     {"part", "purchase_price", "demand", "1/yr", "currency"},
	"materials": {"material", "base_price", "annual_quantity", "kg/yr", "currency/kg"},
}

// bandSet is the bands of a key.
type bandSet struct {
	sheet, key string
	at         table.Place // of its first row
}

// curveName is what the curve of the bands is called; no expression can write it.
func (b bandSet) curveName() string { return "price bands of " + b.sheet + " " + b.key }

// readPriceBands adds the curves of the sheet Price bands to those of the sheet Tables.
func (m *Model) readPriceBands(sys *units.System, curves map[string]*curve) {
	t := m.Case.Table("Price bands")
	if t == nil {
		return
	}
	by := map[string]*curve{}
	for _, row := range t.Rows {
		sheet, key := table.Normalise(t.TextAt(row, "sheet")), strings.TrimSpace(t.TextAt(row, "row"))
		from, price := t.ValueAt(row, "from_quantity"), t.ValueAt(row, "price")
		if sheet == "" && key == "" && from.Kind == table.Empty && price.Kind == table.Empty {
			continue
		}
		of, known := bandedPrices[sheet]
		if !known || key == "" {
			m.Diagnostics.Add("price bands", t.ValueAt(row, "sheet").Place, "the price band belongs to no part and no grade",
				"write Parts or Materials under Sheet, and its key under Row")
			continue
		}
		b := bandSet{sheet, key, t.ValueAt(row, "row").Place}
		c := by[b.curveName()]
		if c == nil {
			c = &curve{Curve: formula.Curve{Steps: true}}
			c.x, c.y = m.bandUnit(sys, t, row, "quantity_unit", of.quantityUnit), m.bandUnit(sys, t, row, "price_unit", of.priceUnit)
			by[b.curveName()], curves[b.curveName()] = c, c
			m.bands = append(m.bands, b)
		}
		m.sameBandUnits(sys, t, row, b, c)
		m.addBand(c, b, from, price)
	}
}

// bandUnit is a unit of the bands, where none is written the usual one.
func (m *Model) bandUnit(sys *units.System, t *table.Table, row table.Row, column, usual string) units.Unit {
	text := t.TextAt(row, column)
	if text == "" {
		text = usual
	}
	u, err := sys.Parse(text)
	want, _ := sys.Parse(usual)
	switch at := t.ValueAt(row, column).Place; {
	case err != nil:
		m.Diagnostics.Add("unit", at, err.Error(), "")
	case u.Dim != want.Dim:
		m.Diagnostics.Add("dimension", at, fmt.Sprintf("%s is %s, wanted is %s", text, u.Describe(), want.Describe()), u.Help(want))
	default:
		return u
	}
	return want
}

// sameBandUnits refuses another unit in a further band of a key: the bands are one curve.
func (m *Model) sameBandUnits(sys *units.System, t *table.Table, row table.Row, b bandSet, c *curve) {
	for i, column := range []string{"quantity_unit", "price_unit"} {
		want, text := []units.Unit{c.x, c.y}[i], t.TextAt(row, column)
		if u, err := sys.Parse(text); text != "" && (err != nil || !u.Same(want)) {
			m.Diagnostics.Add("unit", t.ValueAt(row, column).Place, fmt.Sprintf("the bands of %s are in %s, this one in %s", b.key, want.Text, text),
				"write all bands of a key in one unit")
		}
	}
}

// addBand adds a band whose quantity is above that of the one before.
func (m *Model) addBand(c *curve, b bandSet, from, price table.Value) {
	for i, v := range []table.Value{from, price} {
		what := []string{"From quantity", "Price"}[i]
		switch {
		case v.Kind != table.Number:
			m.Diagnostics.Add("price bands", v.Place, fmt.Sprintf("%s of a band of %s must be a number", what, b.key), "write a plain number")
			return
		case v.Number < 0 || !PossibleNumber(v.Number):
			m.Diagnostics.Add("possible", v.Place, fmt.Sprintf("%s of a band of %s is %v, but it must be 0 or more", what, b.key, v.Number),
				"check the value and its unit")
			return
		}
	}
	x := c.x.Coherent(from.Number)
	switch n := len(c.X); {
	case n > 0 && x <= c.X[n-1]:
		m.Diagnostics.Add("price bands", from.Place, fmt.Sprintf("the bands of %s do not rise", b.key), "sort them by From quantity and give each once")
	case n == mostBands:
		m.Diagnostics.Add("price bands", from.Place, fmt.Sprintf("%s has more than %d price bands", b.key, mostBands), "join some of them")
	default:
		c.X, c.Y = append(c.X, x), append(c.Y, c.y.Coherent(price.Number))
		c.xAt, c.yAt = append(c.xAt, from.Place), append(c.yAt, price.Place)
	}
}

// attachPriceBands gives the rows that have bands the equation of their price.
func (m *Model) attachPriceBands() {
	for _, b := range m.bands {
		of := bandedPrices[b.sheet]
		sc := m.Schema.byName[of.scope]
		recs := m.byKey[of.scope][b.key]
		if len(recs) == 0 && !m.unread[of.scope] {
			m.Diagnostics.Add("reference", b.at, fmt.Sprintf("%s %q of a price band is not in the sheet %s", of.scope, b.key, table.Label(b.sheet)),
				"add it there or correct the key")
		}
		if c := m.Schema.curves[b.curveName()]; len(c.X) == 0 {
			continue
		}
		for _, r := range recs {
			m.attachBands(b, sc, r, sc.MustQuantity(of.price), of.over)
		}
	}
}

func (m *Model) attachBands(b bandSet, sc *Scope, r *Record, price int32, over string) {
	q := sc.Quantities[price]
	if f := r.field(price); f != nil {
		m.Diagnostics.Add("price bands", f.value.Place, fmt.Sprintf("%s of %s %s is given here and by price bands", q.Label, sc.Name, r.Key),
			"clear the cell, or delete the bands", table.Related{Place: b.at, Note: "the bands at"})
		return
	}
	expr, err := formula.Parse("interpolate(price_bands, "+over+")", m.Schema.Units)
	if err != nil {
		panic(err)
	}
	expr.Root.Name = b.curveName()
	expr.Text = "interpolate(" + b.curveName() + ", " + over + ")"
	if err := formula.Check(expr, scopeEnv{schema: m.Schema, scope: sc}, formula.Rules{Want: formula.Type{Unit: q.Unit}}); err != nil {
		panic(err)
	}
	eq := m.Schema.bound(sc, expr, false)
	d := sc.definition(m.variantOf(sc, r), price)
	out := &Definition{Equation: eq, Unit: q.Unit}
	if d != nil {
		out.Item, out.Unit = d.Item, d.Unit
	}
	out.Item.Is, out.Item.Source, out.Item.Input = "the price band that "+over+" reaches", "sheet Price bands", false
	r.banded = append(r.banded, bandedPrice{price, out})
}

// A bandedPrice is a quantity of a record that price bands give.
type bandedPrice struct {
	quantity   int32
	definition *Definition
}

// bandedBy is the definition by which price bands give a quantity, or nil.
func (r *Record) bandedBy(quantity int32) *Definition {
	i := slices.IndexFunc(r.banded, func(b bandedPrice) bool { return b.quantity == quantity })
	if i < 0 {
		return nil
	}
	return r.banded[i].definition
}
