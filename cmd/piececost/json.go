package main

import (
	"encoding/json"
	"io"

	"github.com/shopspring/decimal"

	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/scenarios"
)

// The JSON forms, each with a format name and a version that changes when a field changes its meaning.

type checkJSON struct {
	Format   string        `json:"format"`
	Version  int           `json:"version"`
	File     string        `json:"file"`
	Findings []findingJSON `json:"findings"`
}

type findingJSON struct {
	Code     string        `json:"code"`
	Severity string        `json:"severity"`
	Summary  string        `json:"summary"`
	Help     string        `json:"help,omitempty"`
	Scenario string        `json:"scenario,omitempty"`
	Place    placeJSON     `json:"place"`
	Related  []relatedJSON `json:"related,omitempty"`
}

type placeJSON struct {
	File      string `json:"file,omitempty"`
	Sheet     string `json:"sheet,omitempty"`
	Cell      string `json:"cell,omitempty"`
	Character int    `json:"character,omitempty"`
}

type relatedJSON struct {
	Note  string    `json:"note"`
	Place placeJSON `json:"place"`
}

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
	OwnEquipmentInvestment float64       `json:"own_equipment_investment"`
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
	ParityMarginLeft float64  `json:"parity_margin"`
}

func placeOf(p costmodel.Place) placeJSON {
	return placeJSON{File: p.File, Sheet: p.Sheet, Cell: p.Cell(), Character: p.Char}
}

func findingsJSON(ds costmodel.Diagnostics) []findingJSON {
	out := []findingJSON{}
	for _, d := range ds {
		f := findingJSON{Code: d.Code, Severity: string(d.Severity), Summary: d.Summary, Help: d.Help, Scenario: d.Scenario, Place: placeOf(d.Place)}
		for _, r := range d.Related {
			f.Related = append(f.Related, relatedJSON{r.Note, placeOf(r.Place)})
		}
		out = append(out, f)
	}
	return out
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
		ToolingInvestment: s.Must("tooling_investment"), OwnEquipmentInvestment: s.Must("own_equipment_investment"),
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

// massOf makes the JSON of a verdict.
func massOf(v *study.MassVerdict) *massJSON {
	return &massJSON{Case: v.Case, CostChange: v.CostChange, MassSaved: v.MassSaved, CostPerKilogram: finite(v.PerKilogram), Words: v.Words,
		ParityAtValue: v.Parity.Value, ParityHolds: v.Parity.Holds, ParityMarginLeft: v.Parity.Margin}
}

func writeJSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(v)
}
