package report

import (
	"piececost/costmodel"
)

type mapJSON struct {
	Format   string         `json:"format"`
	Version  int            `json:"version"`
	File     string         `json:"file"`
	Currency string         `json:"currency"`
	X        axisJSON       `json:"x"`
	Y        axisJSON       `json:"y"`
	Volume   *float64       `json:"annual_volume,omitempty"`
	Cheapest [][]string     `json:"cheapest"` // by y, then x; empty where nothing can be costed
	Margin   [][]*float64   `json:"margin"`
	Costs    []mapCostsJSON `json:"costs"`
	Caution  string         `json:"caution"`
}

type axisJSON struct {
	Input  string    `json:"input"`
	Unit   string    `json:"unit,omitempty"`
	Values []float64 `json:"values"`
}

type mapCostsJSON struct {
	Scenario string       `json:"scenario"`
	Costs    [][]*float64 `json:"costs"`
}

func axisOfInput(m *costmodel.Model, v *costmodel.Varied, values []float64) axisJSON {
	return axisJSON{Input: v.Input.String(), Unit: unitOf(m, v), Values: values}
}

func finiteRows(rows [][]float64) [][]*float64 {
	out := make([][]*float64, len(rows))
	for j, row := range rows {
		for _, v := range row {
			out[j] = append(out[j], finite(v))
		}
	}
	return out
}

// JSON is the map with the cost of every scenario.
func (r *mapReport) JSON() mapJSON {
	out := mapJSON{Format: "piececost map", Version: 1, File: r.model.Case.File, Currency: r.model.Schema.Units.ModelCurrency(),
		X: axisOfInput(r.model, &r.X, r.xs), Y: axisOfInput(r.model, &r.Y, r.ys), Margin: finiteRows(r.Margin), Caution: Caution}
	if r.volume > 0 {
		out.Volume = &r.volume
	}
	for j := range r.ys {
		row := make([]string, len(r.xs))
		for i := range r.xs {
			row[i] = r.cheapestName(j, i)
		}
		out.Cheapest = append(out.Cheapest, row)
	}
	for s, sc := range r.Scenarios {
		out.Costs = append(out.Costs, mapCostsJSON{sc.Name, finiteRows(r.Costs[s])})
	}
	return out
}
