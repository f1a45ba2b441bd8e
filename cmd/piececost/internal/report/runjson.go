package report

import (
	"encoding/json"

	"piececost/scenarios/costing/wire"

	"github.com/shopspring/decimal"

	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/costmodel/table"
	"piececost/scenarios"
)

func money(d decimal.Decimal, digits int32) json.Number { return json.Number(d.StringFixed(digits)) }

// scenarioOf makes the JSON of one scenario.
func scenarioOf(ds []*costmodel.Detail, i int) wire.RunScenario {
	d := ds[i]
	s, st := d.Scenario(), d.Statement()
	out := wire.RunScenario{
		Name: d.Plan.Scenario.Name, Product: d.Plan.Scenario.Product, AnnualVolume: d.Volume,
		PieceCost: money(st.Total.Money, st.Digits), PieceCostExact: s.Must("piece_cost"), Price: s.Must("price"),
		NetMass: s.Must("net_mass"), GrossMass: s.Must("gross_mass"),
		ToolingInvestment: s.Must("tooling_investment"), OwnEquipmentInvestment: s.Must("product_specific_equipment_investment"),
	}
	for _, l := range st.Lines {
		out.Elements = append(out.Elements, wire.Element{Name: l.Name, Amount: money(l.Money, st.Digits), Exact: l.Exact})
	}
	if i > 0 {
		v := scenarios.Verdict(ds, i)
		out.MassSaved = massOf(&v)
	}
	return out
}

// RunJSON is what a run of a version found and the workbook that it wrote.
func RunJSON(m *costmodel.Model, r *scenarios.Result, ds table.Diagnostics, version, target string) wire.Run {
	currency := m.Schema.Units.ModelCurrency()
	out := wire.Run{Answer: wire.Begin[wire.Run](), Program: version, File: m.Case.File, Workbook: target, Currency: currency,
		Findings: FindingsJSON(ds), Caution: wire.Caution}
	for i := range r.Details {
		out.Scenarios = append(out.Scenarios, scenarioOf(r.Details, i))
	}
	return out
}

// massOf makes the JSON of a verdict.
func massOf(v *study.MassVerdict) *wire.MassSaved {
	return &wire.MassSaved{Case: v.Case, CostChange: v.CostChange, MassSaved: v.MassSaved, CostPerKilogram: finite(v.PerKilogram), Words: v.Words,
		ParityAtValue: v.Parity.Value, ParityHolds: v.Parity.Holds, ParityMarginLeft: v.Parity.Margin}
}
