package results

import (
	"fmt"
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/scenarios/sheet"
)

// mostListed is the number of changes of order, or bands, of two scenarios that the sheet lists.
const mostListed = 60

// crossover writes which scenario is the cheapest at which volumes, every change of order with what jumped there, where
// two cost about the same, and the curves with their chart.
func (b *writer) crossover() error {
	x := b.result.Crossover
	if x == nil {
		return nil
	}
	p, err := b.Page(CrossoverSheet, fmt.Sprintf("Cross-over at every whole annual volume from %s to %s", sheet.Thousands(x.From), sheet.Thousands(x.To)))
	if err != nil {
		return err
	}
	b.staleMark(p)
	row := b.envelope(p, 5)
	curvesAt := fmt.Sprintf("A%d", row+1)
	row += 2 + underChart
	p.Breaks = append(p.Breaks, row)
	moreAt := fmt.Sprintf("A%d", row)
	row = b.orderChanges(p, row+1+underChart)
	row = b.costBands(p, row+1)
	p.Breaks = append(p.Breaks, row+1)
	p.Charts[curvesAt], p.Charts[moreAt] = b.crossoverCurves(p, row+1)
	names, causes := b.wordWidths()
	for i, w := range []float64{13, 13, names, names, 16, 15, 15, 15, causes} {
		p.Widths[i+1] = w
	}
	p.Landscape, p.Titles = true, 4
	return p.Flush()
}

// wordWidths are the widths of the columns of names and of causes: long names take of the room of the causes.
func (b *writer) wordWidths() (names, causes float64) {
	longest := 0
	for i := range b.result.Details {
		longest = max(longest, len([]rune(b.scenarioName(i))))
	}
	if longest <= 22 {
		return 22, 52
	}
	return float64(min(longest, 34)), 44
}

// nameWords writes a scenario's name in a column of names.
func (b *writer) nameWords(p *sheet.Page, row, col, scenario int, kind string) {
	names, _ := b.wordWidths()
	b.setWords(p, row, col, b.scenarioName(scenario), int(1.1*names), sheet.Look{Kind: kind, Wrap: true})
}

// underChart is how many rows a chart of the sheet may cover, with low rows too.
const underChart = 27

// envelope writes which scenario is the cheapest where; it returns the row below.
func (b *writer) envelope(p *sheet.Page, row int) int {
	c := b.currency()
	p.MixedHeading(row, []int{3, 4}, "From [1/yr]", "to [1/yr]", "Cheapest", "Second best at from", "cost difference ["+c+"] at from", "at least ["+c+"]",
		"at most ["+c+"]", "at to ["+c+"]")
	whole, fine := sheet.Look{Kind: "number", Format: sheet.WholeFormat}, sheet.Look{Kind: "number", Format: b.fineMoney()}
	for _, s := range b.result.Crossover.Envelope {
		row++
		p.Set(row, 1, float64(s.From), whole)
		p.Set(row, 2, float64(s.To), sheet.Look{Kind: "number", Format: sheet.Padded(sheet.WholeFormat)})
		b.nameWords(p, row, 3, s.Cheapest, "best")
		b.nameWords(p, row, 4, s.AtFrom.Second, "label")
		for i, lead := range []study.Lead{s.AtFrom, s.Least, s.Most, s.AtTo} {
			p.Set(row, 5+i, lead.More, fine)
		}
	}
	return row + 1
}

// orderChanges writes for every pair the stretches between its changes of order.
func (b *writer) orderChanges(p *sheet.Page, row int) int {
	c := b.currency()
	p.MixedHeading(row, []int{3, 4, 9}, "From [1/yr]", "to [1/yr]", "Cheaper of the two", "Piece cost of", "just below from ["+c+"]",
		"at from ["+c+"]", "moves by ["+c+"]", "Capacity steps", "What changed by a step")
	row++
	for i := range b.result.Crossover.Pairs {
		row = b.pairChanges(p, row, &b.result.Crossover.Pairs[i])
	}
	return row
}

