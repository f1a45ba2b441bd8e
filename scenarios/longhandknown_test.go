package scenarios

import (
	"io/fs"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"

	"piececost/templates"
)

// TestLonghandAgainstProgram holds longhand itself against the figures of the independent program for the battery tray
// (testdata/battery-tray), so that it does not rest on one reading of the equations alone.
func TestLonghandAgainstProgram(t *testing.T) {
	a := &txtar.Archive{}
	paths, err := fs.Glob(templates.Files, "samples/battery-tray/*.csv")
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range paths {
		raw, err := fs.ReadFile(templates.Files, path)
		if err != nil {
			t.Fatal(err)
		}
		a.Files = append(a.Files, txtar.File{Name: strings.TrimPrefix(path, "samples/battery-tray/"), Data: raw})
	}
	cases := map[string]*longhand{}
	at := func(design, volume string) (*longhand, float64) {
		n, _ := strconv.ParseFloat(volume, 64)
		key := design + " at " + volume
		if cases[key] == nil {
			cases[key] = reckon(t, a, strings.Index("ABC", design), n)
		}
		return cases[key], n
	}
	seen := 0
	for _, want := range readTable(t, "../testdata/battery-tray/expected_steps.csv") {
		c, n := at(want["design_id"], want["annual_volume_per_a"])
		for _, s := range c.steps() {
			if s.key != want["item_id"]+"/"+want["step_no"] {
				continue
			}
			seen++
			check := func(column string, got float64, decimals int) {
				if !samePrinted(got, want[column], decimals) {
					t.Errorf("%s %v %s %s: %v, want %s", want["design_id"], n, s.key, column, got, want[column])
				}
			}
			check("cycle_time_s", s.of("cycle_time"), 2)
			check("hours_required_per_a", s.of("required_hours"), 2)
			check("machines_charged", s.of("machines_charged"), 4)
			check("tool_sets", s.of("tool_sets"), 0)
			for _, e := range libraryElements() {
				check(strings.Replace(e, "purchased_parts", "purchased", 1)+"_EUR_per_tray", s.of(e)/n, 5)
			}
		}
	}
	if seen != 162 {
		t.Errorf("%d operations compared, want 162", seen)
	}
	for _, want := range readTable(t, "../testdata/battery-tray/expected_summary.csv") {
		c, _ := at(want["design_id"], want["annual_volume_per_a"])
		for column, name := range map[string]string{"cost_EUR_per_tray": "piece_cost", "net_mass_kg": "net_mass", "gross_mass_kg": "gross_mass",
			"tooling_investment_EUR": "tooling_investment", "own_equipment_investment_EUR": "product_specific_equipment_investment"} {
			decimals := map[string]int{"piece_cost": 4, "net_mass": 3, "gross_mass": 3}[name]
			if got := c.scenario.of(name); !samePrinted(got, want[column], decimals) {
				t.Errorf("%s %s %s: %v, want %s", want["design_id"], want["annual_volume_per_a"], column, got, want[column])
			}
		}
	}
}

// TestSecondCaseByHand holds longhand against some figures worked with a desk calculator, each with its way.
func TestSecondCaseByHand(t *testing.T) {
	c := readLongCase(t, "module").expected[0].longhand
	frame := c.parts["FRAME"].steps[0]
	cell := c.machines["CEL in Hill plant"]
	for _, f := range []struct {
		row      *longRow
		quantity string
		want     float64
	}{
		// 230 d x 2 shifts x (8 - 0.5 - 0.3) h
		{c.plants["Hill plant"], "planned_hours", 3312},
		// 250 d x 3 shifts x (7.5 - 0.4 - 0.25) h
		{c.plants["River plant"], "planned_hours", 5137.5},
		// 1.4 x 1400 EUR/m2 x A/P(8.5 %, 25 yr); 1.085^25 = 7.6867621, A/P = 0.085 x 7.6867621/6.6867621 = 0.0977117
		{c.plants["Hill plant"], "floor_space_cost", 191.514898},
		// the plant's own 11 %: 1.6 x 1100 EUR/m2 x A/P(11 %, 20 yr) = 1760 x 0.1255756
		{c.plants["River plant"], "floor_space_cost", 221.013121},
		// 8.5 %/yr x 34 d / 365 d/yr
		{c.plants["Hill plant"], "working_capital_share", 0.00791780822},
		// 390,000 x 1.14
		{cell.longRow, "installed_price", 444600},
		// (444,600 - 15,000) x A/P(8.5 %, 8 yr) + 15,000 x 8.5 %; A/P = 0.17733065, so 76,181.249 + 1,275
		{cell.longRow, "annual_capital", 77456.2487},
		// (55 kW x 40 % x (1 - 11 %) + 6 kW x 11 %) x 0.14 EUR/kWh
		{cell.longRow, "rate_energy", 2.8336},
		// half of the hours are in the second shift, at 12 % more; in three shifts a third at 9 % and a third at 25 % more
		{c.plants["Hill plant"], "mean_labour_rate", 36.04},
		{c.plants["River plant"], "mean_labour_rate", 23.38},
		// 1.5 workers x 36.04 EUR/h x 8 h paid / 7.2 h busy
		{cell.longRow, "rate_labour", 60.0666667},
		// pi x (70 - 2.2) mm x 2.2 mm x 1,290 mm x 7,850 kg/m3
		{c.parts["BEAM"].longRow, "blank_mass", 4.745277497},
		// 84 mm x 130 mm x 2 mm x 7,850 kg/m3 / 2 in a pitch
		{c.parts["BRKT"].longRow, "gross_mass", 0.0857220},
		// 2 x 0.36914625 kg + 0.42201600 kg, untrimmed sub-blanks
		{c.parts["PAN"].longRow, "blank_mass", 1.1603085},
		// 1.1 % x (1 - 40 % x 75 %)
		{frame.longRow, "reject_rate", 0.77},
		// 13 s + 38 x (0.25 + 0.2 x 1.2 x 1.2 + 0.15 + 1.2 + 8 / 150) s / (2 guns x 0.88)
		{frame.longRow, "cycle_time", 54.9151515},
		// 52,400 pieces through 0.9, 0.6, 0.8, 0.8 (of the machine) and 1.2 % less what rework saves: 52,400/(1 - 0.522 %) = 52,674.963;
		// rework saves all but a fifth of 0.6 %: /0.9988 = 52,738.248, in 88.04, so 89 batches of 600 of which one piece is lost:
		// 52,827.248; /0.992 = 53,253.274; /0.992 = 53,682.736; 1.2 % x (1 - 55 % x 90 %) = 0.606 %: /0.99394
		{c.parts["MOD"].steps[0].longRow, "produced_quantity", 54010.037},
	} {
		if got := f.row.of(f.quantity); math.Abs(got-f.want) > 1e-7*f.want {
			t.Errorf("%s %s: %v, by hand %v", f.row.key, f.quantity, got, f.want)
		}
	}
}
