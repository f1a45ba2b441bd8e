package report

import (
	"io"
	"strings"

	"piececost/costmodel/study"
)

// CSVOf is one of the tables as CSV.
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
	t := newCSV(w, head...)
	defer t.flush()
	for _, s := range r.Found.Envelope {
		cells := []any{r.name(s.Cheapest), s.From, s.To}
		for _, l := range []study.Lead{s.AtFrom, s.AtTo, s.Least, s.Most} {
			cells = append(cells, l.Volume, l.Cost, r.name(l.Second), l.More)
		}
		t.row(cells...)
	}
}

// csvBands prints a line for each stretch in which two scenarios cost about the same.
func (r *Crossover) csvBands(w io.Writer) {
	t := newCSV(w, "first", "second", "from", "to")
	defer t.flush()
	for _, p := range r.Found.Pairs {
		for _, b := range p.Bands {
			t.row(r.name(p.First), r.name(p.Second), b.From, b.To)
		}
	}
}

// csvChanges prints a line for each change of order.
func (r *Crossover) csvChanges(w io.Writer) {
	t := newCSV(w, "first", "second", "annual_volume", "cheaper_from_here", "first_before", "first_from_here", "second_before", "second_from_here",
		"capacity_steps")
	defer t.flush()
	for _, p := range r.Found.Pairs {
		for _, ch := range p.Changes {
			t.row(
				r.name(p.First), r.name(p.Second), ch.Volume, r.name(ch.Cheaper),
				ch.First.Before, ch.First.After, ch.Second.Before, ch.Second.After,
				r.jumped(p, ch),
			)
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
