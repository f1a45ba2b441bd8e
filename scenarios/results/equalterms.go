package results

import (
	"fmt"
	"math"
	"strings"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
	"piececost/costmodel/quote"
	"piececost/costmodel/table"
	"piececost/scenarios/sheet"
)

// equalSheet is the sheet Quotes on equal terms being written: quotes side by side, each in two columns, what a step changes and where the
// price then stands.
type equalSheet struct {
	b      *writer
	p      *sheet.Page
	a      *quote.Answer
	money  string
	volume string      // cell of the annual volume asked for
	steps  map[int]int // rows of the chain of a piece, by step
}

const equalNote = "Each step is a formula; green and black as in the calculation. Slanted, with an a: it rests on what the supplier did not state, so that " +
	"the request or the should-cost stands in."

// equalTerms writes what each quote comes to on equal terms: the ranks, the chain of a piece and of a year, what it is made of with a chart,
// and what was assumed.
func (b *writer) equalTerms() error {
	if b.quotes == nil {
		return nil
	}
	p, err := b.Page(EqualTermsSheet, "Quotes on equal terms")
	if err != nil {
		return err
	}
	s := &equalSheet{b: b, p: p, a: b.result.Quotes, money: b.quoteMoney(), steps: map[int]int{}}
	s.stale()
	row := s.ranks(6) + 1
	row = s.chain(row) + 1
	row = s.assumed(row) + 1
	p.Breaks = append(p.Breaks, row)
	row = s.years(row) + 1
	p.Breaks = append(p.Breaks, row)
	s.parts(row)
	p.Widths[1], p.Widths[2] = 6, equalLabels
	for c := 3; c <= max(10, 2+2*len(s.a.Offers)); c++ {
		p.Widths[c] = 13.5
	}
	p.Landscape, p.Titles, p.Freeze = true, 4, "C5"
	return p.Flush()
}

const equalLabels = 50 // letters of the column of words

// stale says in row 4 whether anything has changed that this sheet does not follow. Cells of quotes and of their lists are followed where
// Input record says so; what changes a should-cost is not.
func (s *equalSheet) stale() {
	of := func(column string) string {
		return fmt.Sprintf("%s!$%s$%d:$%s$%d", s.b.Quoted(InputsSheet), column, s.b.firstInput, column, s.b.lastInput)
	}
	sum := func(column string) string {
		return fmt.Sprintf("SUM(%s!$%s$%d:$%s$%d)", s.b.Quoted(InputsSheet), column, s.b.firstFilled, column, s.b.lastFilled)
	}
	ours := ""
	for i, name := range []string{"Quotes", "Quote lines", "Price months", "Freight lanes", "Quote rules"} {
		if i > 0 {
			ours += "+"
		}
		ours += fmt.Sprintf(`(%s="%s")`, of("A"), name)
	}
	const fresh = "the formulas follow the sheets of quotes; what stands in from the should-cost is of the run, and none of its inputs has changed since"
	s.p.Formula(4, 1, fmt.Sprintf(`IF(SUMPRODUCT(%s*(1-%s*(%s)))+%s+%s>0,"STALE: inputs have changed that these formulas don't follow; run again","%s")`,
		of("G"), of("H"), ours, sum("G"), sum("K"), fresh), fresh, sheet.Look{Kind: "faint"})
	s.p.Set(5, 1, equalNote, sheet.Look{Kind: "faint"})
}

