package results

import (
	"fmt"
	"math"
	"strings"

	"piececost/costmodel/quote"
	"piececost/costmodel/table"
	"piececost/scenarios/live"
	"piececost/scenarios/sheet"
)

// againstSheet is the sheet Quotes against should-cost being written.
type againstSheet struct {
	b     *writer
	p     *sheet.Page
	a     *quote.Answer
	money string
}

// The columns of the sheet: words, then amounts.
const (
	againstLine = iota + 1
	againstElement
	againstPlace
	againstText
	againstQuoted
	againstFactors
	againstModel
	againstDifference
	againstYear
)

var againstWidths = []float64{8, 36, 16, 24, 13, 13, 13, 13, 14}

const againstNote = "What is quoted is linked to the calculation and follows the sheets of quotes; the should-cost is of the run, at the annual volume and " +
	"in the " +
	"plant of the quote. Difference: quoted less should-cost."

// againstShouldCost writes each quote against the should-cost at its own terms, by element and by line, and the bidders beside each other.
func (b *writer) againstShouldCost() error {
	if b.quotes == nil {
		return nil
	}
	p, err := b.Page(ShouldCostSheet, "Quotes against should-cost")
	if err != nil {
		return err
	}
	s := &againstSheet{b: b, p: p, a: b.result.Quotes, money: b.quoteMoney()}
	b.staleMark(p)
	p.Set(5, 1, againstNote, sheet.Look{Kind: "faint"})
	row := s.bidders(7)
	for i, o := range s.a.Offers {
		if i > 0 {
			p.Breaks = append(p.Breaks, row)
		}
		row = s.offer(row, o) + 1
	}
	for i, w := range againstWidths {
		p.Widths[i+1] = w
	}
	for c := len(againstWidths) + 1; c <= againstText+len(s.a.Offers)+5; c++ {
		p.Widths[c] = 13
	}
	p.Landscape, p.Titles, p.Freeze = true, 4, "A5"
	return p.Flush()
}

// offer writes a quote: its elements and its lines; it returns the row below.
func (s *againstSheet) offer(row int, o *quote.Offer) int {
	s.b.band(s.p, row, quoteTitle(o.Quote.Key, o.Quote.Text("supplier"))+s.terms(o), againstYear)
	if o.Model == nil {
		row++
		s.p.Set(row, 1, "There is no should-cost at the terms of this quote.", sheet.Look{Kind: "label"})
		for _, d := range o.Diagnostics {
			row++
			s.p.Set(row, 1, sentence(d.Summary), sheet.Look{Kind: "text"})
		}
		return row + 1
	}
	row = s.elements(row+1, o)
	if len(o.Beside) > 0 {
		row = s.lines(row+1, o)
	}
	return row
}

// terms says at which terms the should-cost of a quote was costed.
func (s *againstSheet) terms(o *quote.Offer) string {
	if o.Model == nil {
		return ""
	}
	text := fmt.Sprintf(": part %s in %s at %s a year", o.Model.Part.Record().Key, o.Model.Scenario.Name,
		volumeText(o.Model.Detail.Scenario().Must("annual_volume")))
	if o.Model.InPlant {
		return text + ", plant " + o.Quote.Text("plant")
	}
	return text + ", plant of the scenario"
}

func (s *againstSheet) heading(row int, texts ...string) {
	s.p.MixedHeading(row, []int{againstLine, againstElement, againstPlace, againstText}, texts...)
}

// amount writes a quantity of the quote, a dash where it is not there.
func (s *againstSheet) amount(row, col int, r live.Ref, kind string) {
	if !r.OK {
		s.p.Set(row, col, "–", sheet.Look{Kind: kind, Right: true})
		return
	}
	s.p.Link(row, col, r, sheet.Look{Kind: kind, Format: s.money})
}

