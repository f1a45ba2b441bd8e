package report

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"piececost/costmodel/study"
)

// csv prints a line for each pair and each end of an input.
func (r *Stability) CSV(w io.Writer) {
	fmt.Fprintln(w, "first,second,input,unit,end,value,cross_overs,first_cross_over,last_cross_over,first_moved_by,last_moved_by,cheaper_at_from,in_words")
	for i := range r.S.Pairs {
		p := &r.S.Pairs[i]
		r.csvLine(w, p, []string{"", "", "today", ""}, study.StabilityEnd{Orders: p.Today}, false)
		for k := range p.Inputs {
			in := &p.Inputs[k]
			for _, e := range []struct {
				word string
				end  study.StabilityEnd
			}{{"low", in.Low}, {"high", in.High}} {
				label := []string{csvText(in.Input.Input.String()), csvText(unitOf(r.Model, &in.Input)), e.word, csvNumber(in.Input.Shown(e.end.Value))}
				r.csvLine(w, p, label, e.end, true)
			}
		}
	}
}

func (r *Stability) csvLine(w io.Writer, p *study.StabilityPair, label []string, e study.StabilityEnd, moved bool) {
	cells := append([]string{csvText(r.name(p.First)), csvText(r.name(p.Second))}, label...)
	first, last, ok := e.Span()
	switch _, _, had := p.Today.Span(); {
	case ok && moved && had:
		cells = append(cells, strconv.Itoa(len(e.Changes)), strconv.Itoa(first), strconv.Itoa(last), strconv.Itoa(e.FirstMoved), strconv.Itoa(e.LastMoved))
	case ok:
		cells = append(cells, strconv.Itoa(len(e.Changes)), strconv.Itoa(first), strconv.Itoa(last), "", "")
	case e.Impossible != "":
		cells = append(cells, "", "", "", "", "")
	default:
		cells = append(cells, "0", "", "", "", "")
	}
	cheaper := ""
	if e.Impossible == "" && !e.Equal {
		cheaper = csvText(r.name(e.Cheaper))
	}
	fmt.Fprintln(w, strings.Join(append(cells, cheaper, csvText(r.words(e))), ","))
}
