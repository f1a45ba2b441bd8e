package study_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"piececost/costmodel"
	"piececost/costmodel/study"
)

// TestInstalledByHand: X at 80,000 needs 80,000 x 36 s = 800 h, one line and one tool set; at 96,000 it needs 960 h, two of
// each. Annual cost = labour 10 EUR/h x hours + 10,000 EUR per line + 1,000 EUR a tool set.
func TestInstalledByHand(t *testing.T) {
	pooled := read(t, workshop)[0]
	dedicated, err := study.UnderRule(pooled, "dedicated")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		at, volume float64
		annual     float64
		short      string
	}{
		{80000, 80000, 8000 + 10000 + 1000, ""},
		{80000, 64000, 6400 + 10000 + 1000, ""},
		// full to the piece: one more is short
		{80000, 80001, 8000.1 + 10000 + 1000, "M1 needs 1.00 lines, has 1; P/10 needs 1.00 tool sets, has 1"},
		{80000, 96000, 9600 + 10000 + 1000, "M1 needs 1.20 lines, has 1; P/10 needs 1.20 tool sets, has 1"},
		{96000, 96000, 9600 + 20000 + 2000, ""},
		{96000, 76800, 7680 + 20000 + 2000, ""}, // both lines and sets stay, though one would do
		{96000, 115200, 11520 + 20000 + 2000, ""},
	} {
		for _, p := range []*costmodel.Plan{pooled, dedicated} {
			if p == dedicated {
				c.short = strings.Replace(c.short, "M1 needs", "P/10 needs", 1)
			}
			frozen, err := study.Freeze(p.Detail(c.at))
			if err != nil {
				t.Fatal(err)
			}
			got := study.InstalledAt(frozen, c.volume)
			var short []string
			for _, s := range got.Shortages {
				short = append(short, s.String())
			}
			if !near(got.AnnualCost, c.annual) || !near(got.PieceCost, c.annual/c.volume) || strings.Join(short, "; ") != c.short ||
				got.Possible() != (c.short == "") {
				t.Errorf("installed for %v, at %v: %v per year, %v a piece, %q; want %v, %q", c.at, c.volume, got.AnnualCost, got.PieceCost, short, c.annual,
					c.short)
			}
		}
	}
	if v := annual(pooled, 76800); !near(v, 7680+10000+1000) {
		t.Errorf("free to choose, 76,800 per year cost %v", v)
	}
}

// TestInstalledUnchanged: at the very volume, frozen capacity changes no cost and lacks nothing, under every equipment allocation.
func TestInstalledUnchanged(t *testing.T) {
	for _, given := range read(t, sampleTables(t)) {
		for _, rule := range []string{"", "shared", "dedicated", "pooled"} {
			p := given
			if rule != "" {
				var err error
				if p, err = study.UnderRule(given, rule); err != nil {
					t.Fatal(err)
				}
			}
			for _, n := range []float64{1, 5000, 41234, 60000, 300000} {
				d := p.Detail(n)
				frozen, err := study.Freeze(d)
				if err != nil {
					t.Fatal(err)
				}
				f := frozen.Detail(n)
				quantities := []string{"annual_cost", "tooling_investment", "product_specific_equipment_investment", "piece_cost"}
				for _, e := range d.Plan.Model.Schema.Elements {
					quantities = append(quantities, e.PieceName())
				}
				for _, q := range quantities {
					if a, b := d.Scenario().Must(q), f.Scenario().Must(q); !near(a, b) {
						t.Errorf("%s %s at %v: %s %v frozen, %v free", p.Scenario.Name, rule, n, q, b, a)
					}
				}
				for _, s := range append(study.Shortages(d), study.Shortages(f)...) {
					t.Errorf("%s %s at %v: %v", p.Scenario.Name, rule, n, s)
				}
			}
		}
	}
}

// TestInstalledInvestment: with capacity frozen no investment moves with the volume, and more volume never costs less per year.
func TestInstalledInvestment(t *testing.T) {
	for _, p := range read(t, sampleTables(t)) {
		frozen, err := study.Freeze(p.Detail(60000))
		if err != nil {
			t.Fatal(err)
		}
		last := 0.0
		for _, n := range []float64{30000, 48000, 60000, 72000, 200000} {
			s := frozen.Detail(n).Scenario()
			for _, q := range []string{"tooling_investment", "product_specific_equipment_investment", "product_specific_floor_space"} {
				if a, b := s.Must(q), p.Detail(60000).Scenario().Must(q); !near(a, b) {
					t.Errorf("%s: %s is %v at %v, %v installed", p.Scenario.Name, q, a, n, b)
				}
			}
			if v := s.Must("annual_cost"); v <= last {
				t.Errorf("%s: %v per year at %v, %v before", p.Scenario.Name, v, n, last)
			} else {
				last = v
			}
		}
	}
}

