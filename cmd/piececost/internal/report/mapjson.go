package report

import (
	"piececost/costmodel"
	"piececost/scenarios/costing/wire"
)

func axisOfInput(m *costmodel.Model, v *costmodel.Varied, values []float64) wire.Axis {
	return wire.Axis{Input: v.Input.String(), Unit: unitOf(m, v), Values: values}
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
func (r *mapReport) JSON() wire.Map {
	out := wire.Map{Answer: wire.Begin[wire.Map](), File: r.model.Case.File, Currency: r.model.Schema.Units.ModelCurrency(),
		X: axisOfInput(r.model, &r.X, r.xs), Y: axisOfInput(r.model, &r.Y, r.ys), Margin: finiteRows(r.Margin), Caution: wire.Caution}
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
		out.Costs = append(out.Costs, wire.MapCosts{Scenario: sc.Name, Costs: finiteRows(r.Costs[s])})
	}
	return out
}