// ranks writes a row for each quote: what was asked, where it stands before and after; it returns the row below.
func (s *equalSheet) ranks(row int) int {
	c := s.b.currency()
	s.p.Set(row, 2, "Annual volume asked for [1/yr]", sheet.Look{Kind: "label"})
	s.p.Link(row, 3, s.b.requested(), sheet.Look{Kind: "number", Format: sheet.WholeFormat})
	s.volume = fmt.Sprintf("$C$%d", row)
	row += 2
	s.p.MixedHeading(row, []int{2}, "Rank", "Quote", "Price as stated [its currency]", "Annual volume quoted [1/yr]", "Price ["+c+"]", "Rank by price",
		"On equal terms without tools ["+c+"]", "Levelised delivered cost ["+c+"]", "a year ["+c+"/yr]", "Cash before start ["+c+"]")
	first, last := row+1, row+len(s.a.Offers)
	for _, o := range s.a.Offers {
		row++
		s.b.setWords(s.p, row, 2, quoteTitle(o.Quote.Key, o.Quote.Text("supplier")), equalLabels-2, sheet.Look{Kind: "label", Wrap: true})
		kind := "number"
		if o.RankAfter == 1 {
			kind = "best"
		}
		s.rank(row, 1, "H", first, last, o.RankAfter, kind)
		s.rank(row, 6, "E", first, last, o.RankBefore, "number")
		for _, q := range []struct {
			col          int
			name, format string
			kind         string
		}{{3, "stated_price", codeFormat(s.money, o.Quote.Currency), "number"}, {4, "annual_volume", sheet.WholeFormat, "number"},
			{5, "price_in_model_currency", s.money, "number"}, {7, "equal_terms_price", s.money, "number"},
			{8, "levelised_delivered_cost", s.money, kind}, {9, "delivered_cost_a_year", sheet.WholeFormat, "number"},
			{10, "cash_before_start", sheet.WholeFormat, "number"}} {
			s.p.Link(row, q.col, s.b.quoteRef(o.Entry, q.name), sheet.Look{Kind: q.kind, Format: q.format})
		}
	}
	row++
	s.p.Set(row, 1, "Risks (capacity, tools that don't last, currency) stand in Quote findings and are no part of a price.", sheet.Look{Kind: "faint"})
	return row + 1
}

// rank writes the place of a cell among those of its column, lowest first; a quote without it has none.
func (s *equalSheet) rank(row, col int, of string, first, last, place int, kind string) {
	k := sheet.Look{Kind: kind, Format: "0", Centre: true}
	if place == 0 {
		s.p.Set(row, col, "–", k)
		return
	}
	s.p.Formula(row, col, fmt.Sprintf("RANK(%s%d,$%s$%d:$%s$%d,1)", of, row, of, first, of, last), float64(place), k)
}

// codeFormat shows an amount with the code of its currency.
func codeFormat(format, code string) string {
	return suffixed(format, ` "`+strings.ReplaceAll(code, `"`, "")+`"`)
}

// suffixed adds something behind the number in every section of a number format.
func suffixed(format, suffix string) string {
	return strings.ReplaceAll(format, ";", suffix+";") + suffix
}

// marked is the look of a change: with an a where it rests on what the supplier did not state.
func marked(format string, assumed bool) sheet.Look {
	if assumed {
		return sheet.Look{Kind: "found", Format: suffixed(format, `" a"`)}
	}
	return sheet.Look{Kind: "number", Format: suffixed(format, "_ _a")}
}

// heading writes the heading of a chain.
func (s *equalSheet) heading(row int, what string) {
	texts := []string{"Step", what}
	for _, o := range s.a.Offers {
		texts = append(texts, o.Quote.Key+": change", o.Quote.Key+": stands at")
	}
	s.p.MixedHeading(row, []int{2}, texts...)
	for _, text := range texts[2:] {
		s.p.Grow(row, text, 11)
	}
}

func changeColumn(i int) int { return 3 + 2*i }
func standsColumn(i int) int { return 4 + 2*i }

// chain writes the steps of a piece, and returns the row below.
func (s *equalSheet) chain(row int) int {
	s.heading(row, s.b.currency()+" per piece")
	for n, step := range s.a.Quotes.Library.Chain {
		row++
		s.steps[step.Step] = row
		s.label(row, step)
		for i, o := range s.a.Offers {
			s.step(row, i, n, o)
		}
	}
	for i, o := range s.a.Offers {
		s.check(i, o)
	}
	return row + 1
}

// closing tells whether a step ends a part of the chain.
func closing(step costmodel.ChainStep) bool {
	return step.Sum == "equal_terms_price" || step.Sum == "levelised_delivered_cost"
}

func (s *equalSheet) label(row int, step costmodel.ChainStep) {
	kind := "label"
	words := sentence(step.Label)
	switch step.Sum {
	case "equal_terms_price":
		kind, words = "total", words+" = price on equal terms"
	case "levelised_delivered_cost":
		kind, words = "total", words+" = levelised delivered cost"
	}
	s.p.Set(row, 1, float64(step.Step), sheet.Look{Kind: kind, Format: "0", Centre: true})
	s.b.setWords(s.p, row, 2, words, equalLabels-2, sheet.Look{Kind: kind, Wrap: true})
}

