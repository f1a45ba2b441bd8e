package quote

import (
	"math"
	"slices"

	"piececost/costmodel"
	"piececost/costmodel/table"
)

// A factReader gathers the facts of the quotes: what the language can't state.
type factReader struct {
	quotes *costmodel.Quotes
	months monthPrices
	lanes  []lane
	facts  []costmodel.QuoteFact
	rests  []table.Place // cells on which facts rest as no formula can follow
}

// set notes a fact, and the cells that add up to it where there are such; one that is no number is not there.
func (f *factReader) set(of *costmodel.Record, name string, value float64, cells ...costmodel.FactCell) {
	if !math.IsNaN(value) && !math.IsInf(value, 0) {
		f.facts = append(f.facts, costmodel.QuoteFact{Of: of, Name: name, Value: value, Cells: cells})
	}
}

// rest notes that facts rest on what is given for quantities of a row.
func (f *factReader) rest(r *costmodel.Record, names ...string) {
	for _, name := range names {
		if v, ok := f.quotes.ValueOf(r, name); ok {
			f.rests = append(f.rests, v.Place)
		}
	}
}

func flag(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// read finds the facts of a quote that need no other quote.
func (f *factReader) read(o *Offer) {
	q := o.Quote
	var rate []costmodel.FactCell
	if cell, ok := f.quotes.RateCell(q.Currency); ok {
		rate = append(rate, cell)
		f.rests = append(f.rests, cell.Place) // amounts with a code of their own have been converted
	}
	f.set(q.Record, "table_rate", q.Rate, rate...)
	f.included(q)
	f.prices(q)
	f.material(o)
	f.lane(q)
	f.dates(q)
	f.linesOf(q)
	f.model(o)
	f.stated(q)
}

// included are the amounts that a quote calls included; a line of packaging or freight says so too.
func (f *factReader) included(q *costmodel.Quote) {
	f.set(q.Record, "freight_included", flag(f.includes(q, "freight")))
	f.set(q.Record, "packaging_included", flag(f.includes(q, "packaging")))
	f.set(q.Record, "loading_included", flag(q.Included["loading_and_export"]))
	f.set(q.Record, "insurance_included", flag(q.Included["insurance"]))
	f.set(q.Record, "duty_included", flag(q.Included["duty"] || q.Included["duty_share"]))
}

// includes tells whether a quote calls packaging or freight included, or has a line of it.
func (f *factReader) includes(q *costmodel.Quote, name string) bool {
	return q.Included[name] || slices.ContainsFunc(q.Lines, func(l *costmodel.Record) bool { return f.quotes.GivenOption(l, "element") == name })
}

// prices are those at other volumes: the one at the volume asked for, and steps of the ladder that go the wrong way.
func (f *factReader) prices(q *costmodel.Quote) {
	asked, _ := f.quotes.Given(f.quotes.Request, "annual_volume")
	price, _ := f.quotes.Given(q.Record, "price")
	volume, _ := f.quotes.Given(q.Record, "annual_volume")
	ladder := []costmodel.PriceAt{{Volume: volume, Price: price}}
	if len(q.Prices) > 0 {
		f.rest(f.quotes.Request, "annual_volume")
		f.rest(q.Record, "annual_volume")
	}
	for _, p := range q.Prices {
		if p.Volume == asked && asked != volume {
			f.set(q.Record, "price_at_requested_volume", p.Price, p.Cells...)
		}
		at := len(ladder)
		for i, other := range ladder {
			if p.Volume < other.Volume {
				at = i
				break
			}
		}
		ladder = append(ladder[:at:at], append([]costmodel.PriceAt{p}, ladder[at:]...)...)
	}
	if len(ladder) < 2 {
		return
	}
	breaks := 0
	for i := 1; i < len(ladder); i++ {
		a, b := ladder[i-1], ladder[i]
		if b.Volume == a.Volume && b.Price == a.Price {
			continue // stated twice
		}
		if b.Price >= a.Price || b.Volume*b.Price <= a.Volume*a.Price {
			breaks++
		}
	}
	f.set(q.Record, "ladder_breaks", float64(breaks))
}

// lane is what the way from the quote's place costs.
func (f *factReader) lane(q *costmodel.Quote) {
	term := f.quotes.GivenOption(q.Record, "delivery_term")
	if term == "" {
		term = f.quotes.GivenOption(f.quotes.Request, "delivery_term")
	}
	if len(f.lanes) > 0 {
		f.rest(f.quotes.Request, "delivery_term")
		f.rest(q.Record, "delivery_term")
	}
	l := laneOf(f.lanes, q.Text("place"), term)
	if l == nil {
		return
	}
	f.set(q.Record, "lane_freight", l.freight.value, l.freight.cells...)
	f.set(q.Record, "lane_transit_days", l.transitDays.value, l.transitDays.cells...)
	f.set(q.Record, "lane_duty", l.duty.value, l.duty.cells...)
	f.set(q.Record, "truck_price", l.truckPrice.value, l.truckPrice.cells...)
}

// dates are the days and months between what the quote states.
func (f *factReader) dates(q *costmodel.Quote) {
	award, ok1 := parseDate(f.quotes.Request.Text("award_date"))
	valid, ok2 := parseDate(q.Text("valid_until"))
	if ok1 && ok2 {
		f.set(q.Record, "validity_days", valid.Sub(award).Hours()/24*86400)
	}
	rate, ok1 := parseMonths(q.Text("exchange_rate_date"))
	quoted, ok2 := parseMonths(q.Text("quote_date"))
	if ok1 && ok2 {
		f.set(q.Record, "rate_age", math.Abs(float64(quoted[0]-rate[0])))
	}
	base, ok1 := parseMonths(q.Text("base_month"))
	price, ok2 := parseMonths(q.Text("price_month"))
	if !ok2 {
		price, ok2 = quoted, len(quoted) > 0
	}
	if ok1 && ok2 {
		f.set(q.Record, "base_month_age", float64(price[0]-base[len(base)-1]))
	}
	if a, b := f.quotes.Request.Text("revision"), q.Text("revision"); a != "" && b != "" {
		f.set(q.Record, "other_revision", flag(a != b))
	}
}

// monthOf is the month of a quote's material price: its price month, else the base month of its index clause, else its date.
func monthOf(q *costmodel.Quote) []month {
	for _, name := range []string{"price_month", "base_month", "quote_date"} {
		if list, ok := parseMonths(q.Text(name)); ok {
			return list
		}
	}
	return nil
}

// material are list prices of the grade asked for, in the quote's month and in that of the request.
func (f *factReader) material(o *Offer) {
	if o.Model == nil {
		return
	}
	grade, ok := o.Model.Part.Follow("material")
	if !ok {
		return
	}
	key := grade.Record().Key
	base, scrap, ok := f.months.at(key, monthOf(o.Quote))
	if ok {
		f.set(o.Quote.Record, "base_price_then", base.value, base.cells...)
		f.set(o.Quote.Record, "scrap_price_then", scrap.value, scrap.cells...)
	}
	asked, known := parseMonths(f.quotes.Request.Text("price_month"))
	if known {
		if base, scrap, ok := f.months.at(key, asked); ok {
			f.set(o.Quote.Record, "base_price_asked", base.value, base.cells...)
			f.set(o.Quote.Record, "scrap_price_asked", scrap.value, scrap.cells...)
		}
	}
	price, basePrice := grade.Must("price"), grade.Must("base_price")
	f.set(o.Quote.Record, "model_material_price", price)
	f.set(o.Quote.Record, "model_extras", price-basePrice)
	f.set(o.Quote.Record, "model_scrap_price", grade.Must("scrap_price"))
	differing, named := 0, false
	for _, l := range o.Quote.Lines {
		if f.quotes.GivenOption(l, "element") == "material" && l.Text("material") != "" {
			named = true
			differing += int(flag(l.Text("material") != key))
		}
	}
	if named {
		f.set(o.Quote.Record, "differing_grades", float64(differing))
	}
}

// model are the figures of the should-cost.
func (f *factReader) model(o *Offer) {
	c := o.Model
	if c == nil {
		return
	}
	r := o.Quote.Record
	f.rest(r, "annual_volume")
	for _, x := range []struct {
		name  string
		value float64
	}{
		{"model_fixed_share", c.FixedShare}, {"model_gross_mass", c.Part.Must("gross_mass")}, {"model_net_mass", c.Part.Must("net_mass_of_this_level")},
		{"model_material", c.Material}, {"model_scrap_credit", c.ScrapCredit}, {"model_purchased_parts", c.PurchasedParts},
		{"model_process", c.Process}, {"model_overhead", c.Overhead}, {"model_sga", c.SGA}, {"model_delivery", f.modelDelivery(o.Quote)},
		{"model_cycle_time", c.CycleTime}, {"model_reject", c.Reject}, {"model_tool_investment", c.Detail.Scenario().Must("tooling_investment")},
	} {
		f.set(r, x.name, x.value)
	}
	if c.InPlant && c.Longest != nil {
		f.plant(r, c)
	}
}

// plant are the figures of the plant that the quote names.
func (f *factReader) plant(r *costmodel.Record, c *ShouldCost) {
	plant, ok := c.Longest.Follow("plant")
	if !ok {
		return
	}
	f.set(r, "plant_labour_rate", plant.Must("direct_labour_rate"))
	f.set(r, "plant_working_days", plant.Must("working_days"))
	f.set(r, "plant_hours", plant.Must("shift_time"))
	f.set(r, "plant_hours_of_shift", plant.Must("paid_hours_per_shift"))
	if machine, ok := c.Longest.Follow("machine"); ok {
		if rate, ok := machine.Value("machine_hour_rate"); ok {
			f.set(r, "plant_machine_rate", rate)
		}
	}
}

// modelDelivery is the request's packaging and freight where the price includes them.
func (f *factReader) modelDelivery(q *costmodel.Quote) float64 {
	total := 0.0
	if packaging, ok := f.quotes.Given(f.quotes.Request, "packaging"); ok && f.includes(q, "packaging") {
		total += packaging
	}
	term := f.quotes.GivenOption(q.Record, "delivery_term")
	if term == "" {
		term = f.quotes.GivenOption(f.quotes.Request, "delivery_term")
	}
	if freight, ok := f.quotes.Given(f.quotes.Request, "freight"); ok && (includesFreight[term] || f.includes(q, "freight")) {
		total += freight
	}
	return total
}

// includesFreight are the delivery terms of Incoterms 2020 under which the seller pays the main carriage; templates/quotes states the same
// for the chain.
var includesFreight = map[string]bool{"": true, "CPT": true, "CFR": true, "CIP": true, "CIF": true, "DAP": true, "DPU": true, "DDP": true}

// stated are values with the name stated_: there only where the quote states them.
func (f *factReader) stated(q *costmodel.Quote) {
	if v, ok := f.quotes.Given(q.Record, "tool_pieces"); ok {
		f.set(q.Record, "stated_tool_pieces", v)
	}
	for _, x := range []struct{ input, fact string }{{"payment_days", "stated_payment_days"}, {"yearly_reduction", "stated_reduction"}} {
		if v, ok := f.quotes.Given(q.Record, x.input); ok {
			f.set(q.Record, x.fact, v)
		}
	}
	if v, ok := f.quotes.Given(q.Record, "price_after_amortisation"); ok {
		f.set(q.Record, "stated_after_amortisation", v/f.priceUnit(q))
	}
	if f.statesTools(q) {
		f.set(q.Record, "states_tools", 1)
	}
	if base := f.quotes.GivenOption(q.Record, "reduction_base"); base != "" {
		f.set(q.Record, "reduces_material", flag(base == "price"))
	}
}

// priceUnit is the number of pieces that a quote's price is for.
func (f *factReader) priceUnit(q *costmodel.Quote) float64 {
	if unit, ok := f.quotes.Given(q.Record, "price_unit"); ok {
		return unit
	}
	return 1
}

// statesTools tells whether a quote says anything of the price of tools, be it that there is none.
func (f *factReader) statesTools(q *costmodel.Quote) bool {
	return f.quotes.States(q.Record, "tools_paid") || f.quotes.States(q.Record, "tools_in_price") ||
		slices.ContainsFunc(q.Lines, func(l *costmodel.Record) bool {
			element := f.quotes.GivenOption(l, "element")
			return element == "tooling" || element == "tool"
		})
}
