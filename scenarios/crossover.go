package scenarios

import (
	"fmt"
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/study"
)

const crossoverSheet = "Cross-over"

// A CrossoverStudy is the order of the scenarios over annual volume; its indexes are those of the details.
type CrossoverStudy struct {
	*study.Crossover
	Tolerance float64            // of its bands, a share of the cheaper cost
	Curves    []*costmodel.Sweep // for the chart, over the same volumes, in the order of the details
}

// mostListed is the number of changes of order, or bands, of two scenarios that the sheet lists.
const mostListed = 60

// crossover writes which scenario is the cheapest at which volumes, every change of order with what jumped there, where
// two cost about the same, and the curves with their chart.
func (b *writer) crossover() error {
	x := b.result.Crossover
	if x == nil {
		return nil
	}
	p, err := b.page(crossoverSheet, fmt.Sprintf("Cross-overs at every whole annual volume from %s to %s", thousands(x.From), thousands(x.To)))
	if err != nil {
		return err
	}
	b.staleMark(p)
	row := b.envelope(p, 5)
	curvesAt := fmt.Sprintf("A%d", row+1)
	row += 2 + underChart
	p.breaks = append(p.breaks, row)
	moreAt := fmt.Sprintf("A%d", row)
	row = b.orderChanges(p, row+1+underChart)
	row = b.costBands(p, row+1)
	p.breaks = append(p.breaks, row+1)
	p.charts[curvesAt], p.charts[moreAt] = b.crossoverCurves(p, row+1)
	names, causes := b.wordWidths()
	for i, w := range []float64{13, 13, names, names, 16, 15, 15, 15, causes} {
		p.widths[i+1] = w
	}
	p.landscape, p.titles = true, 4
	return p.flush()
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
func (b *writer) nameWords(p *page, row, col, scenario int, kind string) {
	names, _ := b.wordWidths()
	b.setWords(p, row, col, b.scenarioName(scenario), int(1.1*names), look{kind: kind, wrap: true})
}

// underChart is how many rows a chart of the sheet may cover, with low rows too.
const underChart = 27

func (b *writer) scenarioName(i int) string { return b.result.Details[i].Plan.Scenario.Name }

// fineMoney is the format of differences of piece costs: two decimals more than the costs have.
func (b *writer) fineMoney() string {
	if b.money() == centFormat {
		return "#,##0.000000"
	}
	return "#,##0.0000"
}

// envelope writes which scenario is the cheapest where; it returns the row below.
func (b *writer) envelope(p *page, row int) int {
	c := b.currency()
	p.mixedHeading(row, []int{3, 4}, "From [1/yr]", "to [1/yr]", "Cheapest", "Second best at from", "costs more ["+c+"] at from", "at least ["+c+"]", "at most ["+c+"]", "at to ["+c+"]")
	whole, fine := look{kind: "number", format: wholeFormat}, look{kind: "number", format: b.fineMoney()}
	for _, s := range b.result.Crossover.Envelope {
		row++
		p.set(row, 1, float64(s.From), whole)
		p.set(row, 2, float64(s.To), look{kind: "number", format: padded(wholeFormat)})
		b.nameWords(p, row, 3, s.Cheapest, "best")
		b.nameWords(p, row, 4, s.AtFrom.Second, "label")
		for i, lead := range []study.Lead{s.AtFrom, s.Least, s.Most, s.AtTo} {
			p.set(row, 5+i, lead.More, fine)
		}
	}
	return row + 1
}

// setWords writes words that are broken into lines of so many letters, and makes the row high enough.
func (b *writer) setWords(p *page, row, col int, text string, letters int, k look) {
	p.set(row, col, text, k)
	p.grow(row, text, letters)
}

// orderChanges writes for every pair the stretches between its changes of order.
func (b *writer) orderChanges(p *page, row int) int {
	c := b.currency()
	p.mixedHeading(row, []int{3, 4, 9}, "From [1/yr]", "to [1/yr]", "Cheaper of the two", "Piece cost of", "just below from ["+c+"]", "at from ["+c+"]", "moves by ["+c+"]", "Whole counts that jump", "What jumped")
	row++
	for i := range b.result.Crossover.Pairs {
		row = b.pairChanges(p, row, &b.result.Crossover.Pairs[i])
	}
	return row
}

func (b *writer) pairChanges(p *page, row int, pair *study.CrossoverPair) int {
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
	p.set(row, 9, "the order where the range begins", look{kind: "label"})
	row++
	for k := range pair.Changes {
		if k == mostListed {
			p.set(row, 1, fmt.Sprintf("... and %d more; piececost crossover --csv lists them", len(pair.Changes)-k), look{kind: "faint"})
			return row + 1
		}
		b.stretch(p, row, pair.Changes[k].Volume, endOf(pair, k+1, x.To), pair.Changes[k].Cheaper)
		b.move(p, row, pair.First, &pair.Changes[k].First)
		b.move(p, row+1, pair.Second, &pair.Changes[k].Second)
		row += 2
	}
	return row
}

// band writes a line of words across columns.
func (b *writer) band(p *page, row int, text string, columns int) {
	for c := 2; c <= columns; c++ {
		p.set(row, c, nil, look{kind: "total"})
	}
	p.set(row, 1, text, look{kind: "total"})
}

// endOf is the last volume before the k-th change of a pair.
func endOf(pair *study.CrossoverPair, k, last int) int {
	if k < len(pair.Changes) {
		return pair.Changes[k].Volume - 1
	}
	return last
}

func (b *writer) stretch(p *page, row, from, to, cheaper int) {
	p.set(row, 1, float64(from), look{kind: "number", format: wholeFormat})
	p.set(row, 2, float64(to), look{kind: "number", format: padded(wholeFormat)})
	b.nameWords(p, row, 3, cheaper, "best")
}

// move writes what a scenario's piece cost does at a change.
func (b *writer) move(p *page, row, scenario int, m *study.CostMove) {
	fine := look{kind: "number", format: b.fineMoney()}
	b.nameWords(p, row, 4, scenario, "label")
	p.set(row, 5, m.Before, fine)
	p.set(row, 6, m.After, fine)
	p.set(row, 7, m.After-m.Before, look{kind: "number", format: "+" + fine.format + ";-" + fine.format + ";0"})
	p.set(row, 8, float64(len(m.Causes)), look{kind: "number", format: "0_w"})
	words := make([]string, 0, len(m.Causes))
	for _, c := range m.Causes {
		words = append(words, c.String())
	}
	if len(words) == 0 {
		words = []string{"nothing, it slides along its curve"}
	}
	if n := len(words); n > 6 {
		words = append(words[:6], fmt.Sprintf("... and %d more; piececost crossover --json lists them", n-6))
	}
	_, causes := b.wordWidths()
	b.setWords(p, row, 9, strings.Join(words, "\n"), int(1.2*causes), look{kind: "label", wrap: true})
}

// costBands writes where two scenarios cost about the same.
func (b *writer) costBands(p *page, row int) int {
	x := b.result.Crossover
	b.band(p, row, fmt.Sprintf("Volumes at which two scenarios differ by no more than %s %% of the cheaper one", costmodel.ShownNumber(100*x.Tolerance)), 9)
	p.mixedHeading(row+1, []int{3, 4}, "From [1/yr]", "to [1/yr]", "Scenario", "and", "Whole volumes")
	row += 2
	whole := look{kind: "number", format: wholeFormat}
	for _, pair := range x.Pairs {
		for k, band := range pair.Bands {
			if k == mostListed {
				p.set(row, 1, fmt.Sprintf("... and %d more; piececost crossover --json lists them", len(pair.Bands)-k), look{kind: "faint"})
				row++
				break
			}
			p.set(row, 1, float64(band.From), whole)
			p.set(row, 2, float64(band.To), look{kind: "number", format: padded(wholeFormat)})
			b.nameWords(p, row, 3, pair.First, "label")
			b.nameWords(p, row, 4, pair.Second, "label")
			p.set(row, 5, float64(band.To-band.From+1), whole)
			row++
		}
		if len(pair.Bands) == 0 {
			p.set(row, 1, "none", look{kind: "label"})
			p.set(row, 2, nil, look{kind: "label"})
			b.nameWords(p, row, 3, pair.First, "label")
			b.nameWords(p, row, 4, pair.Second, "label")
			p.set(row, 5, 0.0, look{kind: "number", format: "0"})
			row++
		}
	}
	return row
}
