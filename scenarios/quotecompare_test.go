package scenarios

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"piececost/costmodel/quote"
)

// A refAnswer is what the reference says of all quotes of a case.
type refAnswer struct {
	quotes []*refQuote
	rules  []*refRules
}

func (c *quoteCase) reference(t testing.TB) refAnswer {
	t.Helper()
	ref := refAnswer{quotes: readRefQuotes(t, c.sheets, c.model)}
	for i, q := range ref.quotes {
		others := slices.Delete(slices.Clone(ref.quotes), i, i+1)
		ref.rules = append(ref.rules, checkRefQuote(t, q, others))
	}
	return ref
}

// sameTo tells whether two numbers agree, or both are not there.
func sameTo(a, b, tolerance float64) bool {
	return math.IsNaN(a) && math.IsNaN(b) || math.Abs(a-b) <= tolerance*math.Max(1, math.Max(math.Abs(a), math.Abs(b)))
}

// differs compares an answer with the reference; it returns all differences, a line each.
func (ref refAnswer) differs(a *quote.Answer) (out []string) {
	for i, q := range ref.quotes {
		for _, what := range slices.Concat(differsInChain(q, a.Offers[i]), ref.differsInRank(i, a.Offers), differsInRules(ref.rules[i], a.Offers[i])) {
			out = append(out, q.key+": "+what)
		}
	}
	return out
}

func differsInChain(q *refQuote, o *quote.Offer) (out []string) {
	for _, s := range o.Chain {
		want := q.chain[s.Number]
		if !sameTo(s.Change, want[0], 1e-9) || !sameTo(s.Sum, want[1], 1e-9) {
			out = append(out, fmt.Sprintf("step %d is %v, %v, want %v", s.Number, s.Change, s.Sum, want))
		}
	}
	var open []string
	for _, p := range o.OpenPoints {
		if strings.HasPrefix(p.Rule, "step ") {
			open = append(open, p.Rule)
		}
	}
	if !slices.Equal(open, q.open) {
		out = append(out, fmt.Sprintf("open are %v, want %v", open, q.open))
	}
	if len(o.Chain) != 13 {
		out = append(out, fmt.Sprintf("the chain has %d steps", len(o.Chain)))
	}
	agreed := 0.0 // less than stated, of lines that are in the price without tools
	for _, l := range q.lines {
		if l["Element"] != "tool" && l["Element"] != "tooling" {
			agreed += or(refNumberOr(l["Agreed"])-refNumberOr(l["Amount"]), 0) * q.rate
		}
	}
	for name, want := range map[string]float64{"agreed_price": q.after4 + agreed, "agreed_less_model": q.after4 + agreed - q.modelPrice(),
		"cash_before_start": q.cash, "delivered_cost_a_year": q.levelised * q.n, "sets_needed": q.sets,
		"price_less_model": q.after4 - q.modelPrice()} {
		got, ok := o.Entry.Value(name)
		if !ok {
			got = math.NaN()
		}
		if !sameTo(got, want, 1e-9) {
			out = append(out, fmt.Sprintf("%s is %v, want %v", name, got, want))
		}
	}
	return out
}

// differsInRank counts who is lower.
func (ref refAnswer) differsInRank(at int, offers []*quote.Offer) (out []string) {
	q := ref.quotes[at]
	before, after := 1, 1
	for _, o := range ref.quotes {
		before += int(is(o.chain[3][1] < q.chain[3][1], 1))
		after += int(is(o.levelised < q.levelised, 1))
	}
	if o := offers[at]; o.RankBefore != before || o.RankAfter != after {
		out = append(out, fmt.Sprintf("ranks are %d and %d, want %d and %d", o.RankBefore, o.RankAfter, before, after))
	}
	return out
}

// findingName is a rule, with its line where it has one.
func findingName(f quote.Finding) string {
	if f.Line != nil {
		return f.Rule.Name + " " + f.Line.Key
	}
	return f.Rule.Name
}

func differsInRules(r *refRules, o *quote.Offer) (out []string) {
	left := maps.Clone(r.findings)
	for _, f := range o.Findings {
		name := findingName(f)
		want, ok := left[name]
		delete(left, name)
		switch {
		case !ok:
			out = append(out, fmt.Sprintf("%s is found with %v outside %v to %v, and should not be", name, f.Value, f.Low, f.High))
		case !sameTo(f.Value, want.value, 1e-9) || !sameTo(f.Effect, want.effect, 1e-9):
			out = append(out, fmt.Sprintf("%s has %v and effect %v, want %v", name, f.Value, f.Effect, want))
		case !math.IsInf(want.low, 0) && !sameTo(f.Low, want.low, 1e-9) || !math.IsInf(want.high, 0) && !sameTo(f.High, want.high, 1e-9):
			out = append(out, fmt.Sprintf("%s has the bounds %v and %v, want %v and %v", name, f.Low, f.High, want.low, want.high))
		case !sameTo(f.AYear, want.effect*r.q.n, 1e-9):
			out = append(out, fmt.Sprintf("%s has %v a year", name, f.AYear))
		}
	}
	for _, name := range slices.Sorted(maps.Keys(left)) {
		out = append(out, fmt.Sprintf("%s is not found; it has %v", name, left[name]))
	}
	unchecked := map[string]bool{}
	for _, n := range o.NotChecked {
		unchecked[n.Rule.Name] = true
		if !r.notChecked[n.Rule.Name] {
			out = append(out, fmt.Sprintf("%s is not checked for want of %s, and should be", n.Rule.Name, strings.Join(n.Needs, ", ")))
		}
	}
	for _, name := range slices.Sorted(maps.Keys(r.notChecked)) {
		if !unchecked[name] {
			out = append(out, name+" is checked, and should not be")
		}
	}
	return out
}

// TestQuoteReference holds the sample's quotes against the reference: every step, rank, finding, and rule that can't be checked.
func TestQuoteReference(t *testing.T) {
	c, a := mustAsk(t, "sample", sampleQuoteSheets(t))
	for _, d := range c.reference(t).differs(a) {
		t.Error(d)
	}
}
