package scenarios

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel/study"
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
		takes := rowsBelow(t, own, "Annual volume [1/yr]|Product-specific lines|")
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
				{"volume", takes[i][0], v}, {"equipment", takes[i][7], s.Must("product_specific_equipment_investment")},
				{"tooling", takes[i][8], s.Must("tooling_investment")},
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

// TestMachineLoads holds every machine's row against the details at each volume: load with the product-specific lines in the format, lines
// charged, crew shifts; and the busiest product-specific machine is bold.
func TestMachineLoads(t *testing.T) {
	r, f := studied(t)
	rows := rawRows(t, f, volumeSheet)
	for _, d := range r.Details {
		start := 0
		for i, row := range rows {
			if len(row) > 0 && row[0] == "Scenario "+d.Plan.Scenario.Name {
				start = i
			}
		}
		for n, v := range r.Sweeps[0].Volumes {
			c := study.CapacityOf(d.Plan.Detail(v))
			busiest, _ := c.Busiest()
			if got := rows[start+2+n][10]; got != fmt.Sprintf("%s %.1f%%", busiest.Key, 100*busiest.Load) {
				t.Errorf("at %v the busiest is %s, want %+v", v, got, busiest)
			}
			for _, u := range c.Machines {
				for title, want := range map[string]float64{"Capacity utilisation by machine": map[bool]float64{true: u.Load}[u.Own > 0],
					"Shared machines": u.Shared,
					"Pools: crew":     u.CrewShifts} {
					row := machineRow(rows, start, title, u.Key)
					if want == 0 {
						if row >= 0 && rows[row][1+n] != "" {
							t.Errorf("%s %s at %v: %s where there is none", title, u.Key, v, rows[row][1+n])
						}
						continue
					}
					if got := number(t, rows[row][1+n]); !near(got, want) {
						t.Errorf("%s %s at %v: %v, want %v", title, u.Key, v, got, want)
					}
					if title == "Capacity utilisation by machine" {
						holdLoad(t, f, n, row, u, u.Key == busiest.Key)
					}
				}
			}
		}
	}
}

// holdLoad looks at how a load shows.
func holdLoad(t *testing.T, f *excelize.File, volume, row int, u study.MachineUse, busiest bool) {
	t.Helper()
	at, err := excelize.CoordinatesToCellName(2+volume, row+1)
	if err != nil {
		t.Fatal(err)
	}
	shown, err := f.GetCellValue(volumeSheet, at)
	if want := fmt.Sprintf("%.1f%% (%.0f)", 100*u.Load, u.Own); err != nil || shown != want {
		t.Errorf("%s shows %q, %v; want %q", at, shown, err, want)
	}
	id, err := f.GetCellStyle(volumeSheet, at)
	if err != nil {
		t.Fatal(err)
	}
	st, err := f.GetStyle(id)
	if err != nil || st.Font.Bold != busiest || (len(st.Fill.Color) > 0) != busiest {
		t.Errorf("%s is bold: %v, on a ground: %v, the busiest: %v, %v", at, st.Font.Bold, st.Fill.Color, busiest, err)
	}
}

// machineRow finds a machine's row below a title, -1 where it has none.
func machineRow(rows [][]string, start int, title, key string) int {
	for i := start; i < len(rows); i++ {
		if len(rows[i]) == 0 || !strings.HasPrefix(rows[i][0], title) {
			continue
		}
		for k := i + 1; k < len(rows) && len(rows[k]) > 0; k++ {
			if rows[k][0] == key || strings.HasPrefix(rows[k][0], key+" ") {
				return k
			}
			if strings.Contains(rows[k][0], ":") {
				break
			}
		}
		return -1
	}
	return -1
}
