package report

import (
	"fmt"
	"io"
	"math"
	"strings"

	"piececost/costmodel/study"
)

// volumesReport is the views to be printed.
type Volumes struct {
	File, Currency string
	Share          float64 // percent
	Views          []*study.VolumeView
}

// csv prints a line for each scenario and volume.
func (v *Volumes) CSV(w io.Writer) {
	head := []string{"scenario", "annual_volume", "own_lines", "shared_lines", "own_load", "people", "tool_sets", "floor_area_m2", "equipment_investment", "tooling_investment", "annual_cost", "piece_cost", "next_piece",
		"volume_less", "piece_cost_less", "volume_more", "piece_cost_more", "more_possible"}
	for _, o := range v.Views[0].Points[0].Shifts {
		head = append(head, fmt.Sprintf("piece_cost_%g_shifts", o.Shifts))
	}
	fmt.Fprintln(w, strings.Join(append(head, "cheapest_shifts"), ","))
	for _, view := range v.Views {
		for _, p := range view.Points {
			c := p.Capacity
			cells := []string{csvText(view.Scenario)}
			for _, x := range []float64{p.Volume, c.OwnLines, c.SharedLines, c.Load, c.People, c.ToolSets, c.Floor, p.Own, p.Tooling, p.Annual, p.Cost, p.Next, p.Less.Volume, p.Less.PieceCost, p.More.Volume, p.More.PieceCost} {
				cells = append(cells, csvNumber(x))
			}
			cells = append(cells, yesNo(p.More.Possible()))
			for _, o := range p.Shifts {
				cost := math.NaN()
				if o.Possible {
					cost = o.PieceCost
				}
				cells = append(cells, csvNumber(cost))
			}
			cheapest := math.NaN()
			if p.Cheapest >= 0 {
				cheapest = p.Shifts[p.Cheapest].Shifts
			}
			fmt.Fprintln(w, strings.Join(append(cells, csvNumber(cheapest)), ","))
		}
	}
}
