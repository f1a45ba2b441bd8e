package scenarios

import (
	"math"
	"strconv"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
)

// Parts, what joins them, their masses and how many are made.

// A longPart is a part or assembly.
type longPart struct {
	*longRow
	grade          *longRow
	steps          []*longStep
	children, uses []*longLink
	used           bool
}

// A longLink is a row of the bill of materials.
type longLink struct {
	*longRow
	parent, child *longPart
	step          *longStep
}

// structure reads parts, steps and links and finds what the product needs.
func (c *longhand) structure(t testing.TB, a *txtar.Archive) {
	for _, r := range longRows(t, a, "parts") {
		c.parts[r.key] = &longPart{longRow: r, grade: c.materials[r.cells["grade"]]}
	}
	for _, r := range longRows(t, a, "operations") { // in the order of the route
		p := c.parts[r.cells["part"]]
		p.steps = append(p.steps, &longStep{longRow: r, part: p})
	}
	for _, r := range longRows(t, a, "joints") {
		for _, s := range c.parts[r.cells["part"]].steps {
			if s.cells["operation"] == r.cells["operation"] {
				s.listed = append(s.listed, r)
			}
		}
	}
	for _, r := range longRows(t, a, "bill_of_materials") {
		l := &longLink{longRow: r, parent: c.parts[r.cells["parent"]], child: c.parts[r.cells["child"]]}
		for _, s := range l.parent.steps {
			if s.cells["operation"] == r.cells["joined_at_operation"] {
				l.step = s
			}
		}
		l.parent.children = append(l.parent.children, l)
	}
	c.product = c.parts[c.scenario.cells["product"]]
	c.use(c.product)
}

// use marks a part and all below it and finds its machines; masses come from below.
func (c *longhand) use(p *longPart) {
	if p.used {
		return
	}
	p.used = true
	for _, s := range p.steps {
		plant := s.cells["plant"]
		if plant == "" {
			plant = c.scenario.cells["plant"]
		}
		if s.outside() {
			s.plant, s.machine = c.plants[plant], c.nobody(plant)
			s.choose("equipment_allocation", "shared")
			continue
		}
		s.machine = c.machineOf(s, plant)
		s.machine.used, s.plant = true, s.machine.plant
		s.machine.steps = append(s.machine.steps, s)
		if s.choose("equipment_allocation", s.machine.choice["equipment_allocation"]) == "pooled" {
			s.machine.pooled = append(s.machine.pooled, s)
		}
	}
	for _, l := range p.children {
		l.child.uses = append(l.child.uses, l)
		c.use(l.child)
	}
	p.masses()
}

const mm = 1e-3 // metres

// masses of a part; its children have theirs.
func (p *longPart) masses() {
	p.in("extra_pieces", 0)
	p.must("target_cost")
	p.drawn()
	trimmed, nesting := p.in("trim_loss_share", 0)/100, p.laidOut()/100
	gross, own, subBlanks, joined := 0.0, 0.0, 0.0, 0.0
	tailored := p.cells["form"] == "tailored blank"
	p.flag("blank_from_children", tailored)
	for _, l := range p.children {
		q := l.must("quantity")
		l.check("the quantity must be above 0", q > 0, q)
		mass := q * l.child.of("net_mass")
		if l.flag("takes_as_blank", tailored && l.step == p.steps[0]) {
			subBlanks += l.is("sub_blank_mass", mass)
			l.is("joined_mass", 0)
		} else {
			l.is("sub_blank_mass", 0)
			joined += l.is("joined_mass", mass)
		}
	}
	scrap, purchase := 0.0, 0.0
	switch p.cells["form"] {
	case "purchased part", "bought", "purchased":
		purchase = p.must("purchase_price")
		gross = p.in("purchase_mass", 0)
		p.is("blank_mass", gross)
		own = gross
		gross = p.is("gross_mass", gross)
	case "tailored blank":
		gross = p.is("gross_mass", subBlanks)
		own = p.is("blank_mass", gross) * (1 - trimmed)
		p.check("no sub-blank joins at its first operation", gross > 0, gross)
		scrap = p.children[0].child.of("scrap_price")
	case "given masses", "cast part", "moulded part", "forged part", "subcontracted part":
		gross, own = p.must("gross_mass"), p.must("net_mass_of_this_level")
		blank := p.in("blank_mass", gross)
		p.check("its blank weighs more than was bought for it", blank <= gross*1.000000001, blank)
		scrap = p.grade.of("scrap_price")
	case "", "assembly":
		gross = p.is("gross_mass", 0)
		p.is("blank_mass", 0)
	default:
		var blank float64
		blank, gross = p.metal(nesting)
		own = blank * (1 - trimmed)
		scrap = p.grade.of("scrap_price")
	}
	own = p.is("net_mass_of_this_level", own)
	p.check("its own material weighs more when finished than was bought for it", own <= gross*1.000000001)
	p.is("material_per_piece", 0) // until grades have their prices
	p.is("scrap_price", scrap)
	p.is("purchase_price", purchase)
	p.is("net_mass", own+p.is("joined_mass", joined))
	utilisation := 0.0
	if gross > 0 {
		utilisation = 100 * own / gross
	}
	p.is("material_utilisation", utilisation)
}

