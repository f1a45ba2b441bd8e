package report

import (
	"encoding/json"

	"github.com/shopspring/decimal"

	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/costmodel/table"
	"piececost/scenarios"
)

type runJSON struct {
	Format    string         `json:"format"`
	Version   int            `json:"version"`
	Program   string         `json:"program"`
	File      string         `json:"file"`
	Workbook  string         `json:"workbook"` // where the results were written
	Currency  string         `json:"currency"`
	Scenarios []scenarioJSON `json:"scenarios"`
	Findings  []findingJSON  `json:"findings"`
	Caution   string         `json:"caution"`
}

type scenarioJSON struct {
	Name                   string        `json:"name"`
	Product                string        `json:"product"`
	AnnualVolume           float64       `json:"annual_volume"`
	PieceCost              json.Number   `json:"piece_cost"` // rounded; the elements add up to it
	PieceCostExact         float64       `json:"piece_cost_exact"`
	Elements               []elementJSON `json:"elements"`
	Price                  float64       `json:"price_exact"`
	NetMass                float64       `json:"net_mass_kg"`
	GrossMass              float64       `json:"gross_mass_kg"`
	ToolingInvestment      float64       `json:"tooling_investment"`
	OwnEquipmentInvestment float64       `json:"product_specific_equipment_investment"`
	MassSaved              *massJSON     `json:"against_first_scenario,omitempty"`
}

type elementJSON struct {
	Name   string      `json:"name"`
	Amount json.Number `json:"amount"`
	Exact  float64     `json:"exact"`
}

type massJSON struct {
	Case             string   `json:"case"`
	CostChange       float64  `json:"cost_change"`
	MassSaved        float64  `json:"mass_saved_kg"`
	CostPerKilogram  *float64 `json:"cost_per_kilogram,omitempty"` // only where one rises and the other falls
	Words            string   `json:"words"`
	ParityAtValue    float64  `json:"value_of_a_saved_kilogram"`
	ParityHolds      bool     `json:"parity_holds"`
	ParityMarginLeft float64  `json:"net_benefit_of_mass_saving"`
}

func money(d decimal.Decimal, digits int32) json.Number { return json.Number(d.StringFixed(digits)) }

// scenarioOf makes the JSON of one scenario.
func scenarioOf(ds []*costmodel.Detail, i int) scenarioJSON {
	d := ds[i]
	s, st := d.Scenario(), d.Statement()
	out := scenarioJSON{
		Name: d.Plan.Scenario.Name, Product: d.Plan.Scenario.Product, AnnualVolume: d.Volume,
		PieceCost: money(st.Total.Money, st.Digits), PieceCostExact: s.Must("piece_cost"), Price: s.Must("price"),
		NetMass: s.Must("net_mass"), GrossMass: s.Must("gross_mass"),
		ToolingInvestment: s.Must("tooling_investment"), OwnEquipmentInvestment: s.Must("product_specific_equipment_investment"),
	}
	for _, l := range st.Lines {
		out.Elements = append(out.Elements, elementJSON{l.Name, money(l.Money, st.Digits), l.Exact})
	}
	if i > 0 {
		v := scenarios.Verdict(ds, i)
		out.MassSaved = massOf(&v)
	}
	return out
}

// RunJSON is what a run of a version found and the workbook that it wrote.
func RunJSON(m *costmodel.Model, r *scenarios.Result, ds table.Diagnostics, version, target string) runJSON {
	currency := m.Schema.Units.ModelCurrency()
	out := runJSON{Format: "piececost run", Version: 1, Program: version, File: m.Case.File, Workbook: target, Currency: currency,
		Findings: FindingsJSON(ds), Caution: Caution}
	for i := range r.Details {
		out.Scenarios = append(out.Scenarios, scenarioOf(r.Details, i))
	}
	return out
}

// massOf makes the JSON of a verdict.
func massOf(v *study.MassVerdict) *massJSON {
	return &massJSON{Case: v.Case, CostChange: v.CostChange, MassSaved: v.MassSaved, CostPerKilogram: finite(v.PerKilogram), Words: v.Words,
		ParityAtValue: v.Parity.Value, ParityHolds: v.Parity.Holds, ParityMarginLeft: v.Parity.Margin}
}
