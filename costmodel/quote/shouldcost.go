package quote

import (
	"fmt"

	"piececost/costmodel"
	"piececost/costmodel/table"
)

// A ShouldCost is the model of the quoted part at the supplier's terms: his annual volume, the Plant that the quote names.
type ShouldCost struct {
	Scenario *costmodel.Scenario
	made     *costmodel.Scenario // of which the part is the product
	Plan     *costmodel.Plan
	Detail   *costmodel.Detail
	Part     costmodel.Entry
	InPlant  bool // the quote names a Plant

	Material, ScrapCredit, PurchasedParts, Process, Overhead float64 // a piece
	Tooling, ToolOverhead                                    float64
	SGA                                                      float64 // with profit
	FixedShare                                               float64 // model currency a year
	CycleTime                                                float64 // s a piece, of the operation that takes longest
	Reject                                                   float64 // share
	Longest                                                  *costmodel.Entry
}

// partOf is the part that a quote is for: its own, else the request's; "" for the product.
func partOf(q *costmodel.Quotes, o *costmodel.Quote) (string, table.Place) {
	for _, r := range []*costmodel.Record{o.Record, q.Request} {
		if key := r.Text("part"); key != "" {
			return key, r.TextPlace("part")
		}
	}
	return "", q.Request.Place
}

// scenarioFor finds the scenario whose model is the should-cost: the one that the request names, else the first that makes the part.
func scenarioFor(q *costmodel.Quotes, part string, at table.Place, ds *table.Diagnostics) *costmodel.Scenario {
	name := q.Request.Text("scenario")
	for _, s := range q.Model.Scenarios {
		if name != "" && !s.Called(name) {
			continue
		}
		if part == "" || s.Makes(q.Model, part) {
			return s
		}
		if name != "" {
			ds.Add("reference", at, fmt.Sprintf("the scenario %s does not make %q", s.Name, table.Shortened(part)),
				"name a part that it makes, or another scenario")
			return nil
		}
	}
	if name != "" {
		ds.Add("reference", q.Request.TextPlace("scenario"), fmt.Sprintf("there is no scenario %q", table.Shortened(name)),
			"write how a column of the sheet Scenarios begins")
	} else {
		ds.Add("reference", at, fmt.Sprintf("no scenario makes the part %q", table.Shortened(part)), "write a key of the sheet Parts that a scenario makes")
	}
	return nil
}

// shouldCost costs the part at the quote's volume and in its plant. What stands in the way is in the diagnostics, as warnings: a quote
// without a should-cost is compared all the same.
func shouldCost(q *costmodel.Quotes, o *costmodel.Quote) (*ShouldCost, table.Diagnostics) {
	var ds table.Diagnostics
	part, at := partOf(q, o)
	s := scenarioFor(q, part, at, &ds)
	if s == nil {
		return nil, ds
	}
	if part == "" {
		part = s.Product
	}
	made, err := s.Making(q.Model, part, o.Text("plant"))
	if err != nil {
		ds.Add("reference", o.TextPlace("plant"), err.Error(), "write a column of the sheet Plants")
		return nil, ds
	}
	volume, ok := q.Given(o.Record, "annual_volume")
	if !ok {
		return nil, ds
	}
	made.Volume = volume
	made, ds = q.Model.Rechosen(made, volume)
	if ds.HasErrors() {
		return nil, ds
	}
	p, more := q.Model.Compile(made, costmodel.CompileOptions{})
	if p == nil {
		return nil, append(ds, more...)
	}
	c := &ShouldCost{Scenario: s, made: made, Plan: p, Detail: p.Detail(volume), InPlant: o.Text("plant") != ""}
	c.Part = c.Detail.Product()
	c.elements()
	c.route()
	return c, ds
}

// elements are what a piece costs, by the elements that quotes have. Process is consumables to maintenance; overhead holds working capital,
// but none of what is taken on tools.
func (c *ShouldCost) elements() {
	sc := c.Detail.Scenario()
	group := map[string]*float64{"material": &c.Material, "scrap_credit": &c.ScrapCredit, "purchased_parts": &c.PurchasedParts,
		"tooling": &c.Tooling, "overhead": &c.Overhead, "working_capital": &c.Overhead}
	for _, e := range c.Plan.Model.Schema.Elements {
		into := group[e.Name]
		if into == nil {
			into = &c.Process
		}
		*into += sc.Must(e.PieceName())
	}
	volume := sc.Must("annual_volume")
	for _, op := range c.Detail.Entries("operation") {
		if plant, ok := op.Follow("plant"); ok {
			c.ToolOverhead += plant.Must("fixed_overhead_share") * op.Must("tooling") / volume
		}
		c.FixedShare += op.Must("machine_step_cost") + op.Must("crew_step_cost")
	}
	c.Overhead -= c.ToolOverhead
	cost := c.Material + c.ScrapCredit + c.PurchasedParts + c.Process + c.Overhead + c.Detail.CaseValue("material_handling")
	c.SGA = cost*(1+c.Detail.CaseValue("sga_share"))*(1+c.Detail.CaseValue("profit_share")) - cost
}

// route finds the operation of the part that takes longest a piece, and what is rejected along its route.
func (c *ShouldCost) route() {
	kept := 1.0
	for _, op := range c.Detail.Entries("operation") {
		if part, ok := op.Follow("part"); !ok || part.Record() != c.Part.Record() {
			continue
		}
		kept *= 1 - op.Must("reject_rate")
		if t := op.Must("cycle_time") / op.Must("pieces_per_cycle"); c.Longest == nil || t > c.CycleTime {
			longest := op
			c.CycleTime, c.Longest = t, &longest
		}
	}
	c.Reject = 1 - kept
}
