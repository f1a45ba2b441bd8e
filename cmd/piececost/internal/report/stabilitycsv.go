package report

import (
	"io"

	"piececost/costmodel/study"
)

// CSV prints a line for each pair and each end of an input.
func (r *Stability) CSV(w io.Writer) {
	t := newCSV(w, "first", "second", "input", "unit", "end", "value", "cross_overs", "first_cross_over", "last_cross_over",
		"first_moved_by", "last_moved_by", "cheaper_at_from", "in_words")
	defer t.flush()
	for i := range r.Found.Pairs {
		p := &r.Found.Pairs[i]
		r.csvLine(t, p, []any{"", "", "base value", ""}, study.StabilityEnd{Orders: p.BaseValue}, false)
		for k := range p.Inputs {
			in := &p.Inputs[k]
			for _, e := range []struct {
				word string
				end  study.StabilityEnd
			}{{"low", in.Low}, {"high", in.High}} {
				label := []any{in.Input.Input.String(), unitOf(r.Model, &in.Input), e.word, in.Input.Shown(e.end.Value)}
				r.csvLine(t, p, label, e.end, true)
			}
		}
	}
}

func (r *Stability) csvLine(t *csvTable, p *study.StabilityPair, label []any, e study.StabilityEnd, moved bool) {
	cells := append([]any{r.name(p.First), r.name(p.Second)}, label...)
	first, last, ok := e.Span()
	switch _, _, had := p.BaseValue.Span(); {
	case ok && moved && had:
		cells = append(cells, len(e.Changes), first, last, e.FirstMoved, e.LastMoved)
	case ok:
		cells = append(cells, len(e.Changes), first, last, "", "")
	case e.Impossible != "":
		cells = append(cells, "", "", "", "", "")
	default:
		cells = append(cells, 0, "", "", "", "")
	}
	cheaper := ""
	if e.Impossible == "" && !e.Equal {
		cheaper = r.name(e.Cheaper)
	}
	t.row(append(cells, cheaper, r.words(e))...)
}
