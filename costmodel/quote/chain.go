package quote

import (
	"math"
	"slices"
	"sort"

	"piececost/costmodel"
)

// ruleText is a rule as templates/quotes has it.
type ruleText = costmodel.QuoteRule

// chain reads the steps of a quote's chain from its row.
func (a *Answer) chain(o *Offer) (out []Step) {
	for _, c := range a.Quotes.Library.Chain {
		s := Step{Number: c.Step, Label: c.Label, Aside: c.Aside, Change: math.NaN(), Sum: math.NaN()}
		if c.Change != "" {
			s.Change = valueOr(o.Entry, c.Change)
			if s.Change != 0 {
				s.Assumed = a.assumed(o.Entry, c.Change)
			}
		}
		switch {
		case c.Sum != "":
			s.Sum = valueOr(o.Entry, c.Sum)
		case c.Stated != "":
			s.Sum = valueOr(o.Entry, c.Stated)
		case c.Aside:
			s.Change = valueOr(o.Entry, c.Shows)
		}
		out = append(out, s)
	}
	return out
}

func valueOr(e costmodel.Entry, name string) float64 {
	if v, ok := e.Value(name); ok {
		return v
	}
	return math.NaN()
}

// assumed lists what a quantity rests on that the supplier did not state, each by its label; of a step only what is new with it.
func (a *Answer) assumed(e costmodel.Entry, name string) (out []string) {
	stops := map[string]bool{}
	for _, c := range a.Quotes.Library.Chain {
		stops[c.Sum] = true
	}
	for _, label := range a.Plan.AssumedFor(e, name, stops) {
		if !slices.Contains(out, label) {
			out = append(out, label)
		}
	}
	return out
}

// rank gives the offers their places by price in the model currency and by levelised delivered cost; equal ones share a place.
func (a *Answer) rank() {
	place := func(name string, into func(*Offer, int)) {
		type at struct {
			offer *Offer
			value float64
		}
		var list []at
		for _, o := range a.Offers {
			if v, ok := o.Entry.Value(name); ok {
				list = append(list, at{o, v})
			}
		}
		sort.SliceStable(list, func(i, j int) bool { return list[i].value < list[j].value })
		for i, x := range list {
			n := i + 1
			for i > 0 && list[i-1].value == x.value {
				i, n = i-1, n-1
			}
			into(x.offer, n)
		}
	}
	place("price_in_model_currency", func(o *Offer, n int) { o.RankBefore = n })
	place("levelised_delivered_cost", func(o *Offer, n int) { o.RankAfter = n })
}

// A Compared is an element of the price against the should-cost, a piece, in the model currency.
type Compared struct {
	Name, Label     string
	Quoted, Model   float64 // NaN where there is none
	Best, Median    float64 // of all quotes; NaN below two
	BestOf          string
	LowEnd, HighEnd float64
}

// comparedElements are the elements that quotes and should-cost have in common, by the names of their quantities.
var comparedElements = []struct{ name, label string }{
	{"material", "Material"}, {"scrap_credit", "Scrap credit"}, {"purchased_parts", "Purchased parts"}, {"process", "Process, set-up and rejects"},
	{"overhead", "Overhead"}, {"sga", "SG&A and profit"},
}

// compared holds a quote's elements against the should-cost; without lines there is nothing to hold.
func (a *Answer) compared(o *Offer) (out []Compared) {
	for _, e := range comparedElements {
		c := Compared{Name: e.name, Label: e.label, Quoted: math.NaN(), Model: valueOr(o.Entry, "model_"+e.name), Best: math.NaN(), Median: math.NaN(),
			LowEnd: math.NaN(), HighEnd: math.NaN()}
		if len(o.Quote.Lines) > 0 {
			c.Quoted = valueOr(o.Entry, "quoted_"+e.name)
		}
		var all []float64
		for _, other := range a.Offers {
			if v := valueOr(other.Entry, "quoted_"+e.name); len(other.Quote.Lines) > 0 && !math.IsNaN(v) {
				all = append(all, v)
				if math.IsNaN(c.Best) || v < c.Best {
					c.Best, c.BestOf = v, other.Quote.Key
				}
			}
		}
		if len(all) > 1 {
			c.Median, c.LowEnd, c.HighEnd = median(all), slices.Min(all), slices.Max(all)
		} else {
			c.Best, c.BestOf = math.NaN(), ""
		}
		out = append(out, c)
	}
	return out
}
