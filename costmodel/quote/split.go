package quote

import (
	"context"
	"math"
	"slices"

	"piececost/costmodel"
	"piececost/costmodel/table"
)

// A Split is how an annual volume is bought at least cost: from one supplier, or from two.
type Split struct {
	Volume float64
	Parts  []SplitPart // one or two, in the order of the sheet; empty where all suppliers together have not the capacity
	Cost   float64     // model currency a year
	Single *SplitPart  // the cheapest supplier who can deliver it all; nil where none can
}

// A SplitPart is what one supplier delivers.
type SplitPart struct {
	Offer  *Offer
	Pieces float64 // a year
	Cost   float64 // model currency a year, levelised and delivered
}

// weeks are those of a year in which is delivered: common practice, as in the rule of the weekly capacity.
const weeks = 48

// A splitter evaluates what suppliers cost at any annual volume of theirs.
type splitter struct {
	answer *Answer
	facts  *factReader
	costs  map[float64][]float64 // a year, by pieces, of each offer
}

// Splits finds for each annual volume how it is bought at least cost from one or two suppliers, within their capacities. A supplier's price for
// his share is that of the row Price at with the largest volume not above it, where he has such rows; else his price moves with the share as the
// chain's step of the annual volume has it. Costs are linear between the volumes at which a price, a tool set or a capacity begins, so that the
// least cost lies at one of them: every one is tried.
func (a *Answer) Splits(ctx context.Context, volumes []float64) ([]Split, error) {
	var ds table.Diagnostics
	s := &splitter{answer: a, facts: &factReader{quotes: a.Quotes, months: readMonths(a.Quotes, &ds), lanes: readLanes(a.Quotes, &ds)},
		costs: map[float64][]float64{}}
	before, _ := a.Quotes.Given(a.Quotes.Request, "annual_volume")
	defer a.Quotes.Ask("annual_volume", table.Value{Kind: table.Number, Number: before})
	var out []Split
	for _, volume := range volumes {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		out = append(out, s.split(volume))
	}
	return out, nil
}

func (s *splitter) split(volume float64) Split {
	out := Split{Volume: volume, Cost: math.Inf(1)}
	offers := s.answer.Offers
	for i, o := range offers {
		if s.capacity(o) >= volume {
			part := SplitPart{o, volume, s.cost(i, volume)}
			if out.Single == nil || part.Cost < out.Single.Cost {
				out.Single = &part
			}
		}
	}
	if out.Single != nil {
		out.Parts, out.Cost = []SplitPart{*out.Single}, out.Single.Cost
	}
	for i := range offers {
		for j := i + 1; j < len(offers); j++ {
			s.pair(&out, i, j)
		}
	}
	if len(out.Parts) == 0 {
		out.Cost = math.NaN()
	}
	return out
}

// pair tries every division of the volume between two suppliers at which something of either begins.
func (s *splitter) pair(out *Split, i, j int) {
	a, b := s.answer.Offers[i], s.answer.Offers[j]
	low, high := math.Max(0, out.Volume-s.capacity(b)), math.Min(out.Volume, s.capacity(a))
	tries := []float64{low, high}
	tries = append(tries, s.begins(a)...)
	for _, n := range s.begins(b) {
		tries = append(tries, out.Volume-n)
	}
	for _, x := range tries {
		if x <= 0 || x >= out.Volume || x < low || x > high {
			continue
		}
		cost := s.cost(i, x) + s.cost(j, out.Volume-x)
		if cost < out.Cost*(1-1e-12) {
			out.Cost = cost
			out.Parts = []SplitPart{{a, x, s.cost(i, x)}, {b, out.Volume - x, s.cost(j, out.Volume-x)}}
		}
	}
}

// capacity is what a supplier can deliver a year, so that his busiest week holds; without end where he states none.
func (s *splitter) capacity(o *Offer) float64 {
	week, ok := s.answer.Quotes.Given(o.Quote.Record, "capacity_a_week")
	if !ok {
		return math.Inf(1)
	}
	peak := 1.0
	if r, ok := o.Entry.Follow("request"); ok {
		peak = r.Must("peak_factor")
	}
	return week * 7 * 86400 * weeks / peak
}

// begins are the annual volumes at which a price or a tool set of a supplier begins.
func (s *splitter) begins(o *Offer) (out []float64) {
	if len(o.Quote.Prices) > 0 {
		for _, p := range o.Quote.Prices {
			out = append(out, p.Volume)
		}
		volume, _ := s.answer.Quotes.Given(o.Quote.Record, "annual_volume")
		out = append(out, volume)
	}
	life, ok := s.answer.Quotes.Given(o.Quote.Record, "tool_life")
	years := 0.0
	if r, found := o.Entry.Follow("request"); found {
		years = r.Must("years")
	}
	if ok && years > 0 {
		for sets := 1.0; sets <= mostSets; sets++ {
			out = append(out, sets*life/years)
		}
	}
	return out
}

// mostSets is how many tool sets of a supplier are looked at.
const mostSets = 20

// cost is what a supplier's share costs a year.
func (s *splitter) cost(i int, pieces float64) float64 {
	if list := s.costs[pieces]; list != nil {
		return list[i]
	}
	q := s.answer.Quotes
	q.Ask("annual_volume", table.Value{Kind: table.Number, Number: pieces})
	s.facts.facts = nil
	for _, o := range s.answer.Offers {
		s.facts.read(o)
		s.ladder(o, pieces)
	}
	list := make([]float64, len(s.answer.Offers))
	p, _ := q.Compile(s.facts.facts)
	for k := range list {
		list[k] = math.NaN()
		if p != nil {
			list[k] = valueOr(p.Detail(1).Entries("quote")[k], "levelised_delivered_cost") * pieces
		}
	}
	s.costs[pieces] = list
	return list[i]
}

// ladder gives a quote the price of the row with the largest volume not above its share.
func (s *splitter) ladder(o *Offer, pieces float64) {
	if len(o.Quote.Prices) == 0 {
		return
	}
	price, _ := s.answer.Quotes.Given(o.Quote.Record, "price")
	volume, _ := s.answer.Quotes.Given(o.Quote.Record, "annual_volume")
	rows := append(slices.Clone(o.Quote.Prices), costmodel.PriceAt{Volume: volume, Price: price})
	slices.SortFunc(rows, func(a, b costmodel.PriceAt) int { return int(math.Copysign(1, a.Volume-b.Volume)) })
	chosen := rows[0].Price
	for _, r := range rows {
		if r.Volume <= pieces*(1+1e-12) {
			chosen = r.Price
		}
	}
	s.facts.facts = slices.DeleteFunc(s.facts.facts, func(f costmodel.QuoteFact) bool {
		return f.Of == o.Quote.Record && f.Name == "price_at_requested_volume"
	})
	s.facts.set(o.Quote.Record, "price_at_requested_volume", chosen)
}
