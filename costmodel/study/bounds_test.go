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
		plans := read(t, workshop, [3]string{"scenarios.csv", "Operations,P/10,Machine,,M2\nOperations,P/10,Load and process time [s],,45\n", "Operations,P/10,Tool price [EUR],," + price + "\n"})
		rules, _, err := study.ChargingRules(detailsAt(plans, 60000))
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
		plans := read(t, workshop, [3]string{"scenarios.csv", "Operations,P/10,Machine,,M2\nOperations,P/10,Load and process time [s],,45\n", "Operations,P/10,Tool price [EUR],," + price + "\n"})
		c, err := study.Crossovers(plans, study.CrossoverAsk{From: 1000, To: 9000})
		if err != nil {
			t.Fatal(err)
		}
		if p := c.Pairs[0]; p.Equal != equal || len(p.Changes) > 0 || p.Cheaper != p.First {
			t.Errorf("tools of %s: %+v", price, p)
		}
	}
}

// TestStandingToday: half a percent of the cost more is not the same.
func TestStandingToday(t *testing.T) {
	plans := read(t, workshop)
	m := study.Measure{Model: plans[0].Model, Scenario: plans[0].Scenario, Against: plans[1].Scenario}
	for today, want := range map[float64]string{0: "it costs the same", 1e-12: "it costs the same", 0.001: "it costs 0.0010 EUR a good piece more", -0.001: "it costs 0.0010 EUR a good piece less"} {
		a := study.SolveAnswer{Measure: m, Today: today, Magnitude: 0.2}
		if got := a.Standing(); got != want {
			t.Errorf("%v: %s, want %s", today, got, want)
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
