package results

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"piececost/costmodel/study"
	"piececost/scenarios/sheet"
)

// trials writes for each trial its matrix, the cells that pass, what is asked for and was measured, and the gauges of equality.
func (b *writer) trials() error {
	if len(b.result.Trials) == 0 {
		return nil
	}
	p, err := b.Page(TrialSheet, "Trial matrix: a part in other grades and gauges")
	if err != nil {
		return err
	}
	b.staleMark(p)
	row, widest := 6, 7
	for i, t := range b.result.Trials {
		if i > 0 {
			p.Breaks = append(p.Breaks, row)
		}
		row = b.trial(p, row, t) + 1
		widest = max(widest, 2+len(t.Gauges))
	}
	p.Widths[1], p.Widths[2] = 29, 22
	for c := 3; c <= widest; c++ {
		p.Widths[c] = 14.5
	}
	p.Landscape, p.Titles = true, 4
	return p.Flush()
}

// trial writes one trial and returns the row below.
func (b *writer) trial(p *sheet.Page, row int, t *study.Trial) int {
	b.band(p, row, fmt.Sprintf("Part %s of %s at %s per year, base %s at %s mm", t.Part, t.Scenario.Name, volumeText(t.Volume), t.BaseGrade,
		trialGauge(t.BaseGauge)), b.trialColumns(t))
	top := row
	row = b.trialMatrix(p, row+1, t)
	row = b.trialNotes(p, b.trialLegend(p, row, t), []string{cautionText}) + 1
	if row-top+len(t.FrontCells())+len(t.Others()) > 24 { // what follows would not stand on the same page
		p.Breaks = append(p.Breaks, row)
	}
	row = b.passing(p, row, t)
	for _, q := range t.Questions() {
		row = b.trialQuestion(p, row+1, t, q)
	}
	return b.equalGauges(p, row+1, t)
}

func (b *writer) trialColumns(t *study.Trial) int { return max(7, 2+len(t.Gauges)) }

// trialGauge writes a gauge in mm.
func trialGauge(metres float64) string { return shownNumber(rounded(1000 * metres)) }

// rounded takes the crumbs off that a factor left.
func rounded(v float64) float64 {
	out, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 12, 64), 64)
	if err != nil {
		return v
	}
	return out
}

// trialNotes writes sentences in lines as wide as the sheet, and returns the row below.
func (b *writer) trialNotes(p *sheet.Page, row int, texts []string) int {
	for _, text := range texts {
		for _, line := range sheet.BrokenLines(text, 135) {
			p.Set(row, 1, line, sheet.Look{Kind: "faint"})
			row++
		}
	}
	return row
}

// gaugeHeading writes a heading row with the gauges.
func (b *writer) gaugeHeading(p *sheet.Page, row int, t *study.Trial, first string) {
	texts := []string{first, "by gauge [mm]"}
	for _, g := range t.Gauges {
		texts = append(texts, trialGauge(g))
	}
	p.Heading(row, 2, texts...)
}

// gradeName is the name of a grade in the sheet Materials.
func (b *writer) gradeName(key string) string {
	if name := b.model().MaterialName(key); name != key {
		return name
	}
	return ""
}

// trialMatrix writes cost, mass and result of each cell, and returns the row below. What fails stands on grey and says so in words; the least cost
// stands bold on a ground and has a star.
func (b *writer) trialMatrix(p *sheet.Page, row int, t *study.Trial) int {
	b.gaugeHeading(p, row, t, "Grade")
	reasons := map[string]int{}
	for i, r := range t.Reasons() {
		reasons[r.Words] = i + 1
	}
	for i, grade := range t.Grades {
		for n, label := range []string{"piece cost [" + b.currency() + "]", "mass of the part [kg]", "result"} {
			row++
			words := []string{grade, b.gradeName(grade), ""}[n]
			b.setWords(p, row, 1, words, 33, sheet.Look{Kind: "label", Wrap: true})
			p.Set(row, 2, label, sheet.Look{Kind: "label"})
			for k := range t.Gauges {
				c := &t.Cells[i][k]
				look := sheet.Look{Kind: trialLook(c)}
				switch n {
				case 0:
					look.Format = b.money()
					b.number(p, row, 3+k, c.PieceCost, look)
				case 1:
					look.Format = sheet.MassFormat
					b.number(p, row, 3+k, c.PartMass, look)
				default:
					look.Right, look.Wrap = true, true
					b.setWords(p, row, 3+k, trialResult(c, reasons), 17, look)
				}
			}
		}
	}
	return row + 1
}