// metal is the mass of the blank and of what is bought for it, of the forms that are cut from a grade.
func (p *longPart) metal(nesting float64) (blank, gross float64) {
	gauge, rho := p.of("gauge")*mm, p.grade.of("density")
	switch p.cells["form"] {
	case "strip":
		// a pitch of the strip is bought, whatever is cut out of it
		gross = p.must("strip_width") * mm * p.must("pitch") * mm * gauge * rho / p.in("pieces_per_pitch", 1)
		gross = p.is("gross_mass", gross)
		return p.is("blank_mass", gross*nesting), gross
	case "tube", "tube from stock":
		// the ring between two circles
		outer := p.must("outer_diameter") * mm
		inner := outer - 2*gauge
		blank = math.Pi / 4 * (outer*outer - inner*inner) * p.must("blank_length") * mm * rho
		p.check("the wall is thicker than half of the diameter", outer > 2*gauge, outer, gauge)
	case "sheet", "coil", "blank", "blank from sheet":
		blank = p.of("blank_length") * mm * p.of("blank_width") * mm * gauge * rho
		p.cutChecks(nesting)
	case "blank from coil", "strip layout":
		blank = p.of("blank_length") * mm * p.of("blank_width") * mm * gauge * rho * p.of("contour_share") / 100
		p.cutChecks(nesting)
		p.check("the overlap is longer than the blank and its bridge", p.of("pitch") > 0, p.of("pitch"))
	case "profile":
		blank = p.of("blank_length") * mm * p.is("strip_width", p.of("blank_width")) * mm * gauge * rho
		p.cutChecks(nesting)
	default:
		panic("no form " + p.cells["form"])
	}
	blank = p.is("blank_mass", blank)
	return blank, p.is("gross_mass", blank/nesting)
}

func (p *longPart) cutChecks(nesting float64) {
	trimmed := p.of("trim_loss_share")
	p.check("the trim loss share must lie between 0 and 100 %", trimmed >= 0 && trimmed < 100, trimmed)
	p.check("the nesting utilisation must lie above 0 and not above 100 %", nesting > 0 && nesting <= 1, nesting)
}

// demand is how many good pieces per year the steps start with that it joins.
func (c *longhand) demand(p *longPart) float64 {
	if v, ok := p.number["demand"]; ok {
		return v
	}
	pieces := p.of("extra_pieces")
	if p == c.product {
		pieces += c.scenario.of("annual_volume")
	}
	for _, l := range p.uses {
		pieces += l.is("demanded", l.of("quantity")*c.produced(l.step))
	}
	return p.is("demand", pieces)
}

// started and finished pieces per year.
func (c *longhand) flow(p *longPart) {
	started, finished := c.demand(p), c.demand(p)
	if len(p.steps) > 0 {
		started, finished = c.produced(p.steps[0]), p.steps[len(p.steps)-1].of("good_quantity")
	}
	started = p.is("input_quantity", started)
	p.is("good_quantity", finished)
	bought := started * p.of("gross_mass")
	if p.cells["form"] == "tailored blank" {
		bought = 0 // its sub-blanks are
	}
	p.is("purchased_mass", bought)
	p.is("extra_mass", p.of("extra_pieces")*p.of("net_mass"))
	p.flag("product", p == c.product)
	p.flag("has_route", len(p.steps) > 0)
}

// cumulate adds up what a good piece has cost, from below.
func (c *longhand) cumulate(p *longPart) float64 {
	if v, ok := p.number["piece_cost_including_components"]; ok {
		return v
	}
	for _, name := range longElements {
		sum := 0.0
		for _, s := range p.steps {
			sum += s.of(name)
		}
		p.is(name, sum)
	}
	own, below := p.of("annual_cost"), 0.0
	for _, l := range p.children {
		below += l.is("child_cost", l.of("demanded")*c.cumulate(l.child))
	}
	finished, net := p.of("good_quantity"), p.of("net_mass")
	p.is("piece_cost_of_this_level", own/finished)
	piece := p.is("piece_cost_including_components", (own+below)/finished)
	p.is("target_gap", piece-p.of("target_cost"))
	perKilogram := 0.0
	if net > 0 {
		perKilogram = piece / net
	}
	p.is("cost_per_kilogram", perKilogram)
	return piece
}

func (s *longStep) joinedBy(l *longLink) bool {
	at, _ := strconv.ParseFloat(l.step.cells["operation"], 64)
	here, _ := strconv.ParseFloat(s.cells["operation"], 64)
	return at <= here
}
