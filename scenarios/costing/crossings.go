package costing

import (
	"context"
	"errors"

	"piececost/costmodel/study"
)

// A Range is a stretch of whole annual volumes, both ends included; the zero value is that of the command crossover: a tenth
// of the smallest to three times the largest volume of the scenarios, and as far as the sheet Volumes does.
type Range struct{ From, To int }

// Crossovers say which scenario is cheaper at which annual volume, to one piece.
type Crossovers struct {
	Range
	Cheapest []Stretch // by volume, which is the cheapest of all
	Pairs    []Pair    // every two scenarios, in the order of the sheet
}

// A Stretch is where a scenario is the cheapest.
type Stretch struct {
	Scenario string
	Range
}

// A Pair is the order of two scenarios over annual volume. Where they cost the same, the one that was cheaper at the volume
// before still counts as the cheaper one, at the first volume the first of the sheet.
type Pair struct {
	First, Second string
	Cheaper       string // at the first volume; empty where they cost the same at every volume
	Changes       []Change
}

// A Change is a volume from which another scenario of a pair is the cheaper one.
type Change struct {
	Volume        int // first volume of the new order
	Cheaper       string
	First, Second Move
}

// A Move is what a piece cost does from the volume before to that of a change, model currency.
type Move struct {
	Before, After float64
	Jumped        []string // what jumped there, in words; empty where the cost slides along its curve
}

// Crossovers compares all scenarios at every whole annual volume of a range. The error is a Diagnostic where a volume gives
// no number, or that of ctx.
func (r *Result) Crossovers(ctx context.Context, over Range) (*Crossovers, error) {
	if len(r.plans) < 2 {
		return nil, errors.New("a cross-over needs two scenarios")
	}
	if over == (Range{}) {
		over.From, over.To = study.VolumeSpan(r.model, r.plans)
	}
	told, end := r.workbook.options.Progress.begin("cross-overs")
	defer end()
	found, err := study.Crossovers(ctx, r.plans, study.CrossoverAsk{From: over.From, To: over.To, Progress: told})
	if err != nil {
		return nil, err
	}
	out := &Crossovers{Range: over}
	for _, s := range found.Envelope {
		out.Cheapest = append(out.Cheapest, Stretch{r.name(s.Cheapest), Range{s.From, s.To}})
	}
	for i := range found.Pairs {
		out.Pairs = append(out.Pairs, r.pair(&found.Pairs[i]))
	}
	return out, nil
}

func (r *Result) name(i int) string { return r.plans[i].Scenario.Name }

func (r *Result) pair(p *study.CrossoverPair) Pair {
	out := Pair{First: r.name(p.First), Second: r.name(p.Second), Cheaper: r.name(p.Cheaper)}
	if p.Equal {
		out.Cheaper = ""
	}
	for _, c := range p.Changes {
		out.Changes = append(out.Changes, Change{c.Volume, r.name(c.Cheaper), moveOf(c.First), moveOf(c.Second)})
	}
	return out
}

func moveOf(m study.CostMove) Move {
	out := Move{Before: m.Before, After: m.After}
	for _, c := range m.Causes {
		out.Jumped = append(out.Jumped, c.String())
	}
	return out
}
