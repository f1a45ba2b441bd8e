package report

import (
	"io"
	"math"
	"strconv"
	"strings"

	"piececost/costmodel/quote"
	"piececost/scenarios/costing/wire"
)

// number is a value of JSON that may not be there.
func number(v float64) *float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return &v
}

// JSON is the answer over the workbook of that name.
func (r *Quotes) JSON(file string) wire.Quotes {
	out := wire.Quotes{Answer: wire.Begin[wire.Quotes](), File: file, Currency: r.Currency, AnnualVolume: r.asked(), Quotes: []wire.Quote{},
		Caution: wire.Caution}
	for _, o := range r.offers() {
		out.Quotes = append(out.Quotes, r.quote(o))
	}
	return out
}

func (r *Quotes) quote(o *quote.Offer) wire.Quote {
	out := wire.Quote{Name: o.Quote.Key, Supplier: o.Quote.Text("supplier"), Currency: o.Quote.Currency, Rate: o.Quote.Rate, RankBefore: o.RankBefore,
		RankAfter: o.RankAfter, EqualTerms: number(value(o, "equal_terms_price")), Delivered: number(value(o, "levelised_delivered_cost")),
		Cash: number(value(o, "cash_before_start")), Price: number(value(o, "after_tools")), Chain: []wire.QuoteStep{}, Lines: []wire.QuoteLines{},
		Findings: []wire.QuoteFinding{}, Patterns: []wire.QuotePattern{},
		NotChecked: []wire.QuoteUnchecked{}, OpenPoints: []wire.QuoteOpenPoint{}, Explanations: []wire.QuoteExplanation{}}
	for _, s := range o.Chain {
		out.Chain = append(out.Chain, wire.QuoteStep{Step: s.Number, Label: s.Label, Change: number(s.Change), Sum: number(s.Sum), Aside: s.Aside,
			Assumed: s.Assumed})
	}
	if o.Model != nil {
		out.PriceModel = number(value(o, "model_price"))
		if o.HasAgreed() {
			out.Agreed = number(value(o, "agreed_price"))
		}
		for _, e := range o.Elements {
			more := e.Quoted - e.Model
			out.Elements = append(out.Elements, wire.QuoteElement{Element: e.Name, Label: e.Label, Quoted: number(e.Quoted), Model: number(e.Model),
				More: number(more), MoreYear: number(more * r.asked()), Best: number(e.Best), BestOf: e.BestOf, Median: number(e.Median),
				Highest: number(e.HighEnd)})
		}
	}
	for _, x := range o.Beside {
		out.Lines = append(out.Lines, r.besideJSON(o, x))
	}
	for _, d := range o.Diagnostics {
		out.NoModel = append(out.NoModel, d.String())
	}
	for _, f := range o.Findings {
		out.Findings = append(out.Findings, r.findingJSON(o, f))
	}
	for _, p := range o.Patterns {
		out.Patterns = append(out.Patterns, wire.QuotePattern{Pattern: p.Pattern, Says: p.Says, Evidence: p.Evidence})
	}
	for _, n := range o.NotChecked {
		out.NotChecked = append(out.NotChecked, wire.QuoteUnchecked{Rule: n.Rule.Name, What: n.Rule.What, Needs: append([]string{}, n.Needs...)})
	}
	for _, p := range o.OpenPoints {
		out.OpenPoints = append(out.OpenPoints, wire.QuoteOpenPoint{Rule: p.Rule, Ask: p.Ask})
	}
	for _, e := range o.Explained {
		out.Explanations = append(out.Explanations, explanationJSON(e))
	}
	return out
}

func (r *Quotes) besideJSON(o *quote.Offer, x quote.Counterpart) wire.QuoteLines {
	b := besideOf(o, x)
	out := wire.QuoteLines{Label: x.Label, Part: x.Part, Operation: x.Operation, Lines: []wire.QuoteLine{}, Quoted: number(b), Model: number(x.Model),
		More: number(b - x.Model), MoreYear: number((b - x.Model) * r.asked())}
	for _, l := range x.Lines {
		out.Lines = append(out.Lines, wire.QuoteLine{Line: l.Record.Text("line"), Text: l.Record.Text("text"), Quoted: number(lineAmount(o, l)),
			Product: number(lineProduct(o, l))})
	}
	return out
}

