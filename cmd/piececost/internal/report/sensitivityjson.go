package report

import (
	"fmt"

	"piececost/cmd/piececost/internal/term"
)

type sensitivityJSON struct {
	Format       string           `json:"format"`
	Version      int              `json:"version"`
	File         string           `json:"file"`
	Currency     string           `json:"currency"`
	Scenario     string           `json:"scenario"`
	Against      string           `json:"against,omitempty"`
	Volume       *float64         `json:"annual_volume,omitempty"`
	Today        float64          `json:"base_value"`
	Ranges       string           `json:"ranges,omitempty"`
	Bars         []barJSON        `json:"bars,omitempty"`
	Elasticities []elasticityJSON `json:"elasticities,omitempty"`
	NotVaried    []string         `json:"not_varied,omitempty"`
	Caution      string           `json:"caution"`
}

type barJSON struct {
	Input    string     `json:"input"`
	Unit     string     `json:"unit,omitempty"`
	MovedBy  string     `json:"moved_by,omitempty"` // factor, difference; empty where the values are the input's own
	Today    *float64   `json:"base_value,omitempty"`
	Values   []float64  `json:"values"`
	Results  []*float64 `json:"results"` // null where a value can't be
	Swing    float64    `json:"swing"`
	Monotone bool       `json:"monotonic"`
}

type elasticityJSON struct {
	Input      string   `json:"input"`
	Unit       string   `json:"unit,omitempty"`
	Today      float64  `json:"base_value"`
	Elasticity *float64 `json:"elasticity,omitempty"`
	PerPercent float64  `json:"per_percent"`
	Wide       float64  `json:"per_percent_over_five"`
	Uneven     bool     `json:"uneven"`
	OneSided   bool     `json:"one_sided"`
}

func (s *Sensitivity) json() sensitivityJSON {
	q := s.Measure
	out := sensitivityJSON{Format: "piececost sensitivity", Version: 1, File: s.model().Case.File, Currency: s.currency(), Scenario: q.Scenario.Name,
		Today: s.Response.Today(), NotVaried: s.Response.Dropped, Caution: Caution}
	if q.Against != nil {
		out.Against = q.Against.Name
	}
	if q.Volume > 0 {
		out.Volume = &q.Volume
	}
	return out
}

// TornadoJSON is the inputs that are listed with their swings.
func (s *Sensitivity) TornadoJSON() sensitivityJSON {
	out := s.json()
	out.Ranges = fmt.Sprintf("plus and minus %s %%", term.Figure(s.Share*100))
	if s.Stated {
		out.Ranges = "sheet Uncertainty"
	}
	for i := range s.Bars[:s.limit(len(s.Bars))] {
		b := &s.Bars[i]
		j := barJSON{Input: b.Input.Input.String(), Unit: unitOf(s.model(), &b.Input), MovedBy: string(b.Input.Input.By),
			Today: finite(b.Input.Shown(b.Input.Today)), Swing: b.Swing, Monotone: !b.Turns}
		for k, v := range b.Values {
			j.Values = append(j.Values, b.Input.Shown(v))
			j.Results = append(j.Results, finite(b.Results[k]))
		}
		out.Bars = append(out.Bars, j)
	}
	return out
}

// ElasticityJSON is the inputs that are listed with what a percent of each is worth.
func (s *Sensitivity) ElasticityJSON() sensitivityJSON {
	out := s.json()
	for i := range s.Elasticities[:s.limit(len(s.Elasticities))] {
		e := &s.Elasticities[i]
		out.Elasticities = append(out.Elasticities, elasticityJSON{Input: e.Input.Input.String(), Unit: unitOf(s.model(), &e.Input),
			Today: e.Input.Shown(e.Input.Today), Elasticity: finite(e.Value), PerPercent: e.PerPercent, Wide: e.Wide, Uneven: e.Uneven, OneSided: e.OneSided})
	}
	return out
}
