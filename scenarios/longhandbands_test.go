package scenarios

import (
	"math"
	"strconv"
)

// Price bands: what a kilogram or a purchased part costs follows from how much of it a year takes.

// banded tells whether a row of a sheet has price bands.
func (c *longhand) banded(sheet, key string) bool {
	for _, r := range c.bands {
		if r[0] == sheet && r[1] == key {
			return true
		}
	}
	return false
}

// bandPrice is the price of the last band whose quantity is reached, of the first where none is.
func (c *longhand) bandPrice(sheet, key string, quantity float64) float64 {
	best, price := math.Inf(-1), math.NaN()
	for _, r := range c.bands {
		if r[0] != sheet || r[1] != key {
			continue
		}
		from, _ := strconv.ParseFloat(r[2], 64)
		asked, _ := strconv.ParseFloat(r[3], 64)
		if math.IsNaN(price) || from <= quantity && from > best {
			best, price = from, asked
		}
	}
	return price
}

// gradePrices finds what each grade takes in a year, and its price, which with bands follows from that.
func (c *longhand) gradePrices() {
	for key, m := range c.materials {
		bought := 0.0
		for _, p := range c.usedParts() {
			if p.grade == m {
				bought += p.of("purchased_mass")
			}
		}
		bought = m.is("annual_quantity", bought)
		base := m.must("base_price")
		if c.banded("Materials", key) {
			base = c.bandPrice("Materials", key, bought)
		}
		m.materialPrice(base)
	}
}

// priced is what a part's own material and a purchased part cost, once quantities are known.
func (c *longhand) priced(p *longPart) {
	switch p.cells["form"] {
	case "", "assembly", "tailored blank":
	case "purchased part", "bought", "purchased":
		if c.banded("Parts", p.key) {
			p.number["purchase_price"] = c.bandPrice("Parts", p.key, p.of("demand"))
		}
	default:
		p.is("material_per_piece", p.of("gross_mass")*p.grade.of("price"))
	}
}
