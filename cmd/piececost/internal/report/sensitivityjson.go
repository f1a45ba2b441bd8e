package report

import (
	"fmt"
	"piececost/scenarios/costing/wire"

	"piececost/cmd/piececost/internal/term"
)

func (s *Sensitivity) json() wire.Sensitivity {
	q := s.Measure
	out := wire.Sensitivity{Answer: wire.Begin[wire.Sensitivity](), File: s.model().Case.File, Currency: s.currency(), Scenario: q.Scenario.Name,
		BaseValue: s.Response.BaseValue(), NotVaried: s.Response.Dropped, Caution: wire.Caution}
	if q.Against != nil {
		out.Against = q.Against.Name
	}
	if q.Volume > 0 {
		out.Volume = &q.Volume
	}
	return out
}

// TornadoJSON is the inputs that are listed with their swings.
func (s *Sensitivity) TornadoJSON() wire.Sensitivity {
	out := s.json()
	out.Ranges = fmt.Sprintf("plus and minus %s %%", term.Figure(s.Share*100))
	if s.Stated {
		out.Ranges = "sheet Uncertainty"
	}
	for i := range s.Bars[:s.limit(len(s.Bars))] {
		b := &s.Bars[i]
		j := wire.Bar{Input: b.Input.Input.String(), Unit: unitOf(s.model(), &b.Input), MovedBy: string(b.Input.Input.By),
			BaseValue: finite(b.Input.Shown(b.Input.BaseValue)), Swing: b.Swing, Monotone: !b.Turns}
		for k, v := range b.Values {
			j.Values = append(j.Values, b.Input.Shown(v))
			j.Results = append(j.Results, finite(b.Results[k]))
		}
		out.Bars = append(out.Bars, j)
	}
	return out
}

// ElasticityJSON is the inputs that are listed with what a percent of each is worth.
func (s *Sensitivity) ElasticityJSON() wire.Sensitivity {
	out := s.json()
	for i := range s.Elasticities[:s.limit(len(s.Elasticities))] {
		e := &s.Elasticities[i]
		out.Elasticities = append(out.Elasticities, wire.Elasticity{Input: e.Input.Input.String(), Unit: unitOf(s.model(), &e.Input),
			BaseValue: e.Input.Shown(e.Input.BaseValue), Elasticity: finite(e.Value), PerPercent: e.PerPercent, Wide: e.Wide, Uneven: e.Uneven,
			OneSided: e.OneSided})
	}
	return out
}
