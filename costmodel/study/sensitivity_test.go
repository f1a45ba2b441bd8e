package study_test

import (
	"fmt"
	"maps"
	"math"
	"strings"
	"testing"

	"piececost/costmodel"
	"piececost/costmodel/study"
)

// TestTornadoByHand moves inputs of the workshop's X, which costs 19,000 EUR for 80,000 pieces: 10,000 the machine, 8,000
// wages, 1,000 tools. A longer cycle or a higher volume needs a second line and tool set, 11,000 EUR.
func TestTornadoByHand(t *testing.T) {
	r := respond(t, read(t, workshop)[:1], 0, "Machines/M1/Price", "Plants/Works/Direct labour rate", "Operations/P/10/Load and process time",
		"Annual volume", "Machines/M2/Price", "Parts/P/Target cost", "Machines/M1/Installation share")
	ranges := r.ShareRanges(0.1)
	if len(ranges) != 5 { // without a value or at 0 there is no share of it
		t.Fatalf("%+v", ranges)
	}
	var got []string
	for _, b := range tornado(t, r, ranges) {
		got = append(got, fmt.Sprintf("%s: %.5f at %.6g, %.5f at %.6g, swing %.5f, turns %v", b.Input.Input.Column, b.AtLow, b.Input.Shown(b.Values[0]),
			b.AtHigh, b.Input.Shown(b.Values[len(b.Values)-1]), b.Swing, b.Turns))
	}
	want := []string{
		"Load and process time: 0.22750 at 32.4, 0.38500 at 39.6, swing 0.15750, turns false",
		// the first of the eleven values above 80,000 is 81,600: 22,000/81,600 + 0.1
		"Annual volume: 0.25278 at 72000, 0.35000 at 88000, swing 0.13211, turns true",
		"Price: 0.22500 at 90000, 0.25000 at 110000, swing 0.02500, turns false",
		"Direct labour rate: 0.22750 at 9, 0.24750 at 11, swing 0.02000, turns false",
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// TestTornadoWithinPlausible cuts a range of plus and minus a share at the plausible range: the whole load at most.
func TestTornadoWithinPlausible(t *testing.T) {
	tables := read(t, workshop, [3]string{"plants.csv", "Direct labour rate", "Planned capacity utilisation,%,95\nDirect labour rate"},
		[3]string{"machines.csv", "M1,fast press,100000,10,0,1,pooled", "M1,fast press,100000,10,0,1,shared"})
	r := respond(t, tables[:1], 0, "Plants/Works/Planned capacity utilisation")
	b := tornado(t, r, r.ShareRanges(0.1))
	if len(b) != 1 || !near(b[0].Values[0], 0.855) || b[0].Values[len(b[0].Values)-1] != 1 {
		t.Fatalf("%+v", b)
	}
	if cost := b[0].AtHigh; !near(cost, 19000.0/80000) {
		t.Errorf("at a load of 100 %%: %v", cost)
	}
}

// TestTornadoOfUncertainty takes low and high of the sheet, in both scenarios of a difference alike.
func TestTornadoOfUncertainty(t *testing.T) {
	plans := read(t, workshop)
	r := respond(t, plans, 0, "Machines/M1/Price", "Operations/P/10/Load and process time")
	list := []costmodel.Uncertain{
		{Input: input(t, "Operations/P/10/Load and process time"), Low: 30, High: 40},
		{Input: input(t, "Machines/M1/Price"), Low: 80000, High: 150000, Likely: 90000, HasLikely: true},
		{Input: input(t, "Machines/M2/Price"), Low: 1, High: 2}, // was not compiled
	}
	ranges := r.UncertainRanges(list)
	if len(ranges) != 2 {
		t.Fatalf("%+v", ranges)
	}
	bars := tornado(t, r, ranges)
	// X less Y at t seconds is 4,000 n + 2 x 22.22 t (wages of 10 against 8 EUR/h)
	byTime := func(t, n float64) float64 { return (4000*n + 2*80000*t/3600) / 80000 }
	if b := bars[0]; !near(b.AtLow, byTime(30, 1)) || !near(b.AtHigh, byTime(40, 2)) {
		t.Errorf("by time: %v to %v, want %v to %v", b.AtLow, b.AtHigh, byTime(30, 1), byTime(40, 2))
	}
	if b := bars[1]; !near(b.AtLow, (17000-22000.0)/80000) || !near(b.AtHigh, (24000-22000.0)/80000) || len(b.Values) != 13 {
		t.Errorf("by price: %+v", b) // eleven values, today's and the likely one
	}
}

// TestTornadoTogether moves the prices of both presses at once. Of 80,000 pieces X needs one fast press at 10,000 EUR per year,
// Y two slow ones at 6,000: 19,000 less 22,000 EUR, and a tenth of the prices more is worth 1,000 less 1,200.
func TestTornadoTogether(t *testing.T) {
	tables := maps.Clone(workshop)
	tables["uncertainty.csv"] = "Sheet,Row,Column,Low,Likely,High\nMachines,*,Price,base * 0.8,base,base * 1.2\n"
	shifted := maps.Clone(workshop)
	shifted["uncertainty.csv"] = "Sheet,Row,Column,Low,Likely,High\nMachines,\"M1, M2\",Price,base,,base + 10000\n"
	for _, of := range []struct {
		tables    map[string]string
		name      string
		low, high float64 // thousands per year
	}{{tables, "Machines/*/Price", -2.6, -3.4}, {shifted, "Machines/M1, M2/Price", -3, -4}} {
		plans := read(t, of.tables)
		m := plans[0].Model
		list, ds := m.Uncertainty()
		if len(ds) > 0 {
			t.Fatal(ds)
		}
		q := study.Measure{Model: m, Scenario: plans[0].Scenario, Against: plans[1].Scenario}
		inputs, _ := q.Moved(list)
		r, bars, ds, _ := q.Swings(t.Context(), inputs, list, 0)
		if len(ds) > 0 || len(bars) != 1 || len(r.Dropped) > 0 {
			t.Fatal(ds, bars)
		}
		b := bars[0]
		if b.Input.Input.String() != of.name || !near(b.AtLow*80, of.low) || !near(b.AtHigh*80, of.high) || b.Turns {
			t.Errorf("%s: %v to %v, want %v to %v", b.Input.Input, b.AtLow*80, b.AtHigh*80, of.low, of.high)
		}
	}
}

// TestElasticitiesByHand gives the share that an input has in the cost where it enters as a factor.
func TestElasticitiesByHand(t *testing.T) {
	less := read(t, workshop, [3]string{"scenarios.csv", "80000,80000", "60000,60000"}) // 600 of 800 h: no step near
	names := []string{"Machines/M1/Price", "Plants/Works/Direct labour rate", "Machines/M1/Economic life", "Annual volume",
		"Operations/P/10/Load and process time",
		"Machines/M2/Price", "Case/Interest rate"}
	r := respond(t, less[:1], 0, names...)
	const total = 10000 + 6000 + 1000
	want := map[string]float64{"Price": 10000.0 / total, "Direct labour rate": 6000.0 / total, "Economic life": -10000.0 / total,
		"Annual volume":         -11000.0 / total,
		"Load and process time": 6000.0 / total}
	list := r.Elasticities()
	if len(list) != len(want) {
		t.Errorf("%d elasticities", len(list))
	}
	for _, e := range list {
		w := want[e.Input.Input.Column]
		if math.Abs(e.Value-w) > 2e-6*math.Abs(w) || math.Abs(e.PerPercent-w*total/60000/100) > 1e-7 || e.Uneven || e.OneSided {
			t.Errorf("%s: %+v, want %v", e.Input.Input, e, w)
		}
	}
	for i := 1; i < len(list); i++ {
		if math.Abs(list[i].PerPercent) > math.Abs(list[i-1].PerPercent)*(1+1e-9) {
			t.Errorf("%s stands after %s", list[i].Input.Input, list[i-1].Input.Input)
		}
	}
}

// TestElasticitiesOfSteps marks inputs whose small step says something else than the wide one: at 80,000 the lines are full.
func TestElasticitiesOfSteps(t *testing.T) {
	r := respond(t, read(t, workshop)[:1], 0, "Machines/M1/Price", "Annual volume", "Operations/P/10/Load and process time")
	for _, e := range r.Elasticities() {
		steps := e.Input.Input.Column != "Price"
		if e.Uneven != steps {
			t.Errorf("%s: %+v", e.Input.Input, e)
		}
		if e.Input.Input.Column == "Load and process time" && !near(e.Wide, (11000+8000*0.1)/80000/10) {
			t.Errorf("over five percent: %v", e.Wide)
		}
	}
}

// TestElasticitiesOfBends: over five percent the central difference of x^k is (1.05^k - 0.95^k)/(0.1 k) times the small one:
// 1.102 for k = 17, 9.3 % of the larger and even; 1.131 for k = 19, 11.6 % and uneven. Price over life is such a power of life.
func TestElasticitiesOfBends(t *testing.T) {
	for k, uneven := range map[int]bool{17: false, 19: true} {
		price := fmt.Sprintf(`(economic_life / "10 yr") ^ %d * "100000 EUR"`, k+1)
		r := respond(t, read(t, workshop, [3]string{"machines.csv", "M1,fast press,100000,", "M1,fast press," + price + ","})[:1], 0,
			"Machines/M1/Economic life")
		list := r.Elasticities()
		if len(list) != 1 {
			t.Fatalf("%+v", list)
		}
		e, bent := list[0], (math.Pow(1.05, float64(k))-math.Pow(0.95, float64(k)))/(0.1*float64(k))
		if e.Uneven != uneven || math.Abs(e.Wide/e.PerPercent-bent) > 1e-3 {
			t.Errorf("life^%d: %+v, want wide over small %v, uneven %v", k, e, bent, uneven)
		}
	}
}

// TestElasticitiesOneSided takes the side that can be, where the base value is at its limit.
func TestElasticitiesOneSided(t *testing.T) {
	plans := read(t, workshop, [3]string{"parts.csv", "P,plate,assembly", "P,plate,sheet,S,1,1000,100,100"}, [3]string{"parts.csv", "Form\n",
		"Form,Material,Gauge [mm],Blank length [mm],Blank width [mm],Nesting utilisation [%]\n"},
		[3]string{"materials.csv", "[kg/m3]\n", "[kg/m3],Base price [EUR/kg]\nS,7850,2\n"})
	r := respond(t, plans[:1], 0, "Parts/P/Nesting utilisation")
	list := r.Elasticities()
	// material of 1.57 EUR over the utilisation: one percent less of it is 1 % more, a little beyond
	if len(list) != 1 || !list[0].OneSided || math.Abs(list[0].PerPercent+0.0157) > 2e-5 {
		t.Errorf("%+v", list)
	}
}

// TestElasticitiesOfDifference has amounts only: a share of a difference that may be 0 says nothing.
func TestElasticitiesOfDifference(t *testing.T) {
	r := respond(t, read(t, workshop), 0, "Machines/M1/Price", "Machines/M2/Price")
	for _, e := range r.Elasticities() {
		want := 10000.0 / 80000 / 100
		if e.Input.Input.Row == "M2" {
			want = -12000.0 / 80000 / 100
		}
		if !near(e.PerPercent, want) || !math.IsNaN(e.Value) {
			t.Errorf("%s: %+v, want %v", e.Input.Input, e, want)
		}
	}
}

// TestElasticitiesOfAll holds, for the sample, that elasticities of all inputs at once are those of each one alone.
func TestElasticitiesOfAll(t *testing.T) {
	plans := read(t, sampleTables(t))
	q := study.Measure{Model: plans[0].Model, Scenario: plans[0].Scenario}
	inputs, _ := q.AllInputs()
	r, ds := q.Respond(inputs)
	if r == nil || len(r.Dropped) > 0 {
		t.Fatal(ds, r.Dropped)
	}
	list := r.Elasticities()
	if len(list) < 300 {
		t.Fatalf("only %d elasticities", len(list))
	}
	for i, e := range list {
		if i%25 != 0 {
			continue
		}
		alone := respond(t, plans[:1], 0, e.Input.Input.String()).Elasticities()
		if len(alone) != 1 || math.Abs(alone[0].PerPercent-e.PerPercent) > 1e-9 || math.Abs(alone[0].Wide-e.Wide) > 1e-9 {
			t.Errorf("%s: %+v alone, %+v among all", e.Input.Input, alone, e)
		}
	}
}

// tornado is Response.Tornado that nobody stops.
func tornado(t *testing.T, r *study.Response, ranges []study.Range) []study.Bar {
	t.Helper()
	bars, err := r.Tornado(t.Context(), ranges)
	if err != nil {
		t.Fatal(err)
	}
	return bars
}
