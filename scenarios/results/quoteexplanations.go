package results

import (
	"fmt"
	"math"

	"piececost/costmodel/quote"
	"piececost/scenarios/sheet"
)

// explanationSheet is the sheet Quote explanations being written.
type explanationSheet struct {
	b     *writer
	p     *sheet.Page
	money string
}

// The columns of the sheet.
const (
	explainName = iota + 1
	explainUnit
	explainBase
	explainNeeded
	explainFactor
	explainLow
	explainHigh
	explainVerdict
)

var explanationWidths = []float64{46, 12, 14, 14, 12, 14, 14, 26}

const explanationNote = "At which value of one assumption alone the should-cost would be what was quoted, all else as modelled. A number of the run, which " +
	"no " +
	"formula follows; the required value is as modelled x factor."

// factorFormat shows a factor on an assumption that is no single number of the model.
const factorFormat = `"x "0.000`

// explanations writes for each quote what would explain its price and its elements.
func (b *writer) explanations() error {
	if b.quotes == nil {
		return nil
	}
	p, err := b.Page(ExplanationsSheet, "Quote explanations")
	if err != nil {
		return err
	}
	s := &explanationSheet{b: b, p: p, money: b.quoteMoney()}
	b.staleMark(p)
	p.Set(5, 1, explanationNote, sheet.Look{Kind: "faint"})
	row := 7
	for i, o := range b.result.Quotes.Offers {
		if i > 0 {
			p.Breaks = append(p.Breaks, row)
		}
		row = s.offer(row, o) + 1
	}
	for i, w := range explanationWidths {
		p.Widths[i+1] = w
	}
	p.Landscape, p.Titles, p.Freeze = true, 4, "A5"
	return p.Flush()
}

func (s *explanationSheet) offer(row int, o *quote.Offer) int {
	s.b.band(s.p, row, quoteTitle(o.Quote.Key, o.Quote.Text("supplier")), explainVerdict)
	row += 2
	if len(o.Explained) == 0 {
		s.p.Set(row, 1, "There is no should-cost at the terms of this quote.", sheet.Look{Kind: "label"})
		return row + 1
	}
	for _, e := range o.Explained {
		row = s.explained(row, e) + 1
	}
	return row
}

// explained writes what each assumption alone would have to be, and pairs where none alone explains it; it returns the row below.
func (s *explanationSheet) explained(row int, e quote.Explanation) int {
	unit := " [" + s.b.currency() + " per piece]"
	for i, x := range []struct {
		label string
		v     float64
	}{{"quoted" + unit, e.Quoted}, {"should-cost" + unit, e.Model}} {
		s.p.Set(row+i, explainName, sentence(e.Of())+", "+x.label, sheet.Look{Kind: "label"})
		s.p.Set(row+i, explainUnit, nil, sheet.Look{Kind: "label"})
		s.p.Set(row+i, explainBase, x.v, sheet.Look{Kind: "found", Format: s.money})
	}
	row += 2
	s.p.MixedHeading(row, []int{explainName, explainUnit, explainVerdict}, "Assumption alone", "Unit", "As modelled", "Required value", "Factor",
		"Plausible from", "Plausible to",
		"Verdict")
	for _, x := range e.Single {
		row++
		s.assumption(row, x)
	}
	return s.pairs(row+1, e)
}

func (s *explanationSheet) assumption(row int, x quote.Assumption) {
	s.p.Set(row, explainName, sentence(x.Name), sheet.Look{Kind: "label"})
	s.p.Set(row, explainUnit, x.Unit, sheet.Look{Kind: "label"})
	kind := "label"
	if x.Verdict == quote.Plausible {
		kind = "best"
	}
	s.p.Set(row, explainVerdict, sentence(string(x.Verdict)), sheet.Look{Kind: kind})
	low, high := x.PlausibleFactors()
	base, format := x.Base, factorFormat
	if math.IsNaN(base) {
		base = 1
		s.number(row, explainBase, math.NaN(), "")
		s.number(row, explainNeeded, math.NaN(), "")
	} else {
		format = sheet.ValueFormat(base)
		s.number(row, explainBase, base, format)
		s.needed(row, x, format)
	}
	s.number(row, explainFactor, x.Factor, factorFormat)
	s.number(row, explainLow, base*low, format)
	s.number(row, explainHigh, base*high, sheet.Padded(format))
}

// needed is what an assumption would have to be: its number in the model times the factor.
func (s *explanationSheet) needed(row int, x quote.Assumption, format string) {
	if math.IsNaN(x.Factor) {
		s.number(row, explainNeeded, math.NaN(), "")
		return
	}
	s.p.Formula(row, explainNeeded, fmt.Sprintf("C%d*E%d", row, row), x.Base*x.Factor, sheet.Look{Kind: "number", Format: format})
}

func (s *explanationSheet) number(row, col int, v float64, format string) {
	if math.IsNaN(v) {
		s.p.Set(row, col, "–", sheet.Look{Kind: "number", Right: true})
		return
	}
	s.p.Set(row, col, v, sheet.Look{Kind: "found", Format: format})
}

// pairs writes what two assumptions would have to be together, as factors: what the second must be for each of the first.
func (s *explanationSheet) pairs(row int, e quote.Explanation) int {
	for _, x := range e.Single {
		if x.Verdict == quote.Plausible {
			return row
		}
	}
	if len(e.Pairs) == 0 {
		s.p.Set(row, 1, "No assumption alone, and no two together, explain it within what is plausible.", sheet.Look{Kind: "faint"})
		return row + 1
	}
	s.p.MixedHeading(row, []int{explainName, explainUnit}, "Two together, as factors", "", "", "", "", "", "", "")
	for _, p := range e.Pairs {
		for i, name := range []string{p.First, p.Second} {
			row++
			s.p.Set(row, explainName, map[int]string{0: sentence(name), 1: "with " + name}[i], sheet.Look{Kind: "label"})
			s.p.Set(row, explainUnit, nil, sheet.Look{Kind: "label"})
			for n, at := range p.Points {
				s.number(row, explainBase+n, []float64{at.First, at.Second}[i], factorFormat)
			}
		}
	}
	return row + 1
}
