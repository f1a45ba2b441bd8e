package report

import (
	"cmp"
	"slices"

	"piececost/costmodel"
	"piececost/costmodel/study"
)

type sweepJSON struct {
	Format   string           `json:"format"`
	Version  int              `json:"version"`
	File     string           `json:"file"`
	Currency string           `json:"currency"`
	Points   []sweepPointJSON `json:"points"`
	Caution  string           `json:"caution"`
}

type sweepPointJSON struct {
	Scenario     string             `json:"scenario"`
	AnnualVolume float64            `json:"annual_volume"`
	PieceCost    float64            `json:"piece_cost"`
	Elements     map[string]float64 `json:"elements"`
	Cheapest     bool               `json:"cheapest"`
}

// SweepJSON is a point for each volume and scenario, by volume.
func SweepJSON(m *costmodel.Model, sweeps []*costmodel.Sweep) sweepJSON {
	out := sweepJSON{Format: "piececost sweep", Version: 1, File: m.Case.File, Currency: m.Schema.Units.ModelCurrency(), Caution: Caution}
	best := study.Cheapest(sweeps)
	for n, s := range sweeps {
		for i, v := range s.Volumes {
			p := sweepPointJSON{Scenario: s.Scenario.Name, AnnualVolume: v, PieceCost: s.Columns[0][i], Elements: map[string]float64{}, Cheapest: best[i] == n}
			for e, element := range m.Schema.Elements {
				p.Elements[element.Name] = s.Columns[1+e][i]
			}
			out.Points = append(out.Points, p)
		}
	}
	slices.SortStableFunc(out.Points, func(a, b sweepPointJSON) int { return cmp.Compare(a.AnnualVolume, b.AnnualVolume) })
	return out
}
