package report

import (
	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/costmodel/table"
	"piececost/scenarios/costing/wire"
)

// JSON is the combinations that are listed.
func (r *Combinations) JSON() wire.Combine {
	out := wire.Combine{Answer: wire.Begin[wire.Combine](), File: r.Model.Case.File, Currency: r.currency(), Volume: r.Volume, Targets: r.Targets,
		Caution: wire.Caution}
	if r.MaxMass > 0 {
		out.MaxMass = &r.MaxMass
	}
	for i := range r.Scenarios {
		s := &r.Scenarios[i]
		j := wire.CombineScenario{Scenario: s.Plan.Scenario.Name, Alternatives: append([]string{}, s.Combiner.Tags()...), PieceCost: s.Cost, NetMass: s.Mass,
			SameRows: append([][]string{}, s.Combiner.SameRows()...), Valid: s.Valid, Repeated: s.Repeated, TooHeavy: s.TooHeavy, Missing: s.Missing,
			NoCost: s.NoCost,
			Best:   []wire.Combination{}, Joins: []wire.JoinOptions{}, LeftOut: []wire.LeftOut{}}
		for _, l := range r.leftOut(s) {
			j.LeftOut = append(j.LeftOut, wire.LeftOut{Row: l.Row, Alternatives: append([]string{}, l.Tags...),
				Finding: FindingsJSON(table.Diagnostics{l.Finding})[0]})
		}
		for _, o := range s.Combiner.JoinOptions() {
			j.Joins = append(j.Joins, joinsJSON(&o))
		}
		for k := range s.Best {
			b := &s.Best[k]
			j.Best = append(j.Best, wire.Combination{Alternatives: append([]string{}, b.Tags...), PieceCost: b.Cost, NetMass: b.Mass, Missed: missedNames(b)})
		}
		out.Scenarios = append(out.Scenarios, j)
	}
	return out
}

func joinsJSON(o *costmodel.JoinOptions) wire.JoinOptions {
	out := wire.JoinOptions{Parent: o.Parent, One: o.One, Words: study.JoinWords(o)}
	for _, x := range o.Options {
		j := wire.JoinOption{Alternatives: append([]string{}, x.Tags...)}
		for _, l := range x.Links {
			j.Links = append(j.Links, wire.Link{Child: l.Text("child"), Step: l.Text("joined_at_operation")})
		}
		out.Options = append(out.Options, j)
	}
	return out
}
