package quote

import (
	"context"
	"slices"

	"piececost/costmodel"
	"piececost/costmodel/table"
)

// An Answer is what is known of the quotes of a case.
type Answer struct {
	Quotes *costmodel.Quotes
	Plan   *costmodel.Plan // of the quotes, with the facts in it
	Detail *costmodel.Detail
	Offers []*Offer              // in the order of the sheet
	Facts  []costmodel.QuoteFact // what was read for the quotes and their lines, by the records of Quotes
	Talks  map[*costmodel.Quote][]Talk
	Rests  []table.Place // cells on which the chain rests as no formula can follow: a change of one asks for another run
}

// An Offer is a quote with all that was found of it.
type Offer struct {
	Quote *costmodel.Quote
	Entry costmodel.Entry // its row of the plan
	Lines []Line
	Model *ShouldCost // nil where the part can't be costed at the supplier's terms

	Chain       []Step
	RankBefore  int // by price in the model currency, from 1; 0 where it is not known
	RankAfter   int // by levelised delivered cost
	Elements    []Compared
	Beside      []Counterpart // each line beside what the should-cost has for it
	Findings    []Finding
	NotChecked  []NotChecked
	OpenPoints  []OpenPoint
	Patterns    []Pattern
	Explained   []Explanation     // filled by Explain
	Diagnostics table.Diagnostics // of the should-cost
}

// A Line is a line of a breakdown with its row of the plan.
type Line struct {
	Record *costmodel.Record
	Entry  costmodel.Entry
}

// HasAgreed tells whether an amount of a line was agreed on.
func (o *Offer) HasAgreed() bool {
	return slices.ContainsFunc(o.Lines, func(l Line) bool {
		_, agreed := l.Entry.Value("agreed")
		return agreed
	})
}

// Ask finds everything for the quotes of a case. The diagnostics hold what is wrong with the quotes; with errors among them the answer is
// nil.
func Ask(ctx context.Context, q *costmodel.Quotes) (*Answer, table.Diagnostics, error) {
	ds := append(table.Diagnostics(nil), q.Diagnostics...)
	if ds.HasErrors() || q.Model.Diagnostics.HasErrors() {
		return nil, ds, nil
	}
	checkWords(q, &ds)
	a := &Answer{Quotes: q}
	f := &factReader{quotes: q, months: readMonths(q, &ds), lanes: readLanes(q, &ds)}
	for _, o := range q.Quotes {
		if err := ctx.Err(); err != nil {
			return nil, ds, err
		}
		offer := &Offer{Quote: o}
		offer.Model, offer.Diagnostics = shouldCost(q, o)
		a.Offers = append(a.Offers, offer)
		f.read(offer)
	}
	a.Rests, a.Talks = f.rests, talks(q, &ds)
	f.readBounds(&ds)
	if ds.HasErrors() {
		return nil, ds, nil
	}
	if err := a.compile(f, &ds); err != nil {
		return nil, ds, err
	}
	if a.Plan == nil {
		return nil, ds, nil
	}
	for _, o := range a.Offers {
		o.Chain = a.chain(o)
		o.Elements = a.compared(o)
		o.Beside = a.counterparts(o)
		a.check(o)
		o.Patterns = a.patterns(o)
	}
	a.rank()
	return a, ds, nil
}

// Explain finds for every quote what would explain it, which takes longer than all the rest.
func (a *Answer) Explain(ctx context.Context) error {
	for _, o := range a.Offers {
		if err := ctx.Err(); err != nil {
			return err
		}
		o.Explained = a.explain(o)
	}
	return nil
}

// compile puts the facts into the plan: first those that every quote has for itself, then what all quotes together say of each.
func (a *Answer) compile(f *factReader, ds *table.Diagnostics) error {
	p, more := a.Quotes.Compile(f.facts)
	if p == nil {
		*ds = append(*ds, more...)
		return nil
	}
	a.enter(p)
	f.readTogether(a)
	if p, more = a.Quotes.Compile(f.facts); p == nil {
		*ds = append(*ds, more...)
		return nil
	}
	a.enter(p)
	a.Facts = f.facts
	*ds = append(*ds, more...)
	return nil
}

// enter finds the rows of the quotes and their lines in a plan.
func (a *Answer) enter(p *costmodel.Plan) {
	a.Plan, a.Detail = p, p.Detail(1)
	entries, lines := a.Detail.Entries("quote"), a.Detail.Entries("quote line")
	for i, o := range a.Offers {
		o.Entry = entries[i]
		o.Lines = nil
		for _, r := range o.Quote.Lines {
			o.Lines = append(o.Lines, Line{r, lines[0]})
			lines = lines[1:]
		}
	}
}

// A Step is a step of the chain: what it changes and where the price then stands.
type Step struct {
	Number  int
	Label   string
	Change  float64 // NaN where the step only states a sum
	Sum     float64 // NaN where the step only shows a change
	Aside   bool
	Assumed []string // quantities in it that the supplier did not state, by label
}
