package study_test

import (
	"fmt"
	"slices"
	"testing"

	"piececost/costmodel"
	"piececost/costmodel/study"
)

// TestNearlyEqualRanks: costs that differ by a ten thousandth are not equal; only rounding is.
func TestNearlyEqualRanks(t *testing.T) {
	for price, want := range map[string][]int{"5000": {1, 1}, "5010": {1, 2}, "4990": {2, 1}} {
		plans := read(t, workshop, [3]string{"scenarios.csv", "Operations,P/10,Machine,,M2\nOperations,P/10,Load and process time [s],,45\n",
			"Operations,P/10,Tool price [EUR],," + price + "\n"})
		rules, _, err := study.ChargingRules(t.Context(), detailsAt(plans, 60000))
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range rules {
			if !slices.Equal(r.Rank, want) {
				t.Errorf("tools of %s, %s: ranks %v of %v, want %v", price, r.Rule, r.Rank, r.Costs, want)
			}
		}
	}
}

// TestNearlyEqualCosts: a difference of a billionth of the cost is one at every volume, none is equal.
func TestNearlyEqualCosts(t *testing.T) {
	for price, equal := range map[string]bool{"5000": true, "5000.0001": false} {
		plans := read(t, workshop, [3]string{"scenarios.csv", "Operations,P/10,Machine,,M2\nOperations,P/10,Load and process time [s],,45\n",
			"Operations,P/10,Tool price [EUR],," + price + "\n"})
		c, err := study.Crossovers(t.Context(), plans, study.CrossoverAsk{From: 1000, To: 9000})
		if err != nil {
			t.Fatal(err)
		}
		if p := c.Pairs[0]; p.Equal != equal || len(p.Changes) > 0 || p.Cheaper != p.First {
			t.Errorf("tools of %s: %+v", price, p)
		}
	}
}

// TestStandingToday: half a percent of the cost more is not the same.
func TestStandingAtBaseValues(t *testing.T) {
	plans := read(t, workshop)
	m := study.Measure{Model: plans[0].Model, Scenario: plans[0].Scenario, Against: plans[1].Scenario}
	for baseValue, want := range map[float64]string{0: "it costs the same", 1e-12: "it costs the same", 0.001: "it costs 0.0010 EUR per good piece more",
		-0.001: "it costs 0.0010 EUR per good piece less"} {
		a := study.SolveAnswer{Measure: m, BaseValue: baseValue, Magnitude: 0.2}
		if got := a.Standing(); got != want {
			t.Errorf("%v: %s, want %s", baseValue, got, want)
		}
	}
}

// TestAskedAxisByRatio: an axis of a sheet over a decade or more is spaced by ratio, over less by difference.
func TestAskedAxisByRatio(t *testing.T) {
	m := read(t, workshop)[0].Model
	for _, c := range []struct {
		from, to float64
		want     string
	}{{1, 10, "[1 3.2 10]"}, {1, 9, "[1 5 9]"}, {2, 19, "[2 11 19]"}, {0, 100, "[0 50 100]"}, {1, 100, "[1 10 100]"}} {
		q := costmodel.NewQuestion()
		q.First = costmodel.AskedInput{From: c.from, To: c.to, Points: 3}
		values, err := study.AskedAxes(q, m, [2]int{5, 5})(0, &costmodel.Varied{})
		if err != nil || fmt.Sprint(values) != c.want {
			t.Errorf("%v to %v: %v, %v, want %s", c.from, c.to, values, err, c.want)
		}
	}
}

// TestNearlyEqualRows: rows that one input moves must hold one value; half a percent apart is two.
func TestNearlyEqualRows(t *testing.T) {
	for price, same := range map[string]bool{"100000": true, "100500": false, "100000.01": false} {
		p := read(t, workshop, [3]string{"machines.csv", "M2,slow press,60000", "M2,slow press," + price},
			[3]string{"scenarios.csv", "Operations,P/10,Load and process time [s],,45\n", ""})[1]
		in := input(t, "Machines/*/Price")
		if _, d := p.InputOf(in); (d == nil) != same {
			t.Errorf("%s: %v", price, d)
		}
		q := study.Measure{Model: p.Model, Scenario: p.Scenario}
		if r, ds := q.Respond([]costmodel.Input{in}); (r != nil) != same {
			t.Errorf("%s: %v", price, ds)
		}
	}
}

// TestRangesOfOneVolume: cross-overs are looked for at one volume as well, their stability over more than one.
func TestRangesOfOneVolume(t *testing.T) {
	plans := read(t, workshop)
	if c, err := study.Crossovers(t.Context(), plans, study.CrossoverAsk{From: 60000, To: 60000}); err != nil || len(c.Pairs) != 1 ||
		len(c.Pairs[0].Changes) > 0 {
		t.Errorf("%+v, %v", c, err)
	}
	for to, accepted := range map[int]bool{60000: false, 60001: true} {
		if _, err := study.Stabilities(t.Context(), plans, study.StabilityAsk{From: 60000, To: to, Pairs: [][2]int{{0, 1}}, Share: 0.1,
			Top: 1}); (err == nil) != accepted {
			t.Errorf("up to %d: %v", to, err)
		}
	}
}

// TestShareOfAll: a share of 100 % today is searched from nothing to all; more than all is no share.
func TestShareOfAll(t *testing.T) {
	share := respond(t, read(t, workshop)[:1], 0, "Operations/P/10/Reworked share").Inputs[0]
	share.BaseValue = 1
	if from, to, kind := study.SearchRange(&share); from != 0 || to != 1 || kind != study.RangeShare {
		t.Errorf("%v to %v, %s", from, to, kind)
	}
	share.BaseValue = 1.001
	if from, to, kind := study.SearchRange(&share); from != 0 || !near(to, 10.01) || kind != study.RangeTimes {
		t.Errorf("%v to %v, %s", from, to, kind)
	}
}

// TestLettersOfMaps: initials from A to Z name the scenarios, if no two are the same.
func TestLettersOfMaps(t *testing.T) {
	for names, want := range map[[2]string]string{{"Zinc", "Aluminium"}: "[Z A]", {"alpha", "zeta"}: "[A Z]", {"Alpha", "Also"}: "[A B]",
		{"1st", "2nd"}: "[A B]", {"Zinc", "[z]"}: "[A B]"} {
		m := study.Map{Scenarios: []*costmodel.Scenario{{Name: names[0]}, {Name: names[1]}}}
		if got := fmt.Sprint(m.Letters()); got != want {
			t.Errorf("%v: %s, want %s", names, got, want)
		}
	}
}
