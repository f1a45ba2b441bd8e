package main

import (
	"fmt"
	"io"
	"math"
	"strings"
	"unicode/utf8"

	"piececost/costmodel"
	"piececost/costmodel/study"
)

// crossoverReport prints cross-overs for a terminal.
type crossoverReport struct {
	w          io.Writer
	short      []string // names of scenarios in tables
	c          *study.Crossover
	plans      []*costmodel.Plan
	ask        study.CrossoverAsk
	currency   string
	continuous bool
}

func (r *crossoverReport) name(plan int) string { return r.plans[plan].Scenario.Name }

// mostShort is the length of a scenario's name in the tables of a terminal.
const mostShort = 16

func (r *crossoverReport) print(w io.Writer) {
	r.w = w
	names := planNames(r.plans)
	r.short = shortNames(names, mostShort)
	fmt.Fprintf(r.w, "Annual volumes %s to %s, every whole one", grouped(float64(r.c.From), 0), grouped(float64(r.c.To), 0))
	if r.continuous {
		fmt.Fprint(r.w, "; batches as fractions")
	}
	fmt.Fprint(r.w, "\n\n")
	printShortNames(r.w, names, r.short)
	r.envelope()
	plotPlans(r.w, r.plans, float64(r.c.From), float64(r.c.To), r.currency)
	fmt.Fprintln(r.w)
	for i := range r.c.Pairs {
		r.changes(&r.c.Pairs[i])
	}
	r.bands()
}

// digits is the number of decimals in which costs are shown.
func (r *crossoverReport) digits() int {
	least := math.Inf(1)
	for _, s := range r.c.Envelope {
		least = min(least, s.AtTo.Cost)
	}
	return int(costmodel.MoneyDigits(r.currency, least))
}

// envelope prints which scenario is the cheapest where.
func (r *crossoverReport) envelope() {
	fmt.Fprintf(r.w, "Cheapest scenario, and what the second best costs more [%s a piece]\n", r.currency)
	t := blocks{corner: "Cheapest"}
	columns := []column{{head: "from"}, {head: "to"}, {head: "second at from"}, {head: "more"}, {head: "least"}, {head: "most"}, {head: "more at to"}}
	for _, s := range r.c.Envelope {
		more := func(l study.Lead) string { return smallAmount(l.More, r.digits()) }
		t.labels = append(t.labels, r.short[s.Cheapest])
		for i, cell := range []string{grouped(float64(s.From), 0), grouped(float64(s.To), 0), r.short[s.AtFrom.Second], more(s.AtFrom), more(s.Least), more(s.Most), more(s.AtTo)} {
			columns[i].cells = append(columns[i].cells, cell)
		}
	}
	t.fixed = columns[:2]
	for i := range columns[2:] {
		t.groups = append(t.groups, columns[2+i:3+i])
	}
	t.printWhole(r.w)
	fmt.Fprintln(r.w)
}

// changes prints every change of order of a pair.
func (r *crossoverReport) changes(p *study.CrossoverPair) {
	pair := fmt.Sprintf("%s and %s: ", r.short[p.First], r.short[p.Second])
	if len(p.Changes) == 0 {
		order := r.short[p.Cheaper] + " is cheaper throughout"
		if p.Equal {
			order = "they cost the same at every volume"
		}
		printWrapped(r.w, "", "  ", pair+"no cross-over, "+order)
		fmt.Fprintln(r.w)
		return
	}
	printWrapped(r.w, "", "  ", pair+fmt.Sprintf("%s; at %s %s is cheaper", plural(len(p.Changes), "cross-over"), grouped(float64(r.c.From), 0), r.short[p.Cheaper]))
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

func (r *crossoverReport) change(p *study.CrossoverPair, ch *study.OrderChange) {
	words := fmt.Sprintf("from %s on %s is cheaper", grouped(float64(ch.Volume), 0), r.short[ch.Cheaper])
	if len(ch.First.Causes)+len(ch.Second.Causes) == 0 {
		words += ": no jump, the curves cross"
	}
	printWrapped(r.w, "  ", "    ", words)
	width := max(utf8.RuneCountInString(r.short[p.First]), utf8.RuneCountInString(r.short[p.Second]))
	for i, m := range []study.CostMove{ch.First, ch.Second} {
		name := r.short[[]int{p.First, p.Second}[i]]
		digits := r.digits() + 2
		fmt.Fprintf(r.w, "    %s%s  %s -> %s  (%+.*f)\n", name, strings.Repeat(" ", width-utf8.RuneCountInString(name)),
			grouped(m.Before, digits), grouped(m.After, digits), digits, m.After-m.Before)
		for k, cause := range m.Causes {
			if k == mostCauses {
				fmt.Fprintf(r.w, "      ... and %d more; --json lists them\n", len(m.Causes)-k)
				break
			}
			printWrapped(r.w, "      ", "        ", cause.String())
		}
	}
}

// bands prints where two scenarios cost about the same.
func (r *crossoverReport) bands() {
	printWrapped(r.w, "", "  ", fmt.Sprintf("Volumes at which two scenarios differ by no more than %s %% of the cheaper one", costmodel.ShownNumber(100*r.ask.Tolerance)))
	for _, p := range r.c.Pairs {
		count := 0
		var words []string
		for _, b := range p.Bands {
			count += b.To - b.From + 1
			text := grouped(float64(b.From), 0)
			if b.To > b.From {
				text += "-" + grouped(float64(b.To), 0)
			}
			words = append(words, text)
		}
		if len(words) == 0 {
			words = []string{"none"}
		}
		if len(words) > mostChanges {
			words = append(words[:mostChanges], fmt.Sprintf("and %d more stretches", len(p.Bands)-mostChanges))
		}
		fmt.Fprintf(r.w, "  %s and %s: %s\n", r.short[p.First], r.short[p.Second], volumeCount(count))
		wrapped(r.w, "    ", strings.Join(words, ", "))
	}
	fmt.Fprintln(r.w)
}
