package study

import (
	"context"
	"fmt"
	"math"
	"sort"
	"strings"

	"piececost/costmodel"
)

// A RuleCosting is every scenario costed under one equipment allocation.
type RuleCosting struct {
	Rule  string    // "as given", or the rule that every machine and step has
	Costs []float64 // piece cost by scenario
	Rank  []int     // by scenario, 1 the cheapest; equals share a rank
}

// A Reversal is a pair of scenarios of which one is cheaper under some rules and the other under the rest.
type Reversal struct {
	First, Second int // scenarios
	Words         string
}

// ChargingRules costs the scenarios of the details, at their volumes, as they are given and then with every machine shared,
// dedicated and pooled in turn.
func ChargingRules(ctx context.Context, details []*costmodel.Detail) ([]RuleCosting, []Reversal, error) {
	given := RuleCosting{Rule: "as given"}
	for _, d := range details {
		given.Costs = append(given.Costs, d.Scenario().Must("piece_cost"))
	}
	out := []RuleCosting{given}
	for _, rule := range details[0].Plan.Model.Options("operation", "equipment_allocation") {
		c := RuleCosting{Rule: rule}
		for _, d := range details {
			if err := ctx.Err(); err != nil {
				return nil, nil, err
			}
			p, err := UnderRule(d.Plan, rule)
			if err != nil {
				return nil, nil, err
			}
			c.Costs = append(c.Costs, p.Detail(d.Volume).Scenario().Must("piece_cost"))
		}
		out = append(out, c)
	}
	for i := range out {
		out[i].Rank = ranks(details[0].Plan.Model.Schema.Comparison, out[i].Costs)
	}
	return out, reversals(details, out), nil
}

// UnderRule compiles a scenario once more with one equipment allocation for every machine and step.
func UnderRule(p *costmodel.Plan, rule string) (*costmodel.Plan, error) {
	var fix []costmodel.Fixed
	for _, scope := range []string{"machine", "operation"} {
		f, ok := p.Model.FixChoice(scope, "equipment_allocation", rule)
		if !ok {
			return nil, fmt.Errorf("there is no equipment allocation %q", rule)
		}
		fix = append(fix, f)
	}
	q, ds := p.With(fix...)
	return q, refused(q, ds)
}

// ranks numbers costs from the cheapest; what counts as the same cost shares a rank.
func ranks(c *costmodel.Comparison, costs []float64) []int {
	order := make([]int, len(costs))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return costs[order[a]] < costs[order[b]] })
	out := make([]int, len(costs))
	for n, i := range order {
		out[i] = n + 1
		if n > 0 && c.SameCost(costs[i], costs[order[n-1]]) {
			out[i] = out[order[n-1]]
		}
	}
	return out
}

// reversals finds the pairs whose order depends on the rule.
func reversals(details []*costmodel.Detail, rules []RuleCosting) []Reversal {
	currency := details[0].Plan.Model.Schema.Units.ModelCurrency()
	var out []Reversal
	for a := range details {
		for b := a + 1; b < len(details); b++ {
			var first, second []string
			for _, r := range rules {
				gap := r.Costs[b] - r.Costs[a]
				digits := int(costmodel.MoneyDigits(currency, max(math.Abs(r.Costs[a]), math.Abs(r.Costs[b]))))
				says := fmt.Sprintf("%s (by %.*f %s)", r.Rule, digits, math.Abs(gap), currency)
				switch {
				case details[0].Plan.Model.Schema.Comparison.SameCost(r.Costs[a], r.Costs[b]):
				case gap > 0:
					first = append(first, says)
				default:
					second = append(second, says)
				}
			}
			if len(first) == 0 || len(second) == 0 {
				continue
			}
			out = append(out, Reversal{a, b, fmt.Sprintf("%s is cheaper %s; %s is cheaper %s",
				details[a].Plan.Scenario.Name, strings.Join(first, ", "), details[b].Plan.Scenario.Name, strings.Join(second, ", "))})
		}
	}
	return out
}