func (r *Quotes) findingJSON(o *quote.Offer, f quote.Finding) wire.QuoteFinding {
	u := r.ruleUnit(f.Rule, o)
	out := wire.QuoteFinding{Rule: f.Rule.Name, What: f.Rule.What, Shows: f.Rule.Shows, Value: u.shown(f.Value), Low: number(u.shown(f.Low)),
		High: number(u.shown(f.High)), Unit: u.text, Effect: number(f.Effect), EffectYear: number(f.AYear), Question: f.Rule.Question, Assumed: f.Assumed}
	if f.Line != nil {
		out.Line = f.Line.Key
	}
	return out
}

func explanationJSON(e quote.Explanation) wire.QuoteExplanation {
	out := wire.QuoteExplanation{Of: e.Of(), Quoted: e.Quoted, Model: e.Model, Single: []wire.QuoteAssumption{}}
	for _, x := range e.Single {
		out.Single = append(out.Single, wire.QuoteAssumption{Assumption: x.Name, Factor: number(x.Factor), Base: number(x.Base), Needed: number(x.Needed),
			Unit: x.Unit, Low: number(x.Low), High: number(x.High), Verdict: string(x.Verdict)})
	}
	for _, p := range e.Pairs {
		pair := wire.QuotePair{First: p.First, Second: p.Second, Points: []wire.QuotePairPoint{}}
		for _, at := range p.Points {
			pair.Points = append(pair.Points, wire.QuotePairPoint{First: at.First, Second: number(at.Second)})
		}
		out.Pairs = append(out.Pairs, pair)
	}
	return out
}

// Questions prints what a supplier is asked, as a page of Markdown.
func Questions(w io.Writer, q quote.Questions) {
	line := func(parts ...string) { io.WriteString(w, strings.Join(parts, "")+"\n") }
	who := q.Quote
	if q.Supplier != "" {
		who = q.Supplier
	}
	line("# Questions on your quote")
	line("")
	line("To: ", plain(who))
	line("")
	line("## What we need for every quote")
	line("")
	for _, ask := range q.Base {
		line("- ", ask)
	}
	if len(q.Own) > 0 {
		line("")
		line("## On your figures")
		line("")
	}
	for i, own := range q.Own {
		at := ""
		if own.Line != "" {
			at = " (line " + plain(own.Line) + ")"
		}
		line(ordinal(i), own.Ask, at)
		for _, n := range own.Own {
			line("   - ", plain(n.Label), ": ", plain(n.Text))
		}
	}
	if len(q.Agreed) > 0 {
		line("")
		line("## Agreed")
		line("")
		line("| Line | Text | Stated | Agreed |")
		line("| --- | --- | --- | --- |")
		for _, f := range q.Agreed {
			line("| ", plain(f.Line), " | ", plain(f.Text), " | ", plain(f.Stated), " | ", plain(f.Agreed), " |")
		}
	}
	line("")
	line("## Record of our talks")
	line("")
	line("| Date | What | Before | After |")
	line("| --- | --- | --- | --- |")
	for _, t := range q.Talks {
		line("| ", plain(t.Date), " | ", plain(t.What), " | ", plain(t.Before), " | ", plain(t.After), " |")
	}
	line("| | | | |")
}

func ordinal(i int) string { return strconv.Itoa(i+1) + ". " }

// plain takes out of a supplier's words what Markdown or a table would read as its own.
func plain(text string) string {
	text = strings.NewReplacer("|", "/", "`", "'", "<", "(", ">", ")", "[", "(", "]", ")", "*", "", "#", "", "!", "").Replace(text)
	return inert(text)
}