// difference writes quoted less should-cost of a row, a piece and a year, where both are there.
func (s *againstSheet) difference(row int, quoted, model float64, kind string) {
	if math.IsNaN(quoted) || math.IsNaN(model) {
		for _, col := range []int{againstDifference, againstYear} {
			s.p.Set(row, col, "–", sheet.Look{Kind: kind, Right: true})
		}
		return
	}
	asked := s.b.requested()
	cell := table.ColumnName(againstDifference)
	s.p.Formula(row, againstDifference, fmt.Sprintf("%s%d-%s%d", table.ColumnName(againstQuoted), row, table.ColumnName(againstModel), row), quoted-model,
		sheet.Look{Kind: kind, Format: signedFormat(s.money)})
	s.p.Formula(row, againstYear, fmt.Sprintf("%s%d*%s", cell, row, asked.Formula), (quoted-model)*asked.Num,
		sheet.Look{Kind: kind, Format: signedFormat(sheet.WholeFormat)})
}

// blank keeps the words of a row in its look.
func (s *againstSheet) blank(row int, kind string, words ...string) {
	for i := range againstText {
		text := any(nil)
		if i < len(words) && words[i] != "" {
			text = words[i]
			s.p.Grow(row, words[i], int(againstWidths[i]))
		}
		s.p.Set(row, i+1, text, sheet.Look{Kind: kind, Wrap: true})
	}
	s.p.Set(row, againstFactors, nil, sheet.Look{Kind: kind})
}

// elements writes the elements of a quote against the should-cost, and the price without tools; it returns the row below.
func (s *againstSheet) elements(row int, o *quote.Offer) int {
	c := s.b.currency()
	s.heading(row, "", "Element, per piece", "", "", "Quoted ["+c+"]", "", "Should-cost ["+c+"]", "Difference ["+c+"]", "Difference ["+c+"/yr]")
	first := row + 1
	for _, e := range o.Elements {
		row++
		s.element(row, o, e.Label, "quoted_"+e.Name, "model_"+e.Name)
	}
	row++
	s.element(row, o, "Packaging and freight in the price", "quoted_other", "model_delivery")
	row++
	s.rest(row, first, o)
	row++
	s.blank(row, "total", "", "Price without tools")
	price, whole := s.b.quoteRef(o.Entry, "after_tools"), s.b.quoteRef(o.Entry, "model_price")
	s.amount(row, againstQuoted, price, "total")
	s.amount(row, againstModel, whole, "total")
	s.difference(row, valueOf(price), valueOf(whole), "total")
	if o.HasAgreed() {
		row++
		s.element(row, o, "Price without tools, with the amounts agreed on", "agreed_price", "model_price")
	}
	row++
	s.blank(row, "label", "", "Tools for the programme, in total")
	tools, model := s.b.quoteRef(o.Entry, "tools_for_programme"), s.b.quoteRef(o.Entry, "model_tool_investment")
	s.p.Link(row, againstQuoted, tools, sheet.Look{Kind: "number", Format: sheet.WholeFormat})
	s.p.Link(row, againstModel, model, sheet.Look{Kind: "number", Format: sheet.WholeFormat})
	s.p.Set(row, againstYear, nil, sheet.Look{Kind: "number"})
	s.p.Set(row, againstDifference, nil, sheet.Look{Kind: "number"})
	if tools.OK && model.OK {
		s.p.Formula(row, againstDifference, fmt.Sprintf("%s%d-%s%d", table.ColumnName(againstQuoted), row, table.ColumnName(againstModel), row),
			tools.Num-model.Num, sheet.Look{Kind: "number", Format: signedFormat(sheet.WholeFormat)})
	}
	return row + 1
}

// element writes an element; without lines there is nothing quoted.
func (s *againstSheet) element(row int, o *quote.Offer, label, quoted, model string) {
	q, m := live.Ref{}, s.b.quoteRef(o.Entry, model)
	if len(o.Lines) > 0 {
		q = s.b.quoteRef(o.Entry, quoted)
	}
	s.blank(row, "label", "", label)
	s.amount(row, againstQuoted, q, "number")
	s.amount(row, againstModel, m, "number")
	s.difference(row, valueOf(q), valueOf(m), "number")
}

