package study_test

import (
	"math"
	"strings"
	"testing"

	"piececost/costmodel/study"
)

// TestCompareAddsUp: every cost table adds up to the piece cost, and so do the changes to whatever base.
func TestCompareAddsUp(t *testing.T) {
	plans := read(t, sampleTables(t))
	for _, volume := range []float64{3, 5000, 60000, 300000} {
		for base := range plans {
			c := study.Compare(detailsAt(plans, volume), base)
			if len(c.Costs) != 3 {
				t.Fatalf("%d tables", len(c.Costs))
			}
			for _, table := range c.Costs {
				for i, d := range c.Details {
					sum, change := 0.0, 0.0
					for _, r := range table.Rows {
						if !r.Absent(i) {
							sum += r.Values[i]
						}
						change += r.Change(i, base)
					}
					want := d.Scenario().Must("piece_cost")
					if !near(sum, want) || !near(table.Total.Values[i], want) || !(math.Abs(change-table.Total.Change(i, base)) <= 1e-9*want) {
						t.Errorf("%s of %s at %v: rows add up to %v, changes to %v; piece cost %v", table.By, d.Plan.Scenario.Name, volume, sum, change, want)
					}
				}
			}
		}
	}
}

// TestCompareRows: a row stands in the table if any scenario has it, once, and is absent where a scenario lacks it.
func TestCompareRows(t *testing.T) {
	plans := read(t, sampleTables(t))
	c := study.Compare(detailsAt(plans, 60000), 0)
	for by, scope := range map[string]string{"part": "part", "operation": "operation"} {
		seen := map[string]bool{}
		for _, r := range c.Table(by).Rows {
			if seen[r.Key] {
				t.Errorf("%s stands twice", r.Key)
			}
			seen[r.Key] = true
			for i, d := range c.Details {
				has := false
				for _, l := range d.Entries(scope) {
					has = has || l.Record().Key == r.Key
				}
				if has == r.Absent(i) {
					t.Errorf("%s %s: scenario %d has it %v, the table %v", by, r.Key, i, has, !r.Absent(i))
				}
			}
		}
		for _, d := range c.Details {
			for _, l := range d.Entries("operation") {
				key := l.Record().Key
				if by == "part" {
					key, _, _ = strings.Cut(key, "/")
				}
				if !seen[key] {
					t.Errorf("%s is in no row of the table by %s", key, by)
				}
			}
		}
	}
	if c.Table("colour") != nil {
		t.Error("a table by colour")
	}
}

// TestCompareMeasures: totals of the scenario stand beside the cost, and lines by machine add up to them.
func TestCompareMeasures(t *testing.T) {
	plans := read(t, sampleTables(t))
	c := study.Compare(detailsAt(plans, 60000), 1)
	values := map[string][]float64{}
	for _, r := range c.Measures {
		values[r.Key] = r.Values
	}
	for i, d := range c.Details {
		s := d.Scenario()
		for _, q := range []string{"price", "net_mass", "gross_mass", "tooling_investment", "product_specific_equipment_investment",
			"product_specific_floor_space"} {
			if want, _, _ := s.In(q); values[q] == nil || !near(values[q][i], want) {
				t.Errorf("%s of %d: %v, want %v", q, i, values[q], want)
			}
		}
		sum := 0.0
		for _, r := range c.Lines {
			if !r.Absent(i) {
				sum += r.Values[i]
			}
		}
		if want := values["product_specific_lines"][i] + values["shared_lines"][i]; !near(sum, want) || want <= 0 {
			t.Errorf("lines of %d: %v, want %v", i, sum, want)
		}
		own := 0.0
		for _, m := range d.Entries("machine") {
			if n, ok := m.Value("product_specific_machines"); ok {
				own += n
			}
		}
		if !near(values["product_specific_lines"][i], own) {
			t.Errorf("product-specific lines of %d: %v, want %v", i, values["product_specific_lines"][i], own)
		}
		p, change := c.Mass[i].Parity, c.Mass[i].CostChange
		if p.Holds != (change < 1e-5) || !near(-p.Margin, s.Must("piece_cost")-c.Details[1].Scenario().Must("piece_cost")) {
			t.Errorf("parity of %d: %+v", i, p)
		}
	}
}

// TestCompareParityValue: at the sample's masses a saved kilogram worth 2 EUR pays for B, which is 8.249 kg lighter and
// 9.15 EUR more expensive than A (8.2487 x 2 - 9.1469 = 7.3506 EUR to spare); at 1 EUR it does not.
func TestCompareParityValue(t *testing.T) {
	for value, want := range map[string]float64{"2": 7.3506, "1": -0.8981} {
		plans := read(t, sampleTables(t), [3]string{"case.csv", "Allowable cost of mass saving,EUR/kg,0", "Allowable cost of mass saving,EUR/kg," + value})
		p := study.Compare(detailsAt(plans, 60000), 0).Mass[1].Parity
		if math.Abs(p.Margin-want) > 1e-4 || p.Holds != (want > 0) {
			t.Errorf("at %s EUR/kg: %+v, want %v", value, p, want)
		}
	}
}