// step writes a step of a quote: the change as a link to the calculation, and where the price stands.
func (s *equalSheet) step(row, i, n int, o *quote.Offer) {
	step := s.a.Quotes.Library.Chain[n]
	change, stands := changeColumn(i), standsColumn(i)
	s.p.Set(row, change, nil, sheet.Look{Kind: "number"})
	s.p.Set(row, stands, nil, sheet.Look{Kind: "number"})
	own := codeFormat(s.money, o.Quote.Currency)
	switch {
	case step.Aside:
		s.p.Link(row, change, s.b.quoteRef(o.Entry, step.Shows), sheet.Look{Kind: "number", Format: own})
		return
	case step.Change != "":
		k := marked(signedFormat(s.money), len(o.Chain[n].Assumed) > 0)
		if closing(step) && k.Kind == "number" {
			k.Kind = "total"
		}
		s.p.Link(row, change, s.b.quoteRef(o.Entry, step.Change), k)
	}
	k := sheet.Look{Kind: "number", Format: s.money}
	if closing(step) {
		k.Kind = "total"
	}
	switch {
	case step.Stated != "":
		s.p.Link(row, stands, s.b.quoteRef(o.Entry, step.Stated), sheet.Look{Kind: "number", Format: own})
	case step.Sum != "":
		s.p.Link(row, stands, s.b.quoteRef(o.Entry, step.Sum), k)
	default: // a step without a name for where it ends
		s.runs(row, i, s.standsAt(o, n), k)
	}
}

// runs writes the sum above plus the change of the row.
func (s *equalSheet) runs(row, i int, sum float64, k sheet.Look) {
	if math.IsNaN(sum) {
		s.p.Set(row, standsColumn(i), nil, k)
		return
	}
	stands := table.ColumnName(standsColumn(i))
	s.p.Formula(row, standsColumn(i), fmt.Sprintf("%s%d+%s%d", stands, row-1, table.ColumnName(changeColumn(i)), row), sum, k)
}

// check notes how Checks tells whether the chain of a quote is as it is shown: each row stands where the one above does, plus its change.
func (s *equalSheet) check(i int, o *quote.Offer) {
	if _, ok := o.Entry.Value("levelised_delivered_cost"); !ok {
		return
	}
	first, end := 0, 0
	for _, step := range s.a.Quotes.Library.Chain {
		if step.Change != "" {
			end = s.steps[step.Step]
			if first == 0 {
				first = end
			}
		}
	}
	cells := func(col, from, to int) string {
		name := table.ColumnName(col)
		return fmt.Sprintf("%s!$%s$%d:$%s$%d", s.b.Quoted(EqualTermsSheet), name, from, name, to)
	}
	s.b.chainChecks = append(s.b.chainChecks, chainCheck{o.Quote.Key, fmt.Sprintf("SUMPRODUCT((%s-%s-%s)^2)", cells(standsColumn(i), first, end),
		cells(standsColumn(i), first-1, end-1), cells(changeColumn(i), first, end))})
}

// years writes the steps once more for a year, from the exchange on, and returns the row below.
func (s *equalSheet) years(row int) int {
	s.heading(row, s.b.currency()+" per year, at the annual volume asked for")
	volume := s.b.requested().Num
	for n, step := range s.a.Quotes.Library.Chain {
		if step.Aside || step.Stated != "" {
			continue
		}
		row++
		s.label(row, step)
		for i, o := range s.a.Offers {
			k := sheet.Look{Kind: "number", Format: sheet.WholeFormat}
			if closing(step) {
				k.Kind = "total"
			}
			for _, x := range []struct {
				col   int
				value float64
				look  sheet.Look
			}{{changeColumn(i), o.Chain[n].Change, marked(signedFormat(sheet.WholeFormat), len(o.Chain[n].Assumed) > 0)},
				{standsColumn(i), s.standsAt(o, n), k}} {
				if math.IsNaN(x.value) {
					s.p.Set(row, x.col, nil, sheet.Look{Kind: k.Kind})
					continue
				}
				s.p.Formula(row, x.col, fmt.Sprintf("%s%d*%s", table.ColumnName(x.col), s.steps[step.Step], s.volume), x.value*volume, x.look)
			}
		}
	}
	return row + 1
}

// standsAt is where the price stands after a step; NaN where it does not come to that.
func (s *equalSheet) standsAt(o *quote.Offer, n int) float64 {
	sum := math.NaN()
	for i, step := range s.a.Quotes.Library.Chain[:n+1] {
		switch {
		case step.Sum != "":
			sum = o.Chain[i].Sum
		case step.Change != "":
			sum += o.Chain[i].Change
		}
	}
	return sum
}