// rest writes what of the price stands in no element above.
func (s *againstSheet) rest(row, first int, o *quote.Offer) {
	s.blank(row, "label", "", "In no line of the above")
	total := s.b.quoteRef(o.Entry, "after_tools")
	sum := 0.0
	for r := range o.Elements {
		if len(o.Lines) > 0 && !math.IsNaN(o.Elements[r].Quoted) {
			sum += o.Elements[r].Quoted
		}
	}
	if other := s.b.quoteRef(o.Entry, "quoted_other"); other.OK && len(o.Lines) > 0 {
		sum += other.Num
	}
	col := table.ColumnName(againstQuoted)
	for _, c := range []int{againstModel, againstDifference, againstYear} {
		s.p.Set(row, c, nil, sheet.Look{Kind: "number"})
	}
	if !total.OK {
		s.amount(row, againstQuoted, total, "number")
		return
	}
	s.p.Formula(row, againstQuoted, fmt.Sprintf("ROUND(%s%d-SUM(%s%d:%s%d),9)", col, row+1, col, first, col, row-1), math.Round((total.Num-sum)*1e9)/1e9,
		sheet.Look{Kind: "number", Format: s.money})
}

// valueOf is the number of a reference, NaN of none.
func valueOf(r live.Ref) float64 {
	if !r.OK {
		return math.NaN()
	}
	return r.Num
}

// lines writes each line of a quote beside what the should-cost has for it; it returns the row below.
func (s *againstSheet) lines(row int, o *quote.Offer) int {
	c := s.b.currency()
	s.heading(row, "Line", "Element, per piece", "Part, operation", "The supplier's words", "Quoted ["+c+"]", "By its own factors ["+c+"]",
		"Should-cost ["+c+"]",
		"Difference ["+c+"]", "Difference ["+c+"/yr]")
	alone, short := 0, 0
	for _, x := range o.Beside {
		switch {
		case len(x.Lines) == 0:
			row++
			short++
			s.blank(row, "label", "no line", x.Label, where(x.Part, x.Operation))
			s.p.Set(row, againstQuoted, "–", sheet.Look{Kind: "number", Right: true})
			s.p.Set(row, againstModel, x.Model, sheet.Look{Kind: "found", Format: s.money})
			s.difference(row, math.NaN(), x.Model, "number")
		case len(x.Lines) == 1:
			row++
			s.line(row, o, x.Lines[0])
			s.model(row, x, s.quoted(o, x.Lines[0]).Num)
		default:
			row = s.together(row, o, x)
		}
		if len(x.Lines) > 0 && math.IsNaN(x.Model) {
			alone += len(x.Lines)
		}
	}
	row++
	s.p.Set(row, 1, fmt.Sprintf("%s without a counterpart in the should-cost; %s of the should-cost without a line. Nothing is spread over others.",
		sheet.Counted(alone, "line"), sheet.Counted(short, "element")), sheet.Look{Kind: "faint"})
	return row + 1
}

// together writes lines that stand against one counterpart, and below them their sum against it; it returns the row of the sum.
func (s *againstSheet) together(row int, o *quote.Offer, x quote.Counterpart) int {
	first, sum := row+1, 0.0
	for _, l := range x.Lines {
		row++
		s.line(row, o, l)
		sum += s.quoted(o, l).Num
		s.p.Set(row, againstModel, nil, sheet.Look{Kind: "number"})
		s.p.Set(row, againstDifference, nil, sheet.Look{Kind: "number"})
		s.p.Set(row, againstYear, nil, sheet.Look{Kind: "number"})
	}
	row++
	s.blank(row, "total", "", x.Label+", together", where(x.Part, x.Operation))
	col := table.ColumnName(againstQuoted)
	s.p.Formula(row, againstQuoted, fmt.Sprintf("SUM(%s%d:%s%d)", col, first, col, row-1), sum, sheet.Look{Kind: "total", Format: s.money})
	s.model(row, x, sum)
	return row
}

// model writes the should-cost of a row of lines and the difference to it.
func (s *againstSheet) model(row int, x quote.Counterpart, quoted float64) {
	if math.IsNaN(x.Model) {
		s.p.Set(row, againstModel, map[bool]string{true: "in total", false: "none"}[x.Outside], sheet.Look{Kind: "number", Right: true})
	} else {
		s.p.Set(row, againstModel, x.Model, sheet.Look{Kind: "found", Format: s.money})
	}
	s.difference(row, quoted, x.Model, "number")
}

