package results

import (
	"fmt"
	"math"
	"strings"

	"piececost/costmodel"
	"piececost/scenarios/sheet"
)

// noteLetters is how many letters of a note stand side by side over the columns of the sheet.
const noteLetters = 140

// combinations writes for each scenario the cheapest valid combinations of its alternatives.
func (b *writer) combinations() error {
	if len(b.result.Combinations) == 0 {
		return nil
	}
	p, err := b.Page(combinationSheet, "Least-cost combination of alternatives")
	if err != nil {
		return err
	}
	b.staleMark(p)
	row := 6
	for _, c := range b.result.Combinations {
		row = b.combination(p, row, c) + 1
	}
	for i, w := range []float64{12, 15, 15, 14, 16, 80} {
		p.Widths[i+1] = w
	}
	p.Landscape, p.Titles = true, 4
	return p.Flush()
}

// combination writes one scenario and returns the row below.
func (b *writer) combination(p *sheet.Page, row int, c *CombinationStudy) int {
	b.band(p, row, fmt.Sprintf("%s at %s per year: %s", c.Scenario.Name, volumeText(c.Volume), c.counts()), 6)
	row++
	p.MixedHeading(row, []int{6}, "Rank", "Piece cost ["+b.currency()+"]", "cost difference ["+b.currency()+"]", "Net mass [kg]", "Targets missed",
		"Alternatives")
	line := func(kind string, cost, mass float64, missed string, tags []string) {
		p.Set(row, 2, cost, sheet.Look{Kind: kind, Format: b.money()})
		if len(c.Best) > 0 {
			p.Set(row, 3, cost-c.Best[0].Cost, sheet.Look{Kind: "number", Format: signedFormat(b.money())})
		}
		p.Set(row, 4, mass, sheet.Look{Kind: "number", Format: sheet.MassFormat})
		p.Set(row, 5, missed, sheet.Look{Kind: "label", Right: true, Format: sheet.Padded("@")})
		words := strings.Join(tags, ", ")
		if words == "" {
			words = "none"
		}
		b.setWords(p, row, 6, words, 78, sheet.Look{Kind: "label", Wrap: true})
	}
	row++
	p.Set(row, 1, "unchanged", sheet.Look{Kind: "label"})
	line("number", c.Cost, c.Mass, "", c.Scenario.Alternatives)
	for i := range c.Best {
		x := &c.Best[i]
		row++
		p.Set(row, 1, float64(i+1), sheet.Look{Kind: "number", Format: "0"})
		kind := "number"
		if i == 0 {
			kind = "best"
		}
		var missed []string
		for _, j := range x.Missed {
			missed = append(missed, j.Target.Name())
		}
		line(kind, x.Cost, x.Mass, strings.Join(missed, ", "), x.Tags)
	}
	for _, text := range c.Notes {
		for _, line := range sheet.BrokenLines(text, noteLetters) {
			row++
			p.Set(row, 1, line, sheet.Look{Kind: "faint"})
		}
	}
	return row + 1
}

// counts says how many combinations there are and why some are left out.
func (c *CombinationStudy) counts() string {
	text := fmt.Sprintf("%s valid of %s alternatives", sheet.Thousands(c.Valid), sheet.Thousands(c.Alternatives))
	if !math.IsInf(c.MaxMass, 0) {
		text += fmt.Sprintf("; %s heavier than %s kg", sheet.Thousands(c.TooHeavy), costmodel.ShownNumber(c.MaxMass))
	}
	if c.NoCost > 0 {
		text += fmt.Sprintf("; %s fail a check or have no cost", sheet.Thousands(c.NoCost))
	}
	if c.Repeated > 0 {
		text += fmt.Sprintf("; %s more with an alternative that changes nothing, counted once", sheet.Thousands(c.Repeated))
	}
	return text
}
