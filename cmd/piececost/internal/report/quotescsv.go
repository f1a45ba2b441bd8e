package report

import (
	"io"
	"math"
	"strings"

	"piececost/costmodel/quote"
)

// CSV prints a table: chain, elements, findings or explanations.
func (r *Quotes) CSV(w io.Writer, of string) {
	heads := map[string][]string{
		"chain":        {"quote", "step", "label", "change", "sum", "assumed"},
		"elements":     {"quote", "element", "quoted", "should_cost", "more_a_piece", "more_a_year", "lowest", "lowest_of", "median", "highest"},
		"findings":     {"quote", "rule", "line", "what", "shows", "value", "low", "high", "unit", "effect_a_piece", "effect_a_year", "question"},
		"explanations": {"quote", "of", "quoted", "should_cost", "assumption", "factor", "base", "needed", "unit", "low", "high", "verdict"},
	}
	t := newCSV(w, heads[of]...)
	defer t.flush()
	for _, o := range r.offers() {
		switch of {
		case "chain":
			r.chainCSV(t, o)
		case "elements":
			for _, e := range r.quote(o).Elements {
				t.row(o.Quote.Key, e.Element, optional(e.Quoted), optional(e.Model), optional(e.More), optional(e.MoreYear), optional(e.Best), e.BestOf,
					optional(e.Median), optional(e.Highest))
			}
		case "findings":
			for _, f := range r.quote(o).Findings {
				t.row(o.Quote.Key, f.Rule, f.Line, f.What, f.Shows, f.Value, optional(f.Low), optional(f.High), f.Unit, optional(f.Effect),
					optional(f.EffectYear), f.Question)
			}
		case "explanations":
			for _, e := range r.quote(o).Explanations {
				for _, x := range e.Single {
					t.row(o.Quote.Key, e.Of, e.Quoted, e.Model, x.Assumption, optional(x.Factor), optional(x.Base), optional(x.Needed), x.Unit,
						optional(x.Low), optional(x.High), x.Verdict)
				}
			}
		}
	}
}

func (r *Quotes) chainCSV(t *csvTable, o *quote.Offer) {
	for _, s := range o.Chain {
		t.row(o.Quote.Key, s.Number, s.Label, s.Change, s.Sum, strings.Join(s.Assumed, ", "))
	}
}

// optional is a number that may not be there.
func optional(v *float64) float64 {
	if v == nil {
		return math.NaN()
	}
	return *v
}
