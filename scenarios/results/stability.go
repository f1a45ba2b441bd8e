package results

import (
	"fmt"

	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/scenarios/sheet"
)

// stability writes for each pair of scenarios where the first and the last cross-over lie with each input at its ends.
func (b *writer) stability() error {
	if len(b.result.Stability) == 0 {
		return nil
	}
	p, err := b.Page(stabilitySheet, "Cross-over stability: how far cross-overs move when one input is at its low or high, all else unchanged")
	if err != nil {
		return err
	}
	b.staleMark(p)
	row := 6
	for _, s := range b.result.Stability {
		p.Set(row, 1, s.ranged(), sheet.Look{Kind: "faint"})
		row += 2
		for i := range s.Pairs {
			row = b.stabilityPair(p, row, &s.Pairs[i]) + 1
		}
	}
	for i, w := range []float64{46, 14, 10, 14, 12, 14, 14, 14, 14, 36} {
		p.Widths[i+1] = w
	}
	p.Landscape, p.Titles = true, 4
	return p.Flush()
}

// ranged says over which volumes and how far the inputs are moved.
func (s *StabilityStudy) ranged() string {
	text := fmt.Sprintf("Every whole annual volume from %s to %s; each input alone, in both scenarios, ", sheet.Thousands(s.From), sheet.Thousands(s.To))
	if s.Share == 0 {
		return text + "from low to high of the sheet Uncertainty."
	}
	return text + fmt.Sprintf("by plus and minus %.3g %%, within its plausible range.", 100*s.Share)
}

// stabilityPair writes one pair and returns the row below.
func (b *writer) stabilityPair(p *sheet.Page, row int, pair *study.StabilityPair) int {
	b.band(p, row, fmt.Sprintf("%s and %s", b.scenarioName(pair.First), b.scenarioName(pair.Second)), 10)
	row++
	p.MixedHeading(row, []int{1, 2, 10}, "Input", "Unit of its cell", "End", "Value", "Cross-overs", "First at [1/yr]", "moved by", "Last at [1/yr]",
		"moved by", "What becomes of them")
	row++
	p.Set(row, 1, "base value", sheet.Look{Kind: "label"})
	for c := 2; c <= 4; c++ {
		p.Set(row, c, nil, sheet.Look{Kind: "label"})
	}
	b.orders(p, row, &study.StabilityEnd{Orders: pair.BaseValue}, false)
	for i := range pair.Inputs {
		in := &pair.Inputs[i]
		for _, e := range []struct {
			word string
			end  *study.StabilityEnd
		}{{"low", &in.Low}, {"high", &in.High}} {
			row++
			b.stabilityEnd(p, row, &in.Input, e.word, e.end)
		}
	}
	for _, text := range stabilityNotes(pair) {
		row++
		p.Set(row, 1, text, sheet.Look{Kind: "faint"})
	}
	return row + 1
}

// stabilityEnd writes an input at one end of its range.
func (b *writer) stabilityEnd(p *sheet.Page, row int, v *costmodel.Varied, word string, e *study.StabilityEnd) {
	b.setWords(p, row, 1, v.Input.String(), 46, sheet.Look{Kind: "label", Wrap: true})
	p.Set(row, 2, b.unitWords(v), sheet.Look{Kind: "label"})
	p.Set(row, 3, word, sheet.Look{Kind: "label", Right: true})
	shown := v.Shown(e.Value)
	b.number(p, row, 4, shown, sheet.Look{Kind: "number", Format: sheet.ValueFormat(shown)})
	b.orders(p, row, e, true)
}

// orders writes where the first and the last cross-over lie and what becomes of them.
func (b *writer) orders(p *sheet.Page, row int, e *study.StabilityEnd, moved bool) {
	whole, by := sheet.Look{Kind: "number", Format: "#,##0"}, sheet.Look{Kind: "number", Format: "+#,##0;-#,##0;0"}
	first, last, ok := e.Span()
	for c := 5; c <= 10; c++ {
		p.Set(row, c, nil, sheet.Look{Kind: "label"})
	}
	switch {
	case e.Impossible != "":
		b.setWords(p, row, 10, "can't be: "+e.Impossible, 34, sheet.Look{Kind: "label", Wrap: true})
		return
	case !ok && e.Equal:
		p.Set(row, 5, 0.0, whole)
		b.setWords(p, row, 10, "none: they cost the same at every volume", 34, sheet.Look{Kind: "label", Wrap: true})
		return
	case !ok:
		p.Set(row, 5, 0.0, whole)
		b.setWords(p, row, 10, "none: "+b.scenarioName(e.Cheaper)+" is cheaper throughout", 34, sheet.Look{Kind: "best", Wrap: true})
		return
	}
	p.Set(row, 5, float64(len(e.Changes)), whole)
	p.Set(row, 6, float64(first), whole)
	p.Set(row, 8, float64(last), whole)
	switch {
	case !moved:
	case e.Breaks:
		p.Set(row, 10, "there is none at the base values", sheet.Look{Kind: "label"})
	default:
		p.Set(row, 7, float64(e.FirstMoved), by)
		p.Set(row, 9, float64(e.LastMoved), by)
	}
}

// stabilityNotes say which inputs were looked at and which could not be.
func stabilityNotes(p *study.StabilityPair) []string {
	var out []string
	if p.Volume > 0 {
		text := fmt.Sprintf("Looked at: the %d inputs that move the difference most around %s per year", len(p.Inputs), sheet.Thousands(p.Volume))
		if p.Others > 0 {
			text += fmt.Sprintf("; %s more move it less, piececost crossover --stability --top 0 looks at all", sheet.Thousands(p.Others))
		}
		out = append(out, text+".")
	}
	for i, text := range p.Unmoved {
		if i == 5 {
			return append(out, fmt.Sprintf("... and %d more that could not be moved.", len(p.Unmoved)-i))
		}
		out = append(out, "Not moved: "+text)
	}
	return out
}
