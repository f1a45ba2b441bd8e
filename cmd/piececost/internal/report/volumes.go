package report

import (
	"fmt"
	"io"
	"math"

	"piececost/costmodel/study"
)

// Volumes is the views to be printed.
type Volumes struct {
	File, Currency string
	Share          float64 // percent
	Views          []*study.VolumeView
}

// CSV prints a line for each scenario and volume.
func (v *Volumes) CSV(w io.Writer) {
	head := []string{"scenario", "annual_volume", "product_specific_lines", "shared_lines", "capacity_utilisation", "people", "tool_sets", "floor_space_m2",
		"product_specific_equipment_investment", "tooling_investment", "annual_cost", "piece_cost", "marginal_cost",
		"volume_less", "piece_cost_less", "volume_more", "piece_cost_more", "more_possible"}
	for _, o := range v.Views[0].Points[0].Shifts {
		head = append(head, fmt.Sprintf("piece_cost_%g_shifts", o.Shifts))
	}
	t := newCSV(w, append(head, "cheapest_shifts")...)
	defer t.flush()
	for _, view := range v.Views {
		for _, p := range view.Points {
			c := p.Capacity
			cells := []any{view.Scenario}
			for _, x := range []float64{p.Volume, c.OwnLines, c.SharedLines, c.Load, c.People, c.ToolSets, c.Floor, p.Own, p.Tooling, p.Annual, p.Cost, p.Next,
				p.Less.Volume, p.Less.PieceCost, p.More.Volume, p.More.PieceCost} {
				cells = append(cells, x)
			}
			cells = append(cells, yesNo(p.More.Possible()))
			for _, o := range p.Shifts {
				cost := math.NaN()
				if o.Possible {
					cost = o.PieceCost
				}
				cells = append(cells, cost)
			}
			cheapest := math.NaN()
			if p.Cheapest >= 0 {
				cheapest = p.Shifts[p.Cheapest].Shifts
			}
			t.row(append(cells, cheapest)...)
		}
	}
}
