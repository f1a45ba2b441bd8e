package report

import "piececost/scenarios/costing/wire"

// JSON is what was found for every input.
func (s *Solve) JSON() wire.Solve {
	q := s.Measure
	out := wire.Solve{Answer: wire.Begin[wire.Solve](), File: s.model().Case.File, Currency: s.currency(), Wanted: s.wanted(), Scenario: q.Scenario.Name,
		Target: s.Target, BaseValue: s.BaseValue, Inputs: []wire.Solution{}, NotTried: s.Dropped, PaidValue: q.PayMass, Caution: wire.Caution}
	if q.Against != nil {
		out.Against = q.Against.Name
	}
	if q.Volume > 0 {
		out.Volume = &q.Volume
	}
	for i := range s.Solutions {
		x := &s.Solutions[i]
		j := wire.Solution{Input: x.Input.Input.String(), Unit: unitOf(s.model(), &x.Input), BaseValue: finite(x.Input.Shown(x.Input.BaseValue)),
			From: x.Input.Shown(x.From), To: x.Input.Shown(x.To),
			Range: string(x.Range), MovesNothing: x.Idle, Values: []wire.Root{}}
		if len(x.Roots) == 0 && !x.Idle {
			j.Nearest, j.Miss = finite(x.Input.Shown(x.Nearest)), finite(x.Miss)
		}
		for _, root := range x.Roots {
			r := wire.Root{Found: kindOf(root), Value: x.Input.Shown(root.Value), Distance: finite(root.Nearest(x.Input.BaseValue)/x.Input.BaseValue - 1)}
			switch {
			case root.Jump:
				r.Below, r.Above = finite(root.Below), finite(root.Above)
			case root.Until > root.Value:
				r.Until = finite(x.Input.Shown(root.Until))
			}
			j.Values = append(j.Values, r)
		}
		out.Inputs = append(out.Inputs, j)
	}
	return out
}
