package results

import (
	"fmt"
	"math"
	"strings"

	"piececost/costmodel/quote"
	"piececost/scenarios/live"
	"piececost/scenarios/sheet"
)

// findingsSheet is the sheet Quote findings being written.
type findingsSheet struct {
	b *writer
	p *sheet.Page
	a *quote.Answer
}

// The columns of the sheet.
const (
	findingRule = iota + 1
	findingWhat
	findingLine
	findingValue
	findingUnit
	findingLow
	findingHigh
	findingEffect
	findingYear
	findingQuestion
)

var findingWidths = []float64{7, 34, 8, 13, 9, 11, 11, 13, 14, 58}

const findingsNote = "Findings speak of numbers, not of intentions. Effect: quoted less corrected, positive where the quote is too high. Slanted, with an " +
	"a: the value rests " +
	"on what the supplier did not state. Bounds: common practice, no source, unless the sheet Quote rules gives others."

// findings writes for each quote what does not fit together in it, what several findings may mean, what to ask for, and what was not checked.
func (b *writer) findings() error {
	if b.quotes == nil {
		return nil
	}
	p, err := b.Page(FindingsSheet, "Quote findings")
	if err != nil {
		return err
	}
	s := &findingsSheet{b: b, p: p, a: b.result.Quotes}
	b.staleMark(p)
	p.Set(5, 1, findingsNote, sheet.Look{Kind: "faint"})
	row := 7
	for i, o := range s.a.Offers {
		if i > 0 {
			p.Breaks = append(p.Breaks, row)
		}
		row = s.offer(row, o) + 1
	}
	for i, w := range findingWidths {
		p.Widths[i+1] = w
	}
	p.Landscape, p.Titles, p.Freeze = true, 4, "A5"
	return p.Flush()
}

func (s *findingsSheet) offer(row int, o *quote.Offer) int {
	s.b.band(s.p, row, quoteTitle(o.Quote.Key, o.Quote.Text("supplier"))+": "+sheet.Counted(len(o.Findings), "finding")+", "+
		sheet.Counted(len(o.OpenPoints), "open point"), findingQuestion)
	row++
	if len(o.Findings) > 0 {
		row = s.found(row, o) + 1
	}
	if len(o.Patterns) > 0 {
		row = s.patterns(row, o) + 1
	}
	if len(o.OpenPoints) > 0 {
		row = s.open(row, o) + 1
	}
	if len(o.NotChecked) > 0 {
		row = s.unchecked(row, o) + 1
	}
	return row
}

// found lists the findings of a quote, the largest effect first; it returns the row below.
func (s *findingsSheet) found(row int, o *quote.Offer) int {
	c := s.b.currency()
	s.p.MixedHeading(row, []int{findingRule, findingWhat, findingLine, findingUnit, findingQuestion}, "Rule", "What", "Line", "Value", "Unit", "Low", "High",
		"Effect ["+c+" per piece]", "Effect ["+c+"/yr]", "Question to the supplier")
	for _, f := range o.Findings {
		row++
		s.finding(row, o, f)
	}
	return row + 1
}

func (s *findingsSheet) finding(row int, o *quote.Offer, f quote.Finding) {
	e, line := o.Entry, ""
	if f.Line != nil {
		line = f.Line.Text("line")
		for _, l := range o.Lines {
			if l.Record == f.Line {
				e = l.Entry
			}
		}
	}
	s.words(row, findingRule, strings.ToUpper(f.Rule.Name))
	s.words(row, findingWhat, sentence(f.Rule.What)+": "+shows(f))
	s.words(row, findingLine, line)
	s.words(row, findingQuestion, f.Rule.Question)
	value := s.b.quoteRef(e, f.Rule.ValueName())
	s.number(row, findingValue, value, len(f.Assumed) > 0)
	s.words(row, findingUnit, s.unit(value, o))
	for _, bound := range []struct {
		col       int
		has, name string
	}{{findingLow, f.Rule.Low, f.Rule.LowName()}, {findingHigh, f.Rule.High, f.Rule.HighName()}} {
		if bound.has == "" {
			s.p.Set(row, bound.col, nil, sheet.Look{Kind: "number"})
			continue
		}
		s.number(row, bound.col, s.b.quoteRef(e, bound.name), false)
	}
	if math.IsNaN(f.Effect) {
		s.p.Set(row, findingEffect, "no amount", sheet.Look{Kind: "label", Right: true})
		s.p.Set(row, findingYear, nil, sheet.Look{Kind: "number"})
		return
	}
	s.p.Link(row, findingEffect, s.b.quoteRef(e, f.Rule.EffectName()), sheet.Look{Kind: "number", Format: signedFormat(s.b.quoteMoney())})
	asked := s.b.requested()
	s.p.Formula(row, findingYear, fmt.Sprintf("H%d*%s", row, asked.Formula), f.Effect*asked.Num,
		sheet.Look{Kind: "number", Format: suffixed(signedFormat(sheet.WholeFormat), "_w")})
}

