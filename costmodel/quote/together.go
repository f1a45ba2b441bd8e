package quote

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"piececost/costmodel/table"
)

// readTogether finds what all quotes together say of each: medians, and prices that are the same to the cent.
func (f *factReader) readTogether(a *Answer) {
	for _, o := range a.Offers {
		for _, m := range []struct{ name, of string }{{"median_price", "after_tools"}, {"median_tools", "tools_for_programme"}} {
			if others := a.others(o, m.of); len(others) >= 2 {
				f.set(o.Quote.Record, m.name, median(others))
			}
		}
		for _, m := range []struct{ name, of string }{{"median_material", "quoted_material"}, {"median_process", "quoted_process"},
			{"median_overhead", "quoted_overhead"}, {"median_sga", "quoted_sga"}} {
			if others := a.with(hasLines).others(o, m.of); len(others) >= 2 {
				f.set(o.Quote.Record, m.name, median(others))
			}
		}
		own, ok := o.Entry.Value("price_in_model_currency")
		others := a.others(o, "price_in_model_currency")
		if !ok || len(others) == 0 {
			continue
		}
		same := 0
		for _, v := range others {
			same += int(flag(math.Abs(v-own) < 0.005))
		}
		f.set(o.Quote.Record, "same_prices", float64(same))
	}
}

// with is an answer of those offers alone that a condition holds for.
func (a *Answer) with(holds func(*Offer) bool) *Answer {
	out := *a
	out.Offers = slices.DeleteFunc(slices.Clone(a.Offers), func(o *Offer) bool { return !holds(o) })
	return &out
}

func hasLines(o *Offer) bool { return len(o.Lines) > 0 }

// others are the values of a quantity in the other quotes, as far as they have one.
func (a *Answer) others(o *Offer, name string) (out []float64) {
	for _, other := range a.Offers {
		if v, ok := other.Entry.Value(name); ok && other != o {
			out = append(out, v)
		}
	}
	return out
}

func median(list []float64) float64 {
	sorted := slices.Clone(list)
	slices.Sort(sorted)
	n := len(sorted)
	if n%2 == 1 {
		return sorted[n/2]
	}
	return (sorted[n/2-1] + sorted[n/2]) / 2
}

// readBounds reads the sheet Quote rules: other bounds of rules, and those that are not used.
func (f *factReader) readBounds(ds *table.Diagnostics) {
	t := f.quotes.Model.Case.Table("Quote rules")
	if t == nil {
		return
	}
	for _, row := range t.Rows {
		name := strings.ToLower(t.TextAt(row, "rule"))
		if name == "" {
			continue
		}
		i := slices.IndexFunc(f.quotes.Library.Rules, func(r ruleText) bool { return r.Name == name })
		if i < 0 {
			ds.Add("rule", t.ValueAt(row, "rule").Place, fmt.Sprintf("there is no rule %q for quotes", table.Shortened(t.TextAt(row, "rule"))),
				"`piececost quotes --rules` lists them")
			continue
		}
		f.bounds(t, row, f.quotes.Library.Rules[i], ds)
	}
}

// bounds gives the rows of a rule's scope other bounds.
func (f *factReader) bounds(t *table.Table, row table.Row, r ruleText, ds *table.Diagnostics) {
	for _, b := range []struct{ column, name, has string }{{"low", r.LowName(), r.Low}, {"high", r.HighName(), r.High}} {
		v := t.ValueAt(row, b.column)
		if v.Kind == table.Empty {
			continue
		}
		if b.has == "" {
			ds.Add("rule", v.Place, fmt.Sprintf("the rule %s has no bound %s", r.Name, b.column), "clear the cell")
			continue
		}
		n, ok := cellIn(f.quotes, t, row, b.column, r.Unit, ds)
		if !ok {
			continue
		}
		for _, q := range f.quotes.Quotes {
			if r.Scope == "quote" {
				f.set(q.Record, b.name, n.value, n.cells...)
				continue
			}
			for _, l := range q.Lines {
				f.set(l, b.name, n.value, n.cells...)
			}
		}
	}
}

// unused are the rules that the sheet Quote rules leaves out, by name.
func (a *Answer) unused() map[string]bool {
	out := map[string]bool{}
	t := a.Quotes.Model.Case.Table("Quote rules")
	if t == nil {
		return out
	}
	for _, row := range t.Rows {
		v := t.ValueAt(row, "use")
		no := v.Kind == table.Flag && v.Number == 0 || strings.EqualFold(strings.TrimSpace(v.Text), "no")
		out[strings.ToLower(t.TextAt(row, "rule"))] = no
	}
	return out
}