// quoted is the amount of a line in the model currency: the one that was agreed on, else the stated one.
func (s *againstSheet) quoted(o *quote.Offer, l quote.Line) live.Ref {
	return s.inModelCurrency(o, l, "used_amount")
}

// inModelCurrency is an amount of a line times the rate of its quote.
func (s *againstSheet) inModelCurrency(o *quote.Offer, l quote.Line, name string) live.Ref {
	return s.b.quoteRef(l.Entry, name).Times(s.b.quoteRef(o.Entry, "table_rate"))
}

func (s *againstSheet) line(row int, o *quote.Offer, l quote.Line) {
	s.blank(row, "label", l.Record.Text("line"), sentence(s.a.Quotes.GivenOption(l.Record, "element")), where(l.Record.Text("part"),
		l.Record.Text("operation")),
		l.Record.Text("text"))
	s.amount(row, againstQuoted, s.quoted(o, l), "number")
	s.p.Set(row, againstFactors, nil, sheet.Look{Kind: "number"})
	if name := l.OwnFactors(); name != "" {
		s.amount(row, againstFactors, s.inModelCurrency(o, l, name), "number")
	}
}

// where names a part and its operation.
func where(part, operation string) string { return strings.Trim(part+"/"+operation, "/") }

// bidders writes the elements of all quotes side by side, with median, spread and the best of each, and returns the row below; nothing below
// two quotes with lines.
func (s *againstSheet) bidders(row int) int {
	var with []*quote.Offer
	for _, o := range s.a.Offers {
		if len(o.Lines) > 0 {
			with = append(with, o)
		}
	}
	if len(with) < 2 {
		return row
	}
	c, first := s.b.currency(), againstQuoted
	texts := []string{"", "All bidders, quoted, " + c + " per piece", "", ""}
	for _, o := range with {
		texts = append(texts, o.Quote.Key)
	}
	s.heading(row, append(texts, "Median", "Spread", "Best of each: not attainable together", "Best of")...)
	head, last := row, first+len(with)-1
	for _, e := range with[0].Elements {
		row++
		s.blank(row, "label", "", e.Label)
		for i, o := range with {
			s.amount(row, first+i, s.b.quoteRef(o.Entry, "quoted_"+e.Name), "number")
		}
		cells := fmt.Sprintf("%s%d:%s%d", table.ColumnName(first), row, table.ColumnName(last), row)
		k := sheet.Look{Kind: "number", Format: s.money}
		s.p.Formula(row, last+1, "MEDIAN("+cells+")", e.Median, k)
		s.p.Formula(row, last+2, fmt.Sprintf("MAX(%s)-MIN(%s)", cells, cells), e.HighEnd-e.LowEnd, k)
		s.p.Formula(row, last+3, "MIN("+cells+")", e.LowEnd, sheet.Look{Kind: "best", Format: s.money})
		s.p.Formula(row, last+4, fmt.Sprintf("INDEX($%s$%d:$%s$%d,1,MATCH(MIN(%s),%s,0))", table.ColumnName(first), head, table.ColumnName(last), head,
			cells, cells),
			e.BestOf, sheet.Look{Kind: "label", Right: true})
	}
	row++
	s.blank(row, "total", "", "Sum of the above")
	for i := range len(with) + 4 {
		s.p.Set(row, first+i, nil, sheet.Look{Kind: "total"})
	}
	s.sums(row, head+1, first, last, with)
	return row + 2
}

// sums adds up the elements of each bidder, and the best of each.
func (s *againstSheet) sums(row, from, first, last int, with []*quote.Offer) {
	total := func(col int, v float64) {
		name := table.ColumnName(col)
		s.p.Formula(row, col, fmt.Sprintf("SUM(%s%d:%s%d)", name, from, name, row-1), v, sheet.Look{Kind: "total", Format: s.money})
	}
	best := 0.0
	for i, o := range with {
		sum := 0.0
		for _, e := range o.Elements {
			sum += e.Quoted
		}
		total(first+i, sum)
	}
	for _, e := range with[0].Elements {
		best += e.LowEnd
	}
	total(last+3, best)
}
