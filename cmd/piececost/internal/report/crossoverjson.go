package report

import (
	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/scenarios/costing/wire"
)

// JSON is the cross-overs of the workbook of that name.
func (r *Crossover) JSON(file string) wire.Crossover {
	out := wire.Crossover{Answer: wire.Begin[wire.Crossover](), File: file, Currency: r.Currency, From: r.Found.From, To: r.Found.To,
		Tolerance: r.Ask.Tolerance, ContinuousBatches: r.Continuous, Caution: wire.Caution}
	for i := range r.Plans {
		out.Scenarios = append(out.Scenarios, r.name(i))
	}
	lead := func(l study.Lead) wire.Lead {
		return wire.Lead{AnnualVolume: l.Volume, Scenario: r.name(l.Second), Cheapest: l.Cost, More: l.More}
	}
	for _, s := range r.Found.Envelope {
		out.Cheapest = append(out.Cheapest, wire.Stretch{Scenario: r.name(s.Cheapest), From: s.From, To: s.To,
			AtFrom: lead(s.AtFrom), AtTo: lead(s.AtTo), Least: lead(s.Least), Most: lead(s.Most)})
	}
	for _, p := range r.Found.Pairs {
		j := wire.CrossoverPair{First: r.name(p.First), Second: r.name(p.Second), Cheaper: r.name(p.Cheaper), Equal: p.Equal, Changes: []wire.Change{},
			Bands: [][2]int{}}
		if p.Equal {
			j.Cheaper = ""
		}
		for _, ch := range p.Changes {
			j.Changes = append(j.Changes, wire.Change{AnnualVolume: ch.Volume, Cheaper: r.name(ch.Cheaper), First: moveOf(ch.First), Second: moveOf(ch.Second)})
		}
		for _, b := range p.Bands {
			j.Bands = append(j.Bands, [2]int{b.From, b.To})
		}
		out.Pairs = append(out.Pairs, j)
	}
	return out
}

func moveOf(m study.CostMove) wire.Move {
	out := wire.Move{Before: m.Before, After: m.After, Jumped: []wire.Cause{}}
	for _, c := range m.Causes {
		out.Jumped = append(out.Jumped, causeOf(c))
	}
	return out
}

func causeOf(c costmodel.Cause) wire.Cause {
	return wire.Cause{Row: c.Row, Quantity: c.Quantity, Before: c.Before, After: c.After, Unit: c.Unit, Words: c.String()}
}
