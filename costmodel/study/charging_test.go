package study_test

import (
	"fmt"
	"slices"
	"testing"

	"piececost/costmodel"
	"piececost/costmodel/study"
)

func detailsAt(plans []*costmodel.Plan, volume float64) []*costmodel.Detail {
	var out []*costmodel.Detail
	for _, p := range plans {
		out = append(out, p.Detail(volume))
	}
	return out
}

// TestChargingRulesByHand: at 80,000 per year X fills one line (800 h), Y 1.25 lines (1,000 h, 2 tool sets). Shared, X costs
// 8,000 + 10,000 + 1,000 and Y 8,000 + 7,500 + 2,000; with whole lines Y pays two: 22,000.
func TestChargingRulesByHand(t *testing.T) {
	rules, reversals, err := study.ChargingRules(t.Context(), detailsAt(read(t, workshop), 80000))
	if err != nil {
		t.Fatal(err)
	}
	want := []study.RuleCosting{
		{Rule: "as given", Costs: []float64{19000, 22000}, Rank: []int{1, 2}},
		{Rule: "shared", Costs: []float64{19000, 17500}, Rank: []int{2, 1}},
		{Rule: "dedicated", Costs: []float64{19000, 22000}, Rank: []int{1, 2}},
		{Rule: "pooled", Costs: []float64{19000, 22000}, Rank: []int{1, 2}},
	}
	if len(rules) != len(want) {
		t.Fatalf("%v", rules)
	}
	for i, w := range want {
		g := rules[i]
		if g.Rule != w.Rule || !slices.Equal(g.Rank, w.Rank) || !near(g.Costs[0]*80000, w.Costs[0]) || !near(g.Costs[1]*80000, w.Costs[1]) {
			t.Errorf("%+v, want %+v", g, w)
		}
	}
	words := fmt.Sprintf("X is cheaper as given (by 0.0375 EUR), dedicated (by 0.0375 EUR), pooled (by 0.0375 EUR); Y is cheaper shared (by %.4f EUR)",
		19000.0/80000-17500.0/80000)
	if len(reversals) != 1 || reversals[0].Words != words {
		t.Errorf("%+v, want %s", reversals, words)
	}
}

// TestChargingRuleReplacesAll: a rule given by the step, or changed by the scenario, is replaced too; a rule for all that is
// the given one changes nothing.
func TestChargingRuleReplacesAll(t *testing.T) {
	plain := read(t, workshop)[0]
	for _, c := range [][3]string{
		{"operations.csv", "Tool life [cycles]\nP,10,press,timed operation,M1,36,0,1000,5000,100000000",
			"Tool life [cycles],Equipment allocation\nP,10,press,timed operation,M1,36,0,1000,5000,100000000,shared"},
		{"scenarios.csv", "Operations,P/10,Machine", "Machines,*,Equipment allocation,shared,\nOperations,P/10,Machine"},
		{"operations.csv", "Tool life [cycles]\n", "Tool life [cycles]\n"},
	} {
		p := read(t, workshop, c)[0]
		pooled, err := study.UnderRule(p, "pooled")
		if err != nil {
			t.Fatal(err)
		}
		if a, b := annual(pooled, 96000), annual(plain, 96000); !near(a, b) {
			t.Errorf("%q: %v per year with all pooled, want %v", c[2], a, b)
		}
		shared, err := study.UnderRule(p, "shared")
		if err != nil {
			t.Fatal(err)
		}
		if v := annual(shared, 96000); !near(v, 9600+12000+2000) {
			t.Errorf("%q: %v per year with all shared", c[2], v)
		}
	}
	if _, err := study.UnderRule(plain, "leased"); err == nil {
		t.Error("a rule that is none is accepted")
	}
}

// TestSameRanking: Y on a press that costs 200,000 EUR is more expensive under every rule, so nothing is turned round.
func TestSameRanking(t *testing.T) {
	plans := read(t, workshop, [3]string{"machines.csv", "slow press,60000", "slow press,200000"})
	rules, reversals, err := study.ChargingRules(t.Context(), detailsAt(plans, 80000))
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range rules {
		if !slices.Equal(r.Rank, []int{1, 2}) {
			t.Errorf("%+v", r)
		}
	}
	if len(reversals) > 0 {
		t.Errorf("%+v", reversals)
	}
}

// TestNoReversal: a single ranking is none, and equal scenarios reverse nothing.
func TestNoReversal(t *testing.T) {
	same := [3]string{"scenarios.csv", "Operations,P/10,Machine,,M2\nOperations,P/10,Load and process time [s],,45\n", ""}
	for name, details := range map[string][]*costmodel.Detail{"same": detailsAt(read(t, workshop, same), 80000),
		"one": detailsAt(read(t, workshop)[:1], 80000)} {
		rules, reversals, err := study.ChargingRules(t.Context(), details)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range rules {
			for _, n := range r.Rank {
				if n != 1 {
					t.Errorf("%s: %+v", name, r)
				}
			}
		}
		if len(reversals) > 0 {
			t.Errorf("%s: %+v", name, reversals)
		}
	}
}