func (b *writer) pairChanges(p *sheet.Page, row int, pair *study.CrossoverPair) int {
	x := b.result.Crossover
	head := fmt.Sprintf("%s and %s: ", b.scenarioName(pair.First), b.scenarioName(pair.Second))
	switch n := len(pair.Changes); {
	case pair.Equal:
		b.band(p, row, head+"they cost the same at every volume", 9)
		return row + 1
	case n == 0:
		head += "no cross-over"
	case n == 1:
		head += "1 cross-over"
	default:
		head += fmt.Sprintf("%d cross-overs", n)
	}
	b.band(p, row, head, 9)
	row++
	b.stretch(p, row, x.From, endOf(pair, 0, x.To), pair.Cheaper)
	p.Set(row, 9, "the order where the range begins", sheet.Look{Kind: "label"})
	row++
	for k := range pair.Changes {
		if k == mostListed {
			p.Set(row, 1, fmt.Sprintf("... and %d more; piececost crossover --csv lists them", len(pair.Changes)-k), sheet.Look{Kind: "faint"})
			return row + 1
		}
		b.stretch(p, row, pair.Changes[k].Volume, endOf(pair, k+1, x.To), pair.Changes[k].Cheaper)
		b.move(p, row, pair.First, &pair.Changes[k].First)
		b.move(p, row+1, pair.Second, &pair.Changes[k].Second)
		row += 2
	}
	return row
}

// endOf is the last volume before the k-th change of a pair.
func endOf(pair *study.CrossoverPair, k, last int) int {
	if k < len(pair.Changes) {
		return pair.Changes[k].Volume - 1
	}
	return last
}

func (b *writer) stretch(p *sheet.Page, row, from, to, cheaper int) {
	p.Set(row, 1, float64(from), sheet.Look{Kind: "number", Format: sheet.WholeFormat})
	p.Set(row, 2, float64(to), sheet.Look{Kind: "number", Format: sheet.Padded(sheet.WholeFormat)})
	b.nameWords(p, row, 3, cheaper, "best")
}

// move writes what a scenario's piece cost does at a change.
func (b *writer) move(p *sheet.Page, row, scenario int, m *study.CostMove) {
	fine := sheet.Look{Kind: "number", Format: b.fineMoney()}
	b.nameWords(p, row, 4, scenario, "label")
	p.Set(row, 5, m.Before, fine)
	p.Set(row, 6, m.After, fine)
	p.Set(row, 7, m.After-m.Before, sheet.Look{Kind: "number", Format: "+" + fine.Format + ";-" + fine.Format + ";0"})
	p.Set(row, 8, float64(len(m.Causes)), sheet.Look{Kind: "number", Format: "0_w"})
	words := make([]string, 0, len(m.Causes))
	for _, c := range m.Causes {
		words = append(words, c.String())
	}
	if len(words) == 0 {
		words = []string{"no step; the curves cross"}
	}
	if n := len(words); n > 6 {
		words = append(words[:6], fmt.Sprintf("... and %d more; piececost crossover --json lists them", n-6))
	}
	_, causes := b.wordWidths()
	b.setWords(p, row, 9, strings.Join(words, "\n"), int(1.2*causes), sheet.Look{Kind: "label", Wrap: true})
}

// costBands writes where two scenarios cost about the same.
func (b *writer) costBands(p *sheet.Page, row int) int {
	x := b.result.Crossover
	b.band(p, row, fmt.Sprintf("Volumes at which two scenarios differ by no more than %s %% of the cheaper one", costmodel.ShownNumber(100*x.Tolerance)), 9)
	p.MixedHeading(row+1, []int{3, 4}, "From [1/yr]", "to [1/yr]", "Scenario", "and", "Whole volumes")
	row += 2
	whole := sheet.Look{Kind: "number", Format: sheet.WholeFormat}
	for _, pair := range x.Pairs {
		for k, band := range pair.Bands {
			if k == mostListed {
				p.Set(row, 1, fmt.Sprintf("... and %d more; piececost crossover --json lists them", len(pair.Bands)-k), sheet.Look{Kind: "faint"})
				row++
				break
			}
			p.Set(row, 1, float64(band.From), whole)
			p.Set(row, 2, float64(band.To), sheet.Look{Kind: "number", Format: sheet.Padded(sheet.WholeFormat)})
			b.nameWords(p, row, 3, pair.First, "label")
			b.nameWords(p, row, 4, pair.Second, "label")
			p.Set(row, 5, float64(band.To-band.From+1), whole)
			row++
		}
		if len(pair.Bands) == 0 {
			p.Set(row, 1, "none", sheet.Look{Kind: "label"})
			p.Set(row, 2, nil, sheet.Look{Kind: "label"})
			b.nameWords(p, row, 3, pair.First, "label")
			b.nameWords(p, row, 4, pair.Second, "label")
			p.Set(row, 5, 0.0, sheet.Look{Kind: "number", Format: "0"})
			row++
		}
	}
	return row
}
