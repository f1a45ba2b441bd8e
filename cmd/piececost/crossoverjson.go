package main

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/study"
)

// csvOf is one of the tables as CSV.
func (r *crossoverReport) csvOf(table string) func(io.Writer) {
	switch table {
	case "envelope":
		return r.csvEnvelope
	case "bands":
		return r.csvBands
	}
	return r.csvChanges
}

// csvEnvelope prints a line for each stretch in which one scenario is the cheapest of all.
func (r *crossoverReport) csvEnvelope(w io.Writer) {
	head := []string{"cheapest", "from", "to"}
	for _, at := range []string{"from", "to", "least", "most"} {
		head = append(head, "annual_volume_at_"+at, "cheapest_cost_at_"+at, "second_best_at_"+at, "costs_more_at_"+at)
	}
	fmt.Fprintln(w, strings.Join(head, ","))
	for _, s := range r.c.Envelope {
		cells := []string{csvText(r.name(s.Cheapest)), strconv.Itoa(s.From), strconv.Itoa(s.To)}
		for _, l := range []study.Lead{s.AtFrom, s.AtTo, s.Least, s.Most} {
			cells = append(cells, strconv.Itoa(l.Volume), csvNumber(l.Cost), csvText(r.name(l.Second)), csvNumber(l.More))
		}
		fmt.Fprintln(w, strings.Join(cells, ","))
	}
}

// csvBands prints a line for each stretch in which two scenarios cost about the same.
func (r *crossoverReport) csvBands(w io.Writer) {
	fmt.Fprintln(w, "first,second,from,to")
	for _, p := range r.c.Pairs {
		for _, b := range p.Bands {
			fmt.Fprintf(w, "%s,%s,%d,%d\n", csvText(r.name(p.First)), csvText(r.name(p.Second)), b.From, b.To)
		}
	}
}

// csvChanges prints a line for each change of order.
func (r *crossoverReport) csvChanges(w io.Writer) {
	fmt.Fprintln(w, "first,second,annual_volume,cheaper_from_here,first_before,first_from_here,second_before,second_from_here,jumped")
	for _, p := range r.c.Pairs {
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
func (r *crossoverReport) jumped(p study.CrossoverPair, ch study.OrderChange) string {
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

type crossoverJSON struct {
	Format            string              `json:"format"`
	Version           int                 `json:"version"`
	File              string              `json:"file"`
	Currency          string              `json:"currency"`
	From              int                 `json:"from"`
	To                int                 `json:"to"`
	Tolerance         float64             `json:"tolerance"` // a share
	ContinuousBatches bool                `json:"continuous_batches"`
	Scenarios         []string            `json:"scenarios"`
	Cheapest          []stretchJSON       `json:"cheapest"`
	Pairs             []crossoverPairJSON `json:"pairs"`
	Caution           string              `json:"caution"`
}

type stretchJSON struct {
	Scenario string   `json:"scenario"`
	From     int      `json:"from"`
	To       int      `json:"to"`
	AtFrom   leadJSON `json:"second_best_at_from"`
	AtTo     leadJSON `json:"second_best_at_to"`
	Least    leadJSON `json:"second_best_nearest"`
	Most     leadJSON `json:"second_best_farthest"`
}

type leadJSON struct {
	AnnualVolume int     `json:"annual_volume"`
	Scenario     string  `json:"scenario"`
	Cheapest     float64 `json:"cheapest_cost"`
	More         float64 `json:"costs_more"`
}

type crossoverPairJSON struct {
	First   string       `json:"first"`
	Second  string       `json:"second"`
	Cheaper string       `json:"cheaper_at_from"` // empty where they cost the same at every volume
	Equal   bool         `json:"same_throughout,omitempty"`
	Changes []changeJSON `json:"changes"`
	Bands   [][2]int     `json:"within_tolerance"` // first and last volume of each stretch
}

type changeJSON struct {
	AnnualVolume int      `json:"annual_volume"`
	Cheaper      string   `json:"cheaper_from_here"`
	First        moveJSON `json:"first"`
	Second       moveJSON `json:"second"`
}

type moveJSON struct {
	Before float64     `json:"before"`
	After  float64     `json:"from_here"`
	Jumped []causeJSON `json:"jumped"`
}

type causeJSON struct {
	Row      string  `json:"row"`
	Quantity string  `json:"quantity"`
	Before   float64 `json:"before"`
	After    float64 `json:"from_here"`
	Unit     string  `json:"unit"`
	Words    string  `json:"words"`
}

func (r *crossoverReport) json(file string) crossoverJSON {
	out := crossoverJSON{Format: "piececost crossover", Version: 1, File: file, Currency: r.currency, From: r.c.From, To: r.c.To,
		Tolerance: r.ask.Tolerance, ContinuousBatches: r.continuous, Caution: caution}
	for i := range r.plans {
		out.Scenarios = append(out.Scenarios, r.name(i))
	}
	lead := func(l study.Lead) leadJSON { return leadJSON{l.Volume, r.name(l.Second), l.Cost, l.More} }
	for _, s := range r.c.Envelope {
		out.Cheapest = append(out.Cheapest, stretchJSON{r.name(s.Cheapest), s.From, s.To, lead(s.AtFrom), lead(s.AtTo), lead(s.Least), lead(s.Most)})
	}
	for _, p := range r.c.Pairs {
		j := crossoverPairJSON{First: r.name(p.First), Second: r.name(p.Second), Cheaper: r.name(p.Cheaper), Equal: p.Equal, Changes: []changeJSON{}, Bands: [][2]int{}}
		if p.Equal {
			j.Cheaper = ""
		}
		for _, ch := range p.Changes {
			j.Changes = append(j.Changes, changeJSON{ch.Volume, r.name(ch.Cheaper), moveOf(ch.First), moveOf(ch.Second)})
		}
		for _, b := range p.Bands {
			j.Bands = append(j.Bands, [2]int{b.From, b.To})
		}
		out.Pairs = append(out.Pairs, j)
	}
	return out
}

func moveOf(m study.CostMove) moveJSON {
	out := moveJSON{Before: m.Before, After: m.After, Jumped: []causeJSON{}}
	for _, c := range m.Causes {
		out.Jumped = append(out.Jumped, causeOf(c))
	}
	return out
}

func causeOf(c costmodel.Cause) causeJSON {
	return causeJSON{Row: c.Row, Quantity: c.Quantity, Before: c.Before, After: c.After, Unit: c.Unit, Words: c.String()}
}
