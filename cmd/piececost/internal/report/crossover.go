package report

import (
	"fmt"
	"io"
	"math"
	"strings"
	"unicode/utf8"

	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel"
	"piececost/costmodel/study"
)

// Crossover prints cross-overs for a terminal.
type Crossover struct {
	w          io.Writer
	short      []string // names of scenarios in tables
	Found      *study.Crossover
	Plans      []*costmodel.Plan
	Ask        study.CrossoverAsk
	Currency   string
	Continuous bool
}

func (r *Crossover) name(plan int) string { return r.Plans[plan].Scenario.Name }

// mostShort is the length of a scenario's name in the tables of a terminal.
const mostShort = 16

// Print prints the cheapest stretches, the curves, every change of order and the bands.
func (r *Crossover) Print(w io.Writer) {
	r.w = w
	names := planNames(r.Plans)
	r.short = term.ShortNames(names, mostShort)
	fmt.Fprintf(r.w, "Annual volumes %s to %s, every whole one", term.Whole(r.Found.From), term.Whole(r.Found.To))
	if r.Continuous {
		fmt.Fprint(r.w, "; batches as fractions")
	}
	fmt.Fprint(r.w, "\n\n")
	term.PrintShortNames(r.w, names, r.short)
	r.envelope()
	PlotPlans(r.w, r.Plans, float64(r.Found.From), float64(r.Found.To), r.Currency)
	fmt.Fprintln(r.w)
	for i := range r.Found.Pairs {
		r.changes(&r.Found.Pairs[i])
	}
	r.bands()
}

// digits is the number of decimals in which costs are shown.
func (r *Crossover) digits() int {
	least := math.Inf(1)
	for _, s := range r.Found.Envelope {
		least = min(least, s.AtTo.Cost)
	}
	return int(costmodel.MoneyDigits(r.Currency, least))
}

// envelope prints which scenario is the cheapest where.
func (r *Crossover) envelope() {
	fmt.Fprintf(r.w, "Cheapest scenario, and what the second best costs more [%s per piece]\n", r.Currency)
	t := term.Blocks{Corner: "Cheapest"}
	columns := []term.Column{{Head: "from"}, {Head: "to"}, {Head: "second at from"}, {Head: "more"}, {Head: "least"}, {Head: "most"}, {Head: "more at to"}}
	for _, s := range r.Found.Envelope {
		more := func(l study.Lead) string { return term.SmallAmount(l.More, r.digits()) }
		t.Labels = append(t.Labels, r.short[s.Cheapest])
		for i, cell := range []string{term.Whole(s.From), term.Whole(s.To), r.short[s.AtFrom.Second], more(s.AtFrom), more(s.Least), more(s.Most),
			more(s.AtTo)} {
			columns[i].Cells = append(columns[i].Cells, cell)
		}
	}
	t.Fixed = columns[:2]
	for i := range columns[2:] {
		t.Groups = append(t.Groups, columns[2+i:3+i])
	}
	t.PrintWhole(r.w)
	fmt.Fprintln(r.w)
}

// changes prints every change of order of a pair.
func (r *Crossover) changes(p *study.CrossoverPair) {
	pair := fmt.Sprintf("%s and %s: ", r.short[p.First], r.short[p.Second])
	if len(p.Changes) == 0 {
		order := r.short[p.Cheaper] + " is cheaper throughout"
		if p.Equal {
			order = "they cost the same at every volume"
		}
		term.Wrap(r.w, "", "  ", pair+"no cross-over, "+order)
		fmt.Fprintln(r.w)
		return
	}
	term.Wrap(r.w, "", "  ", pair+fmt.Sprintf("%s; at %s %s is cheaper", term.Plural(len(p.Changes), "cross-over"), term.Whole(r.Found.From),
		r.short[p.Cheaper]))
	for i := range p.Changes {
		if i == mostChanges {
			fmt.Fprintf(r.w, "  ... and %d more; --csv lists them\n", len(p.Changes)-i)
			break
		}
		r.change(p, &p.Changes[i])
	}
	fmt.Fprintln(r.w)
}

// mostChanges is the number of changes of a pair that a terminal shows, mostCauses that of the causes of a change.
const (
	mostChanges = 60
	mostCauses  = 6
)

func (r *Crossover) change(p *study.CrossoverPair, ch *study.OrderChange) {
	words := fmt.Sprintf("from %s on %s is cheaper", term.Whole(ch.Volume), r.short[ch.Cheaper])
	if len(ch.First.Causes)+len(ch.Second.Causes) == 0 {
		words += ": no jump, the curves cross"
	}
	term.Wrap(r.w, "  ", "    ", words)
	width := max(utf8.RuneCountInString(r.short[p.First]), utf8.RuneCountInString(r.short[p.Second]))
	for i, m := range []study.CostMove{ch.First, ch.Second} {
		name := r.short[[]int{p.First, p.Second}[i]]
		digits := r.digits() + 2
		fmt.Fprintf(r.w, "    %s%s  %s -> %s  (%+.*f)\n", name, strings.Repeat(" ", width-utf8.RuneCountInString(name)),
			term.Grouped(m.Before, digits), term.Grouped(m.After, digits), digits, m.After-m.Before)
		for k, cause := range m.Causes {
			if k == mostCauses {
				fmt.Fprintf(r.w, "      ... and %d more; --json lists them\n", len(m.Causes)-k)
				break
			}
			term.Wrap(r.w, "      ", "        ", cause.String())
		}
	}
}

// bands prints where two scenarios cost about the same.
func (r *Crossover) bands() {
	term.Wrap(r.w, "", "  ", fmt.Sprintf("Volumes at which two scenarios differ by no more than %s %% of the cheaper one",
		costmodel.ShownNumber(100*r.Ask.Tolerance)))
	for _, p := range r.Found.Pairs {
		count := 0
		var words []string
		for _, b := range p.Bands {
			count += b.To - b.From + 1
			text := term.Whole(b.From)
			if b.To > b.From {
				text += "-" + term.Whole(b.To)
			}
			words = append(words, text)
		}
		if len(words) == 0 {
			words = []string{"none"}
		}
		if len(words) > mostChanges {
			words = append(words[:mostChanges], fmt.Sprintf("and %d more stretches", len(p.Bands)-mostChanges))
		}
		fmt.Fprintf(r.w, "  %s and %s: %s\n", r.short[p.First], r.short[p.Second], term.Plural(count, "volume"))
		term.WrapList(r.w, "    ", words)
	}
	fmt.Fprintln(r.w)
}
