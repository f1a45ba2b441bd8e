package report

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"piececost/costmodel/study"
)

// csvOf is one of the tables as CSV.
func (r *Crossover) CSVOf(table string) func(io.Writer) {
	switch table {
	case "envelope":
		return r.csvEnvelope
	case "bands":
		return r.csvBands
	}
	return r.csvChanges
}

// csvEnvelope prints a line for each stretch in which one scenario is the cheapest of all.
func (r *Crossover) csvEnvelope(w io.Writer) {
	head := []string{"cheapest", "from", "to"}
	for _, at := range []string{"from", "to", "least", "most"} {
		head = append(head, "annual_volume_at_"+at, "cheapest_cost_at_"+at, "second_best_at_"+at, "costs_more_at_"+at)
	}
	fmt.Fprintln(w, strings.Join(head, ","))
	for _, s := range r.C.Envelope {
		cells := []string{csvText(r.name(s.Cheapest)), strconv.Itoa(s.From), strconv.Itoa(s.To)}
		for _, l := range []study.Lead{s.AtFrom, s.AtTo, s.Least, s.Most} {
			cells = append(cells, strconv.Itoa(l.Volume), csvNumber(l.Cost), csvText(r.name(l.Second)), csvNumber(l.More))
		}
		fmt.Fprintln(w, strings.Join(cells, ","))
	}
}

// csvBands prints a line for each stretch in which two scenarios cost about the same.
func (r *Crossover) csvBands(w io.Writer) {
	fmt.Fprintln(w, "first,second,from,to")
	for _, p := range r.C.Pairs {
		for _, b := range p.Bands {
			fmt.Fprintf(w, "%s,%s,%d,%d\n", csvText(r.name(p.First)), csvText(r.name(p.Second)), b.From, b.To)
		}
	}
}

// csvChanges prints a line for each change of order.
func (r *Crossover) csvChanges(w io.Writer) {
	fmt.Fprintln(w, "first,second,annual_volume,cheaper_from_here,first_before,first_from_here,second_before,second_from_here,jumped")
	for _, p := range r.C.Pairs {
		for _, ch := range p.Changes {
			fmt.Fprintln(w, strings.Join([]string{
				csvText(r.name(p.First)), csvText(r.name(p.Second)), strconv.Itoa(ch.Volume), csvText(r.name(ch.Cheaper)),
				csvNumber(ch.First.Before), csvNumber(ch.First.After), csvNumber(ch.Second.Before), csvNumber(ch.Second.After),
				csvText(r.jumped(p, ch)),
			}, ","))
		}
	}
}

// jumped words all causes of a change on one line.
func (r *Crossover) jumped(p study.CrossoverPair, ch study.OrderChange) string {
	var out []string
	for i, m := range []study.CostMove{ch.First, ch.Second} {
		for _, c := range m.Causes {
			out = append(out, r.name([]int{p.First, p.Second}[i])+": "+c.String())
		}
	}
	if out == nil {
		return "no jump, the curves cross"
	}
	return strings.Join(out, "; ")
}