// TestWornTools: tools that wear out sooner do not stop the volume.
func TestWornTools(t *testing.T) {
	p := read(t, workshop, [3]string{"operations.csv", "100000000", "350000"})[0] // 5 x 60,000 cycles are less, 5 x 72,000 more
	frozen, err := study.Freeze(p.Detail(60000))
	if err != nil {
		t.Fatal(err)
	}
	got := study.InstalledAt(frozen, 72000)
	if len(got.Shortages) != 1 || got.Shortages[0].Kind != "wear" || !got.Possible() || !near(got.Shortages[0].Needed, 360000.0/350000) {
		t.Errorf("shortages %v, possible %v", got.Shortages, got.Possible())
	}
	if !near(got.AnnualCost, 7200+10000+1000) {
		t.Errorf("annual cost %v", got.AnnualCost)
	}
}

// TestWornByOneCycle: 350,000 cycles are 5 x 70,000; a piece per year more wears the set out before the programme ends.
func TestWornByOneCycle(t *testing.T) {
	p := read(t, workshop, [3]string{"operations.csv", "100000000", "350000"})[0]
	frozen, err := study.Freeze(p.Detail(70000))
	if err != nil {
		t.Fatal(err)
	}
	if got := study.InstalledAt(frozen, 70000).Shortages; len(got) != 0 {
		t.Errorf("at 70,000: %v", got)
	}
	if got := study.InstalledAt(frozen, 70001).Shortages; len(got) != 1 || got[0].Kind != "wear" {
		t.Errorf("at 70,001: %v", got)
	}
}

// TestNextPiece: 36 s at 10 EUR/h are 0.10 EUR; the piece after 80,000 calls for a second line and a second tool set.
func TestNextPiece(t *testing.T) {
	p := read(t, workshop)[0]
	if v := study.NextPiece(p.Detail(60000), p.Detail(60000+1)); math.Abs(v-0.10) > 1e-9 {
		t.Errorf("the piece after 60,000 costs %v", v)
	}
	if v := study.NextPiece(p.Detail(80000), p.Detail(80000+1)); math.Abs(v-11000.10) > 1e-9 {
		t.Errorf("the piece after 80,000 costs %v", v)
	}
	var words []string
	for _, j := range study.Jumps(p.Detail(80000), p.Detail(80001)) {
		words = append(words, fmt.Sprint(j))
	}
	if want := []string{"M1 lines 1 to 2", "M1 crew shifts 1 to 2", "P/10 tool sets 1 to 2", "P/10 batches 80 to 81"}; !slices.Equal(words, want) {
		t.Errorf("what the piece after 80,000 raises: %v, want %v", words, want)
	}
}

// TestNextPiecesAddUp: the marginal costs from N to M add up to the difference of the annual costs, over jumps too.
func TestNextPiecesAddUp(t *testing.T) {
	for _, p := range read(t, sampleTables(t)) {
		for _, r := range [][2]float64{{41900, 42100}, {1, 60}} {
			sum := 0.0
			for n := r[0]; n < r[1]; n++ {
				sum += study.NextPiece(p.Detail(n), p.Detail(n+1))
			}
			if want := annual(p, r[1]) - annual(p, r[0]); math.Abs(sum-want) > 1e-6*want {
				t.Errorf("%s from %v: %v, want %v", p.Scenario.Name, r, sum, want)
			}
		}
	}
}

// TestCapacityByHand: 80,000 pieces of 36 s are 800 h of one worker paid 800 h per year: one line, full; 96,000 two lines at
// 60 % and 1.2 workers.
func TestCapacityByHand(t *testing.T) {
	p := read(t, workshop)[0]
	for _, c := range []struct{ volume, lines, load, people, sets float64 }{{80000, 1, 1, 1, 1}, {96000, 2, 0.6, 1.2, 2}} {
		got := study.CapacityOf(p.Detail(c.volume))
		if got.OwnLines != c.lines || !near(got.Load, c.load) || !near(got.People, c.people) || got.ToolSets != c.sets || got.SharedLines != 0 ||
			len(got.Machines) != 1 {
			t.Errorf("at %v: %+v, want %+v", c.volume, got, c)
		}
	}
	shared := read(t, workshop, [3]string{"machines.csv", "0,1,pooled", "50,1,shared"}, [3]string{"plants.csv", "Shifts",
		"Planned capacity utilisation,%,80\nFloor-space factor,1,1.5\nShifts"})[0]
	got := study.CapacityOf(shared.Detail(80000))
	if got.OwnLines != 0 || !math.IsNaN(got.Load) || !near(got.SharedLines, 1.25) || !near(got.Machines[0].Needed, 1) || !near(got.Floor, 1.25*50*1.5) {
		t.Errorf("shared: %+v", got)
	}
}

// TestPeopleByWholeShifts: whole crew shifts are paid, whatever part of them is worked.
func TestPeopleByWholeShifts(t *testing.T) {
	whole := [3]string{"machines.csv", "Equipment allocation,Rated force [kN]\nM1,fast press,100000,10,0,1,pooled,1000\nM2,slow " +
		"press,60000,10,0,0.8,pooled,500\n",
		"Equipment allocation,Labour allocation\nM1,fast press,100000,10,0,3,pooled,whole shifts\nM2,slow press,60000,10,0,0.8,pooled,hours\n"}
	got := study.CapacityOf(read(t, workshop, whole)[0].Detail(96000))
	if !near(got.People, 6) || got.Machines[0].CrewShifts != 2 { // 960 h: 2 crew shifts of 3 workers
		t.Errorf("%+v", got)
	}
}
