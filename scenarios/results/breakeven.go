package results

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"piececost/costmodel/study"
	"piececost/scenarios/sheet"
)

// mostLevers is the number of inputs that the sheet lists for a question that tries them all.
const mostLevers = 12

// mustBeTrue writes for each question the values of inputs at which what is wanted holds.
func (b *writer) mustBeTrue() error {
	if len(b.result.Solves) == 0 {
		return nil
	}
	p, err := b.Page(SolveSheet, "Break-even values: the value of an input at which a target holds, all else unchanged")
	if err != nil {
		return err
	}
	b.staleMark(p)
	row := 6
	for i, a := range b.result.Solves {
		if i > 0 && i%3 == 0 {
			p.Breaks = append(p.Breaks, row)
		}
		row = b.solveAnswer(p, row, a) + 1
	}
	for i, w := range []float64{42, 13, 14, 14, 11, 14, 14, 58} {
		p.Widths[i+1] = w
	}
	p.Landscape, p.Titles = true, 4
	return p.Flush()
}

// solveAnswer writes one question and returns the row below.
func (b *writer) solveAnswer(p *sheet.Page, row int, a *study.SolveAnswer) int {
	b.band(p, row, fmt.Sprintf("Wanted: %s, at %s", a.Measure.Wanted(b.amount(a, a.Target)+" "+b.currency()), volumesOf(a.Measure)), 8)
	p.Set(row+1, 1, b.standing(a), sheet.Look{Kind: "faint"})
	row += 2
	p.MixedHeading(row, []int{1, 2, 8}, "Input", "Unit of its cell", "Base value", "Required value", "Change", "Search range from", "to",
		"Search range, and remarks")
	row++
	if !a.Each {
		for i := range a.Solutions {
			row = b.roots(p, row, a, &a.Solutions[i])
		}
		return row
	}
	shown, none := 0, 0
	for i := range a.Solutions {
		switch root, ok := a.Solutions[i].Closest(); {
		case !ok:
			none++
		default:
			if shown++; shown <= mostLevers {
				b.lever(p, row, a, &a.Solutions[i], root)
				row++
			}
		}
	}
	p.Set(row, 1, otherLevers(max(0, shown-mostLevers), none, len(a.Dropped)), sheet.Look{Kind: "faint"})
	return row + 1
}

// otherLevers counts the inputs that are not listed.
func otherLevers(more, none, dropped int) string {
	var out []string
	for _, c := range []struct {
		n    int
		text string
	}{{more, "need more change"}, {none, "can't within their range"}, {dropped, "could not be tried"}} {
		if c.n > 0 {
			out = append(out, fmt.Sprintf("%s %s", sheet.Thousands(c.n), c.text))
		}
	}
	if len(out) == 0 {
		return "There is no other input that moves it."
	}
	return "Of the other inputs " + strings.Join(out, ", ") + "; piececost solve --csv lists them all."
}

// amount writes money with the decimals of the answer.
func (b *writer) amount(a *study.SolveAnswer, v float64) string {
	return fmt.Sprintf("%.*f", a.Digits(), v)
}

// standing says how a question stands at the base values.
func (b *writer) standing(a *study.SolveAnswer) string {
	text := "At the base values " + a.Standing()
	if a.Measure.Against != nil && a.BaseValue < 0 && a.Standing() != "it costs the same" {
		return text + ": what is needed is how far an input may move before that is lost."
	}
	return text + "."
}

// roots writes every value found for an input that was asked for.
func (b *writer) roots(p *sheet.Page, row int, a *study.SolveAnswer, s *study.Solution) int {
	if words := s.NotFound(); words != "" {
		b.searched(p, row, s)
		if s.Misses() {
			words += fmt.Sprintf("; the nearest is %s, with %s %s %s", shownNumber(s.Input.Shown(s.Nearest)), b.amount(a, math.Abs(s.Miss)),
				b.currency(), study.TooMuch(s.Miss))
		}
		b.setWords(p, row, 8, joined(words, string(s.Range), changedWords(s)), 56, sheet.Look{Kind: "label", Wrap: true})
		return row + 1
	}
	for _, root := range s.Roots {
		b.needed(p, row, s, root)
		b.setWords(p, row, 8, joined(b.rootWords(a, s, root), string(s.Range), changedWords(s)), 56, sheet.Look{Kind: "label", Wrap: true})
		row++
	}
	return row
}

// lever writes the nearest value of one of many inputs.
func (b *writer) lever(p *sheet.Page, row int, a *study.SolveAnswer, s *study.Solution, root study.Root) {
	b.needed(p, row, s, root)
	more := ""
	if n := len(s.Roots) - 1; n > 0 {
		more = fmt.Sprintf("%d more, piececost solve --input shows them", n)
	}
	b.setWords(p, row, 8, joined(b.rootWords(a, s, root), more, string(s.Range), changedWords(s)), 56, sheet.Look{Kind: "label", Wrap: true})
}

// searched writes an input and where it was looked for.
func (b *writer) searched(p *sheet.Page, row int, s *study.Solution) {
	v := &s.Input
	b.setWords(p, row, 1, v.Input.String(), 42, sheet.Look{Kind: "label", Wrap: true})
	p.Set(row, 2, b.unitWords(v), sheet.Look{Kind: "label"})
	for _, at := range []struct {
		col   int
		value float64
	}{{3, v.BaseValue}, {6, s.From}, {7, s.To}} { // in one order, for a look is registered where it is first used
		x := at.value
		b.number(p, row, at.col, v.Shown(x), sheet.Look{Kind: "number", Format: sheet.Padded(sheet.ValueFormat(v.Shown(x)))})
	}
	for _, c := range []int{4, 5} {
		b.number(p, row, c, math.NaN(), sheet.Look{Kind: "number"})
	}
}

func (b *writer) needed(p *sheet.Page, row int, s *study.Solution, root study.Root) {
	b.searched(p, row, s)
	value := root.Nearest(s.Input.BaseValue)
	if root.Jump {
		value = root.Value
	}
	shown := s.Input.Shown(value)
	p.Set(row, 4, shown, sheet.Look{Kind: "total", Format: sheet.ValueFormat(shown)})
	b.number(p, row, 5, value/s.Input.BaseValue-1, sheet.Look{Kind: "number", Format: "+0.0%;-0.0%;0.0%"})
}

// rootWords says how the target holds at a root; nothing where it holds at the value alone.
func (b *writer) rootWords(a *study.SolveAnswer, s *study.Solution, root study.Root) string {
	switch {
	case root.Jump:
		return fmt.Sprintf("it is jumped over here: %+.*f %s before, %+.*f after", a.Digits()+2, root.Below, b.currency(), a.Digits()+2, root.Above)
	case root.Until > root.Value:
		return fmt.Sprintf("it holds from %s to %s", shownNumber(s.Input.Shown(root.Value)), shownNumber(s.Input.Shown(root.Until)))
	case s.Input.IsVolume() && root.Value != math.Trunc(root.Value):
		return fmt.Sprintf("it holds between %s and %s", volumeText(math.Floor(root.Value)), volumeText(math.Ceil(root.Value)))
	}
	return ""
}

// changedWords says that a scenario changes the cell of an input.
func changedWords(s *study.Solution) string {
	if len(s.Input.ChangedBy) == 0 {
		return ""
	}
	return fmt.Sprintf("the scenario %s changes this cell, the value takes the place of the change", strings.Join(s.Input.ChangedBy, ", "))
}

// joined joins what is not empty.
func joined(words ...string) string {
	return strings.Join(slices.DeleteFunc(words, func(w string) bool { return w == "" }), "; ")
}
