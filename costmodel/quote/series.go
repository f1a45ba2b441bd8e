package quote

import (
	"fmt"
	"slices"
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/table"
)

// A ClauseMonth is what the index clause of a quote makes of its price in a month.
type ClauseMonth struct {
	Month   string
	List    float64 // list price, model currency per kg
	Index   float64 // share by which it has moved since the base month
	Counted float64 // share that the clause counts
	Change  float64 // of the price, model currency a piece
	Price   float64 // by the clause
	Notice  float64 // that was announced less that by the clause; NaN without a notice
}

// Clause follows the index clause of a quote through the months of the sheet Price months from its base month on. notice is a price a piece in
// the quote's currency that the supplier announces for a month; 0 for none. The error says what is missing.
func (a *Answer) Clause(o *Offer, notice float64) ([]ClauseMonth, error) {
	if o.Model == nil {
		return nil, fmt.Errorf("the part of %s can't be costed, so its grade is not known", o.Quote.Key)
	}
	base, ok := parseMonths(o.Quote.Text("base_month"))
	if !ok {
		return nil, fmt.Errorf("%s states no base month of an index clause; write it as 2025-03 or 2025-Q1", o.Quote.Key)
	}
	grade, ok := o.Model.Part.Follow("material")
	if !ok {
		return nil, fmt.Errorf("the part of %s has no grade", o.Quote.Key)
	}
	var ds table.Diagnostics
	f := &factReader{quotes: a.Quotes, months: readMonths(a.Quotes, &ds), lanes: readLanes(a.Quotes, &ds)}
	key := grade.Record().Key
	basePrice, baseScrap, ok := f.months.at(key, base)
	if !ok {
		return nil, fmt.Errorf("the sheet Price months has no price of %s for the base month %s", key, o.Quote.Text("base_month"))
	}
	var out []ClauseMonth
	for _, m := range f.months[key] {
		if m.month < base[len(base)-1] {
			continue
		}
		f.facts = nil
		for _, other := range a.Offers {
			f.read(other)
		}
		for _, x := range []struct {
			name  string
			value float64
		}{{"clause_base_price", basePrice.value}, {"clause_base_scrap", baseScrap.value}, {"clause_price", m.base.value}, {"clause_scrap", m.scrap.value}} {
			f.set(o.Quote.Record, x.name, x.value)
		}
		if notice > 0 {
			f.set(o.Quote.Record, "notice_price", notice)
		}
		p, more := a.Quotes.Compile(f.facts)
		if p == nil {
			return nil, more
		}
		e := p.Detail(1).Entries("quote")[slices.Index(a.Offers, o)]
		out = append(out, ClauseMonth{Month: m.month.String(), List: m.base.value, Index: valueOr(e, "index_change"), Counted: valueOr(e, "index_counted"),
			Change: valueOr(e, "clause_change"), Price: valueOr(e, "contract_price"), Notice: valueOr(e, "notice_over_contract")})
	}
	return out, nil
}

// String writes a month as 2025-03.
func (m month) String() string { return fmt.Sprintf("%04d-%02d", int(m)/12, int(m)%12+1) }

// A ChangedLine is a line of a breakdown and what a change request adds to it.
type ChangedLine struct {
	Line   *costmodel.Record
	Amount float64 // the quote's currency, a piece
}

// A LineChange asks for so much more of a line: of its quantity in its own unit, or seconds of its time.
type LineChange struct {
	Line    string
	More    float64
	Seconds bool
}

// A Changed is a change request priced from a quote's own lines.
type Changed struct {
	Lines []ChangedLine
	Total float64 // the quote's currency, a piece
	Asked float64 // price that the supplier asks for it, his currency a piece; 0 where none was given
	Found []Finding
}

// Change prices a change request from a quote's own lines: the lines that change and the surcharges taken on them. asked is the price that the
// supplier asks for it, in his currency a piece, which is held against them; 0 for none.
func (a *Answer) Change(o *Offer, changes []LineChange, asked float64) (*Changed, error) {
	f := &factReader{quotes: a.Quotes}
	for _, c := range changes {
		i := slices.IndexFunc(o.Quote.Lines, func(l *costmodel.Record) bool { return l.Text("line") == c.Line })
		if i < 0 {
			return nil, fmt.Errorf("%s has no line %s", o.Quote.Key, c.Line)
		}
		name, factor := "change", "rate"
		if c.Seconds {
			name, factor = "time_change", "machine_rate"
		}
		if _, ok := a.Quotes.Given(o.Quote.Lines[i], factor); !ok {
			return nil, fmt.Errorf("line %s of %s states no %s, so that a change of it has no price", c.Line, o.Quote.Key,
				strings.ReplaceAll(factor, "_", " "))
		}
		f.set(o.Quote.Lines[i], name, c.More)
	}
	amounts, err := a.changed(o, f)
	if err != nil {
		return nil, err
	}
	out := &Changed{Asked: asked}
	for i, v := range amounts {
		if v != 0 {
			out.Lines = append(out.Lines, ChangedLine{o.Quote.Lines[i], v})
			out.Total += v
		}
	}
	if asked > 0 {
		out.Found, err = a.changeFindings(o, out)
	}
	return out, err
}

// changeFindings holds the price that is asked for a change against what the lines give for it: by the rules that need both and nothing was
// checked of before.
func (a *Answer) changeFindings(o *Offer, c *Changed) (out []Finding, err error) {
	f := &factReader{quotes: a.Quotes}
	f.facts = slices.Clone(a.Facts)
	f.set(o.Quote.Record, "change_asked", c.Asked)
	f.set(o.Quote.Record, "change_contracted", c.Total)
	p, ds := a.Quotes.Compile(f.facts)
	if p == nil {
		return nil, ds
	}
	e := p.Detail(1).Entries("quote")[slices.Index(a.Offers, o)]
	volume, _ := a.Quotes.Given(a.Quotes.Request, "annual_volume")
	for _, n := range o.NotChecked {
		if found, is := a.outside(n.Rule, e, nil, volume); is {
			out = append(out, found)
		}
	}
	return out, nil
}

// changed evaluates the lines until what is taken on others has followed them.
func (a *Answer) changed(o *Offer, f *factReader) ([]float64, error) {
	asked := f.facts
	amounts := make([]float64, len(o.Quote.Lines))
	for range len(kinds) + 1 {
		f.facts = slices.Clone(asked)
		for _, other := range a.Offers {
			f.linesOf(other.Quote)
		}
		for _, l := range o.Quote.Lines {
			if on := l.Text("on"); on != "" {
				base, total := f.baseOf(o.Quote, on), 0.0
				for k, other := range o.Quote.Lines {
					if base[other] {
						total += amounts[k]
					}
				}
				f.set(l, "changed_base", total)
			}
		}
		p, ds := a.Quotes.Compile(f.facts)
		if p == nil {
			return nil, ds
		}
		d := p.Detail(1)
		for k := range o.Quote.Lines {
			amounts[k] = 0
			for _, e := range d.Entries("quote line") {
				if e.Record().Key == o.Quote.Lines[k].Key {
					amounts[k] = valueOr(e, "change_amount")
				}
			}
		}
	}
	return amounts, nil
}
