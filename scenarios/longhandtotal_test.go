package scenarios

import (
	"math"
	"sort"
)

// The scenario: elements, pieces, masses, price.

var longElements = []string{"material", "scrap_credit", "purchased_parts", "outside_processing", "consumables", "energy", "labour", "equipment",
	"building", "maintenance", "tooling", "overhead", "working_capital", "annual_cost"}

// costs works through all that is used, in the order in which one needs the other.
func (c *longhand) costs() {
	for _, p := range c.usedParts() {
		for _, s := range p.steps {
			c.hours(s)
		}
	}
	for _, m := range c.machines {
		m.pool()
		m.own()
	}
	for _, p := range c.usedParts() {
		c.flow(p)
	}
	c.gradePrices()
	for _, p := range c.usedParts() {
		c.priced(p)
		for _, l := range p.uses {
			l.is("purchase_cost", l.of("demanded")*p.of("purchase_price"))
		}
	}
	for _, p := range c.usedParts() {
		for _, s := range p.steps {
			c.tools(s)
			s.scrap()
			c.elements(s)
		}
	}
	for _, p := range c.usedParts() {
		c.cumulate(p)
	}
	for _, p := range c.usedParts() {
		c.batchSizes(p)
	}
}

func (c *longhand) usedParts() (out []*longPart) {
	for _, p := range c.parts {
		if p.used {
			out = append(out, p)
		}
	}
	sort.Slice(out, func(i, j int) bool { return out[i].key < out[j].key })
	return out
}

func (c *longhand) steps() (out []*longStep) {
	for _, p := range c.usedParts() {
		out = append(out, p.steps...)
	}
	return out
}

func (c *longhand) sumSteps(name string) (sum float64) {
	for _, s := range c.steps() {
		sum += s.of(name)
	}
	return sum
}

func (c *longhand) sumParts(name string) (sum float64) {
	for _, p := range c.usedParts() {
		sum += p.of(name)
	}
	return sum
}

func (c *longhand) total() {
	r, n := c.scenario, c.scenario.of("annual_volume")
	for _, name := range longElements {
		a := r.is(name, c.sumSteps(name))
		if name != "annual_cost" {
			r.is("piece_"+name, a/n)
		}
	}
	year := r.of("annual_cost")
	piece := r.is("piece_cost", year/n)
	net := r.is("net_mass", c.product.of("net_mass"))
	gross := r.is("gross_mass", c.sumParts("purchased_mass")/n)
	scrap := r.is("scrap_mass", (c.sumSteps("scrap_mass_of_this_level")+c.sumSteps("assembly_scrap_mass"))/n)
	extra := r.is("extra_mass", c.sumParts("extra_mass")/n)
	lost := r.is("mass_imbalance", gross-net-scrap-extra)
	c.count()
	r.is("tooling_investment", c.sumSteps("tool_investment"))
	for _, name := range []string{"setup_cost", "fixed_cost", "step_fixed_cost", "variable_cost"} {
		r.is(name, c.sumSteps(name)/n)
	}
	r.is("direct_workers", c.sumSteps("direct_workers"))
	r.is("floor_space", c.sumSteps("floor_space"))
	investment, floor := 0.0, 0.0
	for _, m := range c.machines {
		if m.used {
			investment += m.of("product_specific_investment")
			floor += m.of("product_specific_floor_space")
		}
	}
	r.is("product_specific_equipment_investment", investment)
	r.is("product_specific_floor_space", floor)
	c.price(piece)
	r.check("the costs of the parts do not add up to the total", math.Abs(c.sumParts("annual_cost")-year) <= 1e-9*math.Abs(year))
	cumulated := c.product.of("piece_cost_including_components") * c.product.of("good_quantity")
	r.check("the cost of the product including components is not the total", math.Abs(cumulated-year) <= 1e-9*math.Abs(year) || c.sumParts("extra_pieces") > 0)
	r.check("purchased mass does not equal shipped mass plus scrap; an overridden mass may be the reason", math.Abs(lost) <= 1e-6)
}

// price is what is left to ask: SG&A on the manufacturing cost, profit on both, then what is passed on as it is.
func (c *longhand) price(piece float64) {
	f, r := c.facts, c.scenario
	made := piece + f.of("material_handling")
	sga := made * f.of("sga_share") / 100
	profit := (made + sga) * f.of("profit_share") / 100
	r.is("sga_amount", sga)
	r.is("profit_amount", profit)
	r.is("price", made+sga+profit+f.of("packaging")+f.of("freight")+f.of("duty"))
}
