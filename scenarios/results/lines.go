package results

import (
	"fmt"
	"math"
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/scenarios/sheet"
)

// band writes a line of words across columns.
func (b *writer) band(p *sheet.Page, row int, text string, columns int) {
	for c := 2; c <= columns; c++ {
		p.Set(row, c, nil, sheet.Look{Kind: "total"})
	}
	p.Set(row, 1, text, sheet.Look{Kind: "total"})
}

// setWords writes words that are broken into lines of so many letters, and makes the row high enough.
func (b *writer) setWords(p *sheet.Page, row, col int, text string, letters int, k sheet.Look) {
	p.Set(row, col, text, k)
	p.Grow(row, text, letters)
}

// number writes a number, a dash where there is none.
func (b *writer) number(p *sheet.Page, row, col int, v float64, k sheet.Look) {
	if v != v || math.IsInf(v, 0) {
		k.Right = true
		p.Set(row, col, "–", k)
		return
	}
	p.Set(row, col, v, k)
}

// staleMark says in row 4 of a sheet of values whether anything has changed since the run that computed them.
func (b *writer) staleMark(p *sheet.Page) {
	sum := func(column string) string {
		return fmt.Sprintf("SUM(%s!$%s$%d:$%s$%d)", b.Quoted(InputsSheet), column, b.firstFilled, column, b.lastFilled)
	}
	const fresh = "values of the run; no input has changed since"
	// a row deleted since breaks a link: then the mark shows the error, and the master cell above it says to run again
	p.Formula(4, 1, fmt.Sprintf(`IF(%s+%s+%s>0,"STALE: inputs have changed since the run that computed these values; run again","%s")`,
		b.changedInputs(), sum("G"), sum("K"), fresh),
		fresh, sheet.Look{Kind: "faint"})
}

// notes writes lines of words and returns the row below.
func (b *writer) notes(p *sheet.Page, row int, lines []string) int {
	for _, text := range lines {
		p.Set(row, 1, sentence(text), sheet.Look{Kind: "faint"})
		row++
	}
	return row
}

const chartRows = 26 // rows that a chart covers

// shownNumber writes a number, a dash for none.
func shownNumber(v float64) string {
	if v != v {
		return "–"
	}
	return costmodel.ShownNumber(v)
}

// volumeText writes a volume in words.
func volumeText(v float64) string {
	if v == math.Trunc(v) {
		return sheet.Thousands(int(v))
	}
	return costmodel.ShownNumber(v)
}

// sentence begins a text with a large letter.
func sentence(text string) string { return strings.ToUpper(text[:1]) + text[1:] }

func volumesOf(q study.Measure) string {
	switch {
	case q.Volume > 0:
		return volumeText(q.Volume) + " per year"
	case q.Against == nil || q.Against.Volume == q.Scenario.Volume:
		return volumeText(q.Scenario.Volume) + " per year"
	}
	return fmt.Sprintf("%s and %s per year", volumeText(q.Scenario.Volume), volumeText(q.Against.Volume))
}

// unitWords is the unit of an input's cells, empty for a plain number.
func (b *writer) unitWords(v *costmodel.Varied) string { return b.model().UnitWords(v) }

// inputWords writes an input with the unit of its cells.
func (b *writer) inputWords(v *costmodel.Varied) string {
	if u := b.unitWords(v); u != "" {
		return v.Input.String() + " [" + u + "]"
	}
	return v.Input.String()
}

// asTheyStand says what two inputs are at the base values.
func (b *writer) asTheyStand(x, y *costmodel.Varied) string {
	words := func(v *costmodel.Varied) string {
		text := v.Input.String() + " = " + shownNumber(v.Shown(v.BaseValue))
		if u := b.unitWords(v); u != "" {
			text += " " + u
		}
		return text
	}
	return "Base values: " + words(x) + ", " + words(y) + "."
}
