package scenarios

import (
	"fmt"

	"piececost/costmodel"
	"piececost/costmodel/study"
)

const stabilitySheet = "Cross-over stability"

// A StabilityStudy is how far cross-overs move when one input is at its low or high. Its indexes are those of the details.
type StabilityStudy struct {
	*study.Stability
	Share float64 // by which the inputs are moved either way; 0 where the sheet Uncertainty gives the ranges
}

// stability writes for each pair of scenarios where the first and the last cross-over lie with each input at its ends.
func (b *writer) stability() error {
	if len(b.result.Stability) == 0 {
		return nil
	}
	p, err := b.page(stabilitySheet, "How far cross-overs move when one input is at its low or high, all else as it stands")
	if err != nil {
		return err
	}
	b.staleMark(p)
	row := 6
	for _, s := range b.result.Stability {
		p.set(row, 1, s.ranged(), look{kind: "faint"})
		row += 2
		for i := range s.Pairs {
			row = b.stabilityPair(p, row, &s.Pairs[i]) + 1
		}
	}
	for i, w := range []float64{46, 14, 10, 14, 12, 14, 14, 14, 14, 36} {
		p.widths[i+1] = w
	}
	p.landscape, p.titles = true, 4
	return p.flush()
}

// ranged says over which volumes and how far the inputs are moved.
func (s *StabilityStudy) ranged() string {
	text := fmt.Sprintf("Every whole annual volume from %s to %s; each input alone, in both scenarios, ", thousands(s.From), thousands(s.To))
	if s.Share == 0 {
		return text + "from low to high of the sheet Uncertainty."
	}
	return text + fmt.Sprintf("by plus and minus %.3g %%, within its plausible range.", 100*s.Share)
}

// stabilityPair writes one pair and returns the row below.
func (b *writer) stabilityPair(p *page, row int, pair *study.StabilityPair) int {
	b.band(p, row, fmt.Sprintf("%s and %s", b.scenarioName(pair.First), b.scenarioName(pair.Second)), 10)
	row++
	p.mixedHeading(row, []int{1, 2, 10}, "Input", "Unit of its cell", "End", "Value", "Cross-overs", "First at [1/yr]", "moved by", "Last at [1/yr]", "moved by", "What becomes of them")
	row++
	p.set(row, 1, "as it stands", look{kind: "label"})
	for c := 2; c <= 4; c++ {
		p.set(row, c, nil, look{kind: "label"})
	}
	b.orders(p, row, &study.StabilityEnd{Orders: pair.Today}, false)
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
		p.set(row, 1, text, look{kind: "faint"})
	}
	return row + 1
}

// stabilityEnd writes an input at one end of its range.
func (b *writer) stabilityEnd(p *page, row int, v *costmodel.Varied, word string, e *study.StabilityEnd) {
	b.setWords(p, row, 1, v.Input.String(), 46, look{kind: "label", wrap: true})
	p.set(row, 2, b.unitWords(v), look{kind: "label"})
	p.set(row, 3, word, look{kind: "label", right: true})
	shown := v.Shown(e.Value)
	b.number(p, row, 4, shown, look{kind: "number", format: valueFormat(shown)})
	b.orders(p, row, e, true)
}

// orders writes where the first and the last cross-over lie and what becomes of them.
func (b *writer) orders(p *page, row int, e *study.StabilityEnd, moved bool) {
	whole, by := look{kind: "number", format: "#,##0"}, look{kind: "number", format: "+#,##0;-#,##0;0"}
	first, last, ok := e.Span()
	for c := 5; c <= 10; c++ {
		p.set(row, c, nil, look{kind: "label"})
	}
	switch {
	case e.Impossible != "":
		b.setWords(p, row, 10, "can't be: "+e.Impossible, 34, look{kind: "label", wrap: true})
		return
	case !ok && e.Equal:
		p.set(row, 5, 0.0, whole)
		b.setWords(p, row, 10, "none: they cost the same at every volume", 34, look{kind: "label", wrap: true})
		return
	case !ok:
		p.set(row, 5, 0.0, whole)
		b.setWords(p, row, 10, "none: "+b.scenarioName(e.Cheaper)+" is cheaper throughout", 34, look{kind: "best", wrap: true})
		return
	}
	p.set(row, 5, float64(len(e.Changes)), whole)
	p.set(row, 6, float64(first), whole)
	p.set(row, 8, float64(last), whole)
	switch {
	case !moved:
	case e.Breaks:
		p.set(row, 10, "there is none as it stands", look{kind: "label"})
	default:
		p.set(row, 7, float64(e.FirstMoved), by)
		p.set(row, 9, float64(e.LastMoved), by)
	}
}

// stabilityNotes say which inputs were looked at and which could not be.
func stabilityNotes(p *study.StabilityPair) []string {
	var out []string
	if p.Volume > 0 {
		text := fmt.Sprintf("Looked at: the %d inputs that move the difference most around %s a year", len(p.Inputs), thousands(p.Volume))
		if p.Others > 0 {
			text += fmt.Sprintf("; %s more move it less, piececost crossover --stability --top 0 looks at all", thousands(p.Others))
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
