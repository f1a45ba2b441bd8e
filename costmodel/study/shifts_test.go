package study_test

import (
	"strings"
	"testing"

	"piececost/costmodel"
	"piececost/costmodel/study"
)

// TestShiftsByHand: at 96,000 per year X needs 960 h: two lines and sets in one shift (800 h), one of each in two (1,600 h).
func TestShiftsByHand(t *testing.T) {
	type want struct{ annual, lines float64 }
	oneShift, twoShifts := want{9600 + 20000 + 2000, 2}, want{9600 + 10000 + 1000, 1}
	for _, c := range []struct {
		name     string
		change   [3]string
		want     []want
		cheapest int
	}{
		{"no premium", [3]string{"plants.csv", "EUR/h,10", "EUR/h,10"}, []want{oneShift, twoShifts}, 1},
		{"premium", [3]string{"plants.csv", "EUR/h,10", "EUR/h,shifts > 1 ? 25 : 10"}, []want{oneShift, {24000 + 10000 + 1000, 1}}, 0},
		{"equal but for rounding", [3]string{"plants.csv", "EUR/h,10", "EUR/h,shifts > 1 ? 10 + 11000 / 960 - 0.0000000001 : 10"},
			[]want{oneShift, {31600, 1}}, 0},
	} {
		plans, err := study.CompileShifts(read(t, workshop, c.change)[0], []float64{1, 2, 4})
		if err != nil {
			t.Fatal(err)
		}
		options, cheapest := plans.At(96000)
		if cheapest != c.cheapest {
			t.Errorf("%s: cheapest is %d", c.name, cheapest)
		}
		for i, w := range c.want {
			if o := options[i]; !near(o.PieceCost, w.annual/96000) || o.OwnLines != w.lines || !near(o.Investment, w.lines*105000) || !o.Possible ||
				o.Given != (i == 0) {
				t.Errorf("%s: %+v, want %+v", c.name, o, w)
			}
		}
		if o := options[2]; o.Possible || len(o.Reasons) != 1 || o.Reasons[0] != "4 shifts of 8 h are more than a day" {
			t.Errorf("%s: %+v", c.name, o)
		}
	}
}

// TestShiftsOfADay: 24 hours hold three shifts of 8 h and not a minute more.
func TestShiftsOfADay(t *testing.T) {
	for hours, want := range map[string]string{"8": "", "8.01": "3 shifts of 8.01 h are more than a day", "8.3": "3 shifts of 8.3 h are more than a day"} {
		plans, err := study.CompileShifts(read(t, workshop, [3]string{"plants.csv", "Paid hours per shift,h,8", "Paid hours per shift,h," + hours})[0],
			[]float64{3})
		if err != nil {
			t.Fatal(err)
		}
		options, _ := plans.At(96000)
		if o := options[0]; o.Possible != (want == "") || strings.Join(o.Reasons, "; ") != want {
			t.Errorf("shifts of %s h: possible %v, %q, want %q", hours, o.Possible, o.Reasons, want)
		}
	}
}

// TestShiftsOnGivenLines: where the number of lines is given, one shift can't make the volume, and is not the cheapest.
func TestShiftsOnGivenLines(t *testing.T) {
	p := read(t, workshop, [3]string{"machines.csv", ",Rated force [kN]\nM1,fast press,100000,10,0,1,pooled,1000\nM2,slow press,60000,10,0,0.8,pooled,500\n",
		"\nM1,fast press,100000,10,0,1,dedicated\nM2,slow press,60000,10,0,0.8,pooled\n"},
		[3]string{"operations.csv", "Tool life [cycles]\nP,10,press,timed operation,M1,36,0,1000,5000,100000000",
			"Dedicated machines\nP,10,press,timed operation,M1,36,0,1000,0,1"},
		[3]string{"plants.csv", "EUR/h,10", "EUR/h,shifts > 1 ? 25 : 10"})[0]
	plans, err := study.CompileShifts(p, []float64{1, 2})
	if err != nil {
		t.Fatal(err)
	}
	options, cheapest := plans.At(96000)
	if cheapest != 1 || options[0].Possible || options[0].PieceCost >= options[1].PieceCost ||
		strings.Join(options[0].Reasons, "; ") != "P/10 needs 1.20 lines, has 1" {
		t.Errorf("cheapest %d of %+v", cheapest, options)
	}
}

// TestShiftsAsGiven: the plan with as many shifts as the plants have costs the same, and a shared machine that is filled is named.
func TestShiftsAsGiven(t *testing.T) {
	for _, p := range read(t, sampleTables(t)) {
		plans, err := study.CompileShifts(p, []float64{1, 2, 3})
		if err != nil {
			t.Fatal(err)
		}
		for _, n := range []float64{5000, 60000, 200000} {
			options, cheapest := plans.At(n)
			if !options[1].Given || options[0].Given || !near(options[1].PieceCost, p.Detail(n).Scenario().Must("piece_cost")) {
				t.Errorf("%s at %v: %+v", p.Scenario.Name, n, options)
			}
			for i, o := range options {
				if o.PieceCost < options[cheapest].PieceCost {
					t.Errorf("%s at %v: %d is cheaper than %d", p.Scenario.Name, n, i, cheapest)
				}
				full := false
				for _, m := range study.CapacityOf(withShifts(t, p, o.Shifts).Detail(n)).Machines {
					full = full || m.Own == 0 && m.Needed > 1
				}
				if full != (len(o.Crowded) > 0) {
					t.Errorf("%s at %v, %g shifts: shared machines filled %v, named %v", p.Scenario.Name, n, o.Shifts, full, o.Crowded)
				}
			}
		}
	}
}

func withShifts(t *testing.T, p *costmodel.Plan, n float64) *costmodel.Plan {
	q, ds := p.With(costmodel.Fixed{Scope: "plant", Quantity: "shifts", Row: costmodel.AllRows, Value: n})
	if q == nil {
		t.Fatal(ds)
	}
	return q
}
