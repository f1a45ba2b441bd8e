package report

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel"
	"piececost/costmodel/study"
)

// Stability prints the stability of cross-overs for a terminal.
type Stability struct {
	w          io.Writer
	short      []string // names of scenarios
	Found      *study.Stability
	Ask        study.StabilityAsk
	Model      *costmodel.Model
	Plans      []*costmodel.Plan
	Continuous bool
}

func (r *Stability) name(plan int) string { return r.Plans[plan].Scenario.Name }

// ranges says how far inputs were moved.
func (r *Stability) ranges() string {
	if len(r.Ask.Stated) > 0 {
		return "low and high of the sheet Uncertainty"
	}
	return fmt.Sprintf("plus and minus %s %%", term.Figure(100*r.Ask.Share))
}

// mostStabilityName is the length of a scenario's name, which stands in sentences and in lines of the table.
const mostStabilityName = 30

// Print prints for each pair whether its cross-overs hold, and how far each input moves them.
func (r *Stability) Print(w io.Writer) {
	r.w = w
	names := planNames(r.Plans)
	r.short = term.ShortNames(names, mostStabilityName)
	span := fmt.Sprintf("Cross-overs at annual volumes %s to %s, every whole one", term.Whole(r.Found.From), term.Whole(r.Found.To))
	if r.Continuous {
		span += "; batches as fractions"
	}
	term.Wrap(w, "", "  ", span)
	within := ""
	if len(r.Ask.Stated) == 0 {
		within = ", in its plausible range"
	}
	term.Wrap(w, "", "  ", fmt.Sprintf("Each input alone, in both scenarios: %s%s", r.ranges(), within))
	fmt.Fprintln(w)
	term.PrintShortNames(w, names, r.short)
	for i := range r.Found.Pairs {
		r.pair(&r.Found.Pairs[i])
	}
}

func (r *Stability) pair(p *study.StabilityPair) {
	fmt.Fprintf(r.w, "%s and %s\n", r.short[p.First], r.short[p.Second])
	r.verdict(p)
	if p.Volume > 0 {
		term.Wrap(r.w, "  ", "    ", fmt.Sprintf("Looked at: %s that move the difference around %s per year most", term.Plural(len(p.Inputs), "input"),
			term.Whole(p.Volume)))
	}
	fmt.Fprintln(r.w)
	fmt.Fprintf(r.w, "%-20s%8s%11s%11s%11s%11s\n%s\n", "", "number", "first", "moved by", "last", "moved by", strings.Repeat("-", 72))
	r.line("base value", study.StabilityEnd{Orders: p.BaseValue}, false)
	for i := range p.Inputs {
		in := &p.Inputs[i]
		fmt.Fprintln(r.w, term.Cut(inputLabel(r.Model, &in.Input), term.Columns(r.w)))
		r.line("  low   "+term.Figure(in.Input.Shown(in.Low.Value)), in.Low, true)
		r.line("  high  "+term.Figure(in.Input.Shown(in.High.Value)), in.High, true)
	}
	fmt.Fprintln(r.w)
	r.rest(p)
}

// line prints one state of a pair.
func (r *Stability) line(label string, e study.StabilityEnd, moved bool) {
	fmt.Fprintf(r.w, "%s%s", label, strings.Repeat(" ", max(1, 20-utf8.RuneCountInString(label))))
	first, last, ok := e.Span()
	switch {
	case e.Impossible != "":
		fmt.Fprintf(r.w, "  can't be: %s\n", term.Cut(e.Impossible, 48))
		return
	case e.Equal:
		fmt.Fprintln(r.w, "  none: they cost the same throughout")
		return
	case !ok:
		fmt.Fprintf(r.w, "  none: %s is cheaper throughout\n", r.short[e.Cheaper])
		return
	}
	by := func(n int) string {
		if !moved || e.Breaks {
			return ""
		}
		return term.SignedOrZero(float64(n), 0)
	}
	text := fmt.Sprintf("%8d%11s%11s%11s%11s", len(e.Changes), term.Whole(first), by(e.FirstMoved), term.Whole(last), by(e.LastMoved))
	fmt.Fprintln(r.w, strings.TrimRight(text, " "))
}