// shows says on which side of its bounds a value lies, or what it points to.
func shows(f quote.Finding) string {
	switch {
	case f.Rule.Shows == "error":
		return "does not fit"
	case f.Rule.Shows == "contract":
		return "to be settled in the contract"
	case f.Above():
		return "high"
	}
	return "low"
}

// unit is that of a value, with the code of the quote's currency.
func (s *findingsSheet) unit(r live.Ref, o *quote.Offer) string {
	switch {
	case !r.OK || r.Column.Unit == "1":
		return ""
	case r.Column.Percent:
		return "%"
	}
	return strings.ReplaceAll(r.Column.Unit, "quote's currency", o.Quote.Currency)
}

func (s *findingsSheet) words(row, col int, text string) {
	s.b.setWords(s.p, row, col, text, int(findingWidths[col-1])-1, sheet.Look{Kind: "label", Wrap: true})
}

// number writes a value or bound in the unit of its rule.
func (s *findingsSheet) number(row, col int, r live.Ref, assumed bool) {
	if !r.OK {
		s.p.Set(row, col, "–", sheet.Look{Kind: "number", Right: true})
		return
	}
	format := numberFormatOf(r.Column, r.Num)
	switch {
	case r.Column.Percent:
		format = sheet.ShareFormat
	case r.Num == math.Trunc(r.Num):
		format = "#,##0"
	case math.Abs(r.Num) >= 0.01:
		format = "#,##0.00"
	}
	k := marked(format, assumed)
	s.p.Link(row, col, r, k)
}

// patterns lists what several findings together may mean, each with its evidence; it returns the row below.
func (s *findingsSheet) patterns(row int, o *quote.Offer) int {
	s.table(row, "", "Several findings together", "What they may mean, and the evidence")
	for _, x := range o.Patterns {
		var rules []string
		for _, name := range x.Evidence {
			rules = append(rules, strings.ToUpper(name))
		}
		row = s.line(row+1, "", sentence(x.Pattern), x.Says+" Evidence: "+strings.Join(rules, ", ")+".")
	}
	return row + 1
}

// open lists what the supplier is to be asked for, since he did not state it; it returns the row below.
func (s *findingsSheet) open(row int, o *quote.Offer) int {
	s.table(row, "Rule", "Open point: not stated, no error", "What to ask for")
	for _, x := range o.OpenPoints {
		row = s.line(row+1, ruleShown(x.Rule), sentence(x.What), x.Ask)
	}
	return row + 1
}

// ruleShown is how a rule, or a step of the chain, is named: R14, Step 5.
func ruleShown(name string) string {
	if strings.HasPrefix(name, "step ") {
		return sentence(name)
	}
	return strings.ToUpper(name)
}

// unchecked lists the rules that rest on what is not there; it returns the row below.
func (s *findingsSheet) unchecked(row int, o *quote.Offer) int {
	s.table(row, "Rule", "Not checked", "It needs")
	for _, x := range o.NotChecked {
		row = s.line(row+1, strings.ToUpper(x.Rule.Name), sentence(x.Rule.What), strings.Join(x.Needs, ", "))
	}
	return row + 1
}

// table writes the heading of a list of words, the last of which run over the columns of numbers.
func (s *findingsSheet) table(row int, rule, what, last string) {
	for i, text := range []string{rule, what, last} {
		s.p.Set(row, i+1, text, sheet.Look{Kind: "running heading"})
	}
	for col := findingLine + 1; col <= findingQuestion; col++ {
		s.p.Set(row, col, nil, sheet.Look{Kind: "running heading"})
	}
	s.p.Heights[row] = 22
}

// lineLetters is how many letters of such words stand on a line.
const lineLetters = 125

// line writes a row of such a list, and further ones where its words need them; it returns the last.
func (s *findingsSheet) line(row int, rule, what, last string) int {
	s.words(row, findingRule, rule)
	s.words(row, findingWhat, what)
	for i, text := range sheet.BrokenLines(last, lineLetters) {
		if i > 0 {
			row++
		}
		s.p.Set(row, findingLine, text, sheet.Look{Kind: "text"})
	}
	return row
}
