package report

import (
	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/scenarios/costing/wire"
)

// JSON is the comparison with all of its tables.
func (c *Comparison) JSON() wire.Compare {
	out := wire.Compare{Answer: wire.Begin[wire.Compare](), File: c.Model.Case.File, Currency: c.Currency, Base: c.name(c.Base), Caution: wire.Caution,
		Measures: c.rowsJSON(c.Measures), Lines: c.rowsJSON(c.Lines), Targets: []wire.Target{}}
	total := c.Costs[0].Total
	for i, d := range c.Details {
		s := wire.ComparedScenario{Name: c.name(i), AnnualVolume: d.Volume, PieceCost: total.Values[i], Change: total.Change(i, c.Base)}
		if i != c.Base {
			s.Against = massOf(&c.Mass[i])
		}
		out.Scenarios = append(out.Scenarios, s)
	}
	for _, t := range c.Costs {
		out.Costs = append(out.Costs, wire.CostRows{By: t.By, Rows: c.rowsJSON(t.Rows)})
	}
	for _, row := range c.Targets {
		out.Targets = append(out.Targets, c.targetJSON(row))
	}
	for _, v := range c.Benchmarks {
		out.Benchmarks = append(out.Benchmarks, c.benchmarkJSON(v))
	}
	for _, r := range c.Rules {
		out.ChargingRules = append(out.ChargingRules, wire.ChargingRule{Rule: r.Rule, PieceCost: r.Costs, Rank: r.Rank})
	}
	for _, r := range c.Reversals {
		out.Reversals = append(out.Reversals, wire.Reversal{First: c.name(r.First), Second: c.name(r.Second), Words: r.Words})
	}
	return out
}

func (c *Comparison) rowsJSON(rows []study.Row) []wire.CompareRow {
	out := []wire.CompareRow{}
	for _, r := range rows {
		j := wire.CompareRow{Key: r.Key, Name: r.Name, Unit: r.Unit}
		for i, v := range r.Values {
			j.Values = append(j.Values, finite(v))
			j.Changes = append(j.Changes, r.Change(i, c.Base))
		}
		out = append(out, j)
	}
	return out
}

func (c *Comparison) targetJSON(row []costmodel.Judgement) wire.Target {
	t := row[0].Target
	out := wire.Target{Quantity: t.Label, Part: t.Part, Unit: c.Model.ShownUnit(t.Unit), Direction: t.Direction(), Stated: t.Stated, Place: placeOf(t.Place)}
	for i, j := range row {
		out.Scenarios = append(out.Scenarios, wire.Judgement{Scenario: c.name(i), Verdict: string(j.Verdict), Value: finite(j.Value),
			Target: finite(j.Wanted), Above: finite(j.Over), Share: finite(j.Share)})
	}
	return out
}
