package scenarios

import (
	"math"
	"testing"
)

// TestVolumeSheet holds the rows against details of the scenarios at each volume.
func TestVolumeSheet(t *testing.T) {
	r, f := studied(t)
	rows := rawRows(t, f, volumeSheet)
	for _, d := range r.Details {
		name := d.Plan.Scenario.Name
		var own [][]string
		for i, row := range rows {
			if len(row) > 0 && row[0] == "Scenario "+name {
				own = rows[i:]
			}
		}
		takes := rowsBelow(t, own, "Annual volume [1/yr]|Own lines|")
		costs := rowsBelow(t, own, "Annual volume [1/yr]|Piece cost [EUR]|")
		if len(takes) != len(r.Sweeps[0].Volumes) {
			t.Fatalf("%s: %d rows", name, len(takes))
		}
		for i, v := range r.Sweeps[0].Volumes {
			s, next := d.Plan.Detail(v).Scenario(), d.Plan.Detail(v+1).Scenario()
			for _, c := range []struct {
				what, cell string
				want       float64
			}{
				{"volume", takes[i][0], v}, {"equipment", takes[i][7], s.Must("own_equipment_investment")}, {"tooling", takes[i][8], s.Must("tooling_investment")},
				{"annual cost", takes[i][9], s.Must("annual_cost")}, {"piece cost", costs[i][1], s.Must("piece_cost")},
				{"next piece", costs[i][2], next.Must("annual_cost") - s.Must("annual_cost")},
			} {
				if got := number(t, c.cell); !(math.Abs(got-c.want) <= 1e-9*math.Abs(c.want)) {
					t.Errorf("%s at %v: %s %v, want %v", name, v, c.what, got, c.want)
				}
			}
			if shifts := number(t, costs[i][7]); shifts != 3 {
				t.Errorf("%s at %v: cheapest with %v shifts", name, v, shifts)
			}
		}
	}
}