// verdict says in words whether the cross-over holds.
func (r *Stability) verdict(p *study.StabilityPair) {
	first, last, ok := p.BaseValue.Span()
	cheaper, words := r.short[p.BaseValue.Cheaper], ""
	switch {
	case p.BaseValue.Equal:
		words = "no cross-over in the range: they cost the same throughout"
	case !ok:
		words = fmt.Sprintf("no cross-over in the range: %s is cheaper throughout", cheaper)
	case first == last:
		words = fmt.Sprintf("1 cross-over at %s; below it %s is cheaper", term.Whole(first), cheaper)
	default:
		words = fmt.Sprintf("%s from %s to %s; below them %s is cheaper", term.Plural(len(p.BaseValue.Changes), "cross-over"), term.Whole(first),
			term.Whole(last), cheaper)
	}
	term.Wrap(r.w, "  ", "    ", words)
	if words := r.broken(p); len(words) > 0 {
		what := "It vanishes with: "
		switch {
		case !ok:
			what = "That changes with: "
		case len(p.BaseValue.Changes) > 1:
			what = "They vanish with: "
		}
		words[0] = what + words[0]
		term.WrapList(r.w, "  ", words)
		return
	}
	switch in := farthest(p); {
	case in == nil:
	case !ok:
		fmt.Fprintln(r.w, "  That holds with each of the inputs at its low and high.")
	case in.Moved == 0:
		fmt.Fprintln(r.w, "  None of the inputs moves the first or the last one.")
	default:
		term.Wrap(r.w, "  ", "    ", fmt.Sprintf("No input makes it vanish; the first or last moves by %s pieces at most, with %s", term.Whole(in.Moved),
			in.Input.Input))
	}
}

// broken names the inputs and ends at which the cross-over vanishes, comes up, or the other one is cheaper throughout.
func (r *Stability) broken(p *study.StabilityPair) []string {
	var out []string
	for i := range p.Inputs {
		in := &p.Inputs[i]
		for _, e := range []struct {
			word string
			end  study.StabilityEnd
		}{{"low", in.Low}, {"high", in.High}} {
			if e.end.Breaks {
				out = append(out, in.Input.Input.String()+" "+e.word)
			}
		}
	}
	return out
}

// farthest is the input that moves the cross-over farthest, nil without inputs.
func farthest(p *study.StabilityPair) *study.StabilityInput {
	var out *study.StabilityInput
	for i := range p.Inputs {
		if out == nil || p.Inputs[i].Moved > out.Moved {
			out = &p.Inputs[i]
		}
	}
	return out
}

// rest says what was left out and what a scenario's own change would say otherwise.
func (r *Stability) rest(p *study.StabilityPair) {
	var lines []string
	if p.Others > 0 {
		lines = append(lines, fmt.Sprintf("%s move the difference less; --top 0 looks at all", term.Plural(p.Others, "input")))
	}
	for _, u := range p.Unmoved {
		lines = append(lines, "not moved: "+u)
	}
	for i := range p.Inputs {
		if v := &p.Inputs[i].Input; len(r.Ask.Stated) > 0 && len(v.ChangedBy) > 0 {
			lines = append(lines, fmt.Sprintf("%s is changed by %s; low and high take the place of that change", v.Input, strings.Join(v.ChangedBy, ", ")))
		}
	}
	for _, l := range lines {
		fmt.Fprintln(r.w, term.Cut(l, term.Columns(r.w)))
	}
	if len(lines) > 0 {
		fmt.Fprintln(r.w)
	}
}

// words says how an end stands.
func (r *Stability) words(e study.StabilityEnd) string {
	switch _, _, ok := e.Span(); {
	case e.Impossible != "":
		return "can't be: " + e.Impossible
	case e.Equal:
		return "no cross-over in the range, they cost the same throughout"
	case !ok:
		return "no cross-over in the range, " + r.name(e.Cheaper) + " is cheaper throughout"
	case e.Breaks:
		return term.Plural(len(e.Changes), "cross-over") + ", none at the base values"
	}
	return term.Plural(len(e.Changes), "cross-over")
}