func trialLook(c *study.TrialCell) string {
	switch {
	case c.Least:
		return "best"
	case !c.Passes():
		return "failed"
	}
	return "number"
}

// trialResult says whether a cell passes, else by which reasons it fails, with the letters of the terminal.
func trialResult(c *study.TrialCell, reasons map[string]int) string {
	words := "passed"
	if !c.Passes() {
		var numbers []string
		for _, f := range c.Fails {
			numbers = append(numbers, strconv.Itoa(reasons[f]))
		}
		words = "failed " + strings.Join(numbers, ", ")
	}
	letters := ""
	for _, m := range []struct {
		is     bool
		letter string
	}{{c.Least, "*"}, {c.Front, "f"}, {c.IsBase, "b"}, {len(c.Open) > 0, "?"}} {
		if m.is {
			letters += m.letter
		}
	}
	return strings.TrimRight(words+" "+letters, " ")
}

// trialLegend says what the letters and numbers of the matrix mean, and which cell costs least.
func (b *writer) trialLegend(p *sheet.Page, row int, t *study.Trial) int {
	lines := []string{"* bold on a ground: least cost of those that pass; f: on the front of cost against mass; b: the base; ?: a target of which nothing is " +
		"known; grey and slanted: failed, by the reasons of these numbers."}
	for i, r := range t.Reasons() {
		lines = append(lines, fmt.Sprintf("%d: %s", i+1, r.Words))
	}
	for _, r := range t.OpenPoints() {
		lines = append(lines, fmt.Sprintf("?: nothing is known of %s in %d of %d cells", r.Words, len(r.Cells), len(t.Grades)*len(t.Gauges)))
	}
	for _, u := range t.Unused {
		lines = append(lines, "Not tried: "+u)
	}
	row = b.trialNotes(p, row, lines)
	for _, line := range b.leastLines(t) {
		p.Set(row, 1, line, sheet.Look{Kind: "text"})
		row++
	}
	return row
}

// leastLines say which cell costs least, and where targets are open, which of those of which all is known.
func (b *writer) leastLines(t *study.Trial) []string {
	words := func(c *study.TrialCell) string {
		return fmt.Sprintf("%s at %s mm, %s %s per good piece, the part %s kg", c.Grade, trialGauge(c.Gauge), shownNumber(rounded(b.roundMoney(c.PieceCost))),
			b.currency(), shownNumber(math.Round(c.PartMass*1000)/1000))
	}
	least, sure := t.Marked(func(c study.TrialCell) bool { return c.Least }), t.Marked(func(c study.TrialCell) bool { return c.Sure })
	switch {
	case least == nil:
		return []string{"No cell passes."}
	case len(least.Open) == 0:
		return []string{"Least cost of those that pass: " + words(least)}
	case sure == nil:
		return []string{"Least cost of those that pass: " + words(least), "Of none that passes every target is known."}
	}
	return []string{"Least cost of those that pass: " + words(least), "Least cost of those of which every target is known: " + words(sure)}
}

// roundMoney leaves the decimals with which amounts are shown.
func (b *writer) roundMoney(v float64) float64 {
	scale := 1e2
	if b.money() == sheet.CentFormat {
		scale = 1e4
	}
	return math.Round(v*scale) / scale
}

// equalGauges writes the gauges at which each grade equals the base.
func (b *writer) equalGauges(p *sheet.Page, row int, t *study.Trial) int {
	b.band(p, row, "Gauge at which a grade equals the base, by screening relations", b.trialColumns(t))
	row++
	p.Heading(row, 2, "Grade", "", "Bending stiffness [mm]", "Dent resistance [mm]", "Section strength [mm]")
	for _, e := range t.Equal {
		row++
		p.Set(row, 1, e.Grade, sheet.Look{Kind: "label"})
		b.setWords(p, row, 2, b.gradeName(e.Grade), 26, sheet.Look{Kind: "label", Wrap: true})
		for i, v := range []float64{e.Stiffness, e.Dent, e.Section} {
			b.number(p, row, 3+i, 1000*v, sheet.Look{Kind: "number", Format: "0.000"})
		}
	}
	row++
	return b.trialNotes(p, row, []string{b.model().Schema.Screening.Caution, "A dash: the elastic modulus or yield strength of a grade is not known."})
}
