package report

import (
	"cmp"
	"slices"

	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/scenarios/costing/wire"
)

// SweepJSON is a point for each volume and scenario, by volume.
func SweepJSON(m *costmodel.Model, sweeps []*costmodel.Sweep, chosen []*costmodel.ChosenSweep) wire.Sweep {
	out := wire.Sweep{Answer: wire.Begin[wire.Sweep](), File: m.Case.File, Currency: m.Schema.Units.ModelCurrency(), Caution: wire.Caution}
	best := study.Cheapest(sweeps)
	for n, s := range sweeps {
		for i, v := range s.Volumes {
			p := wire.SweepPoint{Scenario: s.Scenario.Name, AnnualVolume: v, PieceCost: s.Columns[0][i], Elements: map[string]float64{}, Cheapest: best[i] == n}
			for e, element := range m.Schema.Elements {
				p.Elements[element.Name] = s.Columns[1+e][i]
			}
			if chosen != nil {
				p.Machines = map[string]string{}
				for _, c := range chosen[n].Machines[i] {
					p.Machines[c.Operation.Key] = c.Machine.Key
				}
			}
			out.Points = append(out.Points, p)
		}
	}
	slices.SortStableFunc(out.Points, func(a, b wire.SweepPoint) int { return cmp.Compare(a.AnnualVolume, b.AnnualVolume) })
	return out
}