// parts writes what the levelised delivered cost is made of, a column a quote, with its chart.
func (s *equalSheet) parts(row int) {
	texts := []string{"", "Levelised delivered cost, " + s.b.currency() + " per piece"}
	for _, o := range s.a.Offers {
		texts = append(texts, o.Quote.Key)
	}
	s.p.MixedHeading(row, []int{2}, texts...)
	head := row
	add := func(label string, kind string, of func(i int, o *quote.Offer) (formula string, value float64)) {
		row++
		s.p.Set(row, 1, nil, sheet.Look{Kind: kind})
		s.p.Set(row, 2, label, sheet.Look{Kind: kind})
		for i, o := range s.a.Offers {
			k := sheet.Look{Kind: "number", Format: s.money}
			if kind == "total" {
				k.Kind = kind
			}
			if formula, v := of(i, o); !math.IsNaN(v) {
				s.p.Formula(row, 3+i, formula, v, k)
			} else {
				s.p.Set(row, 3+i, nil, k)
			}
		}
	}
	for n, step := range s.a.Quotes.Library.Chain {
		switch {
		case step.Sum == "after_tools":
			add("Price less tools in it", "label", func(i int, o *quote.Offer) (string, float64) {
				return fmt.Sprintf("%s%d", table.ColumnName(standsColumn(i)), s.steps[step.Step]), o.Chain[n].Sum
			})
		case step.Change != "":
			add(sentence(step.Label), "label", func(i int, o *quote.Offer) (string, float64) {
				return fmt.Sprintf("%s%d", table.ColumnName(changeColumn(i)), s.steps[step.Step]), o.Chain[n].Change
			})
		}
	}
	last := row
	add("Levelised delivered cost", "total", func(i int, o *quote.Offer) (string, float64) {
		col := table.ColumnName(3 + i)
		return fmt.Sprintf("SUM(%s%d:%s%d)", col, head+1, col, last), s.standsAt(o, len(s.a.Quotes.Library.Chain)-1)
	})
	s.p.Charts[fmt.Sprintf("A%d", row+2)] = s.chart(head, last)
}

// chart stacks what the cost of each quote is made of.
func (s *equalSheet) chart(head, last int) *excelize.Chart {
	font, on := sheet.ChartFont(), s.b.Quoted(EqualTermsSheet)
	end := table.ColumnName(2 + len(s.a.Offers))
	chart := &excelize.Chart{
		Type: excelize.ColStacked, Title: sheet.ChartTitle("Levelised delivered cost of each quote, by what it is made of"),
		Dimension: excelize.ChartDimension{Width: 900, Height: 460},
		Legend:    excelize.ChartLegend{Position: "right", Font: &font},
		XAxis:     excelize.ChartAxis{Font: font, TickLabelPosition: excelize.ChartTickLabelLow},
		YAxis: excelize.ChartAxis{Font: font, MajorGridLines: true, NumFmt: excelize.ChartNumFmt{CustomNumFmt: "#,##0.##"},
			Title: sheet.AxisTitle(s.b.currency() + " per piece")},
	}
	for row := head + 1; row <= last; row++ {
		chart.Series = append(chart.Series, excelize.ChartSeries{
			Name:       fmt.Sprintf("%s!$B$%d", on, row),
			Categories: fmt.Sprintf("%s!$C$%d:$%s$%d", on, head, end, head),
			Values:     fmt.Sprintf("%s!$C$%d:$%s$%d", on, row, end, row),
			Fill:       excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{sheet.Palette[(row-head-1)%len(sheet.Palette)]}},
		})
	}
	return chart
}

// assumed lists for each quote what stands in for what the supplier did not state; it returns the row below.
func (s *equalSheet) assumed(row int) int {
	s.p.MixedHeading(row, []int{1, 2, 3}, "Step", "Assumed, since the supplier did not state it", "Rests on")
	any := false
	for _, o := range s.a.Offers {
		for n, step := range s.a.Quotes.Library.Chain {
			if len(o.Chain[n].Assumed) == 0 {
				continue
			}
			row++
			any = true
			s.p.Set(row, 1, float64(step.Step), sheet.Look{Kind: "label", Format: "0", Centre: true})
			s.b.setWords(s.p, row, 2, o.Quote.Key+": "+step.Label, equalLabels-2, sheet.Look{Kind: "label", Wrap: true})
			s.p.Set(row, 3, strings.Join(o.Chain[n].Assumed, ", "), sheet.Look{Kind: "text"})
		}
	}
	if !any {
		row++
		s.p.Set(row, 2, "nothing", sheet.Look{Kind: "label"})
	}
	return row + 1
}
