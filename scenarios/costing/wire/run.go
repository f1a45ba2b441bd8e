package wire

import "encoding/json"

// Run is the answer of run: what every scenario costs at its own annual volume, and where the results were written.
type Run struct {
	Answer
	// The program's version.
	Program string `json:"program"`
	// Name of the workbook, without its folder.
	File string `json:"file"`
	// The file that the results were written to.
	Workbook string `json:"workbook"`
	// The currency of all money.
	Currency string `json:"currency"`
	// The scenarios, in the order of the sheet.
	Scenarios []RunScenario `json:"scenarios"`
	// Warnings about the case.
	Findings []Finding `json:"findings"`
	// What the results are not for.
	Caution string `json:"caution"`
}

// A RunScenario is what a scenario costs at its own annual volume.
type RunScenario struct {
	// Name of the scenario.
	Name string `json:"name"`
	// Key of the part that is made.
	Product string `json:"product"`
	// Good products per year.
	AnnualVolume float64 `json:"annual_volume"`
	// Manufacturing cost of a good product, rounded to the currency's smallest coin (a cheap piece to a hundredth of it).
	PieceCost json.Number `json:"piece_cost"`
	// The same, unrounded.
	PieceCostExact float64 `json:"piece_cost_exact"`
	// The elements of cost in their order; their rounded amounts add up to the rounded piece cost.
	Elements []Element `json:"elements"`
	// Price of a good product, unrounded.
	Price float64 `json:"price_exact"`
	// Net mass of a good product, kg.
	NetMass float64 `json:"net_mass_kg"`
	// Gross mass of a good product, what is bought for it, kg.
	GrossMass float64 `json:"gross_mass_kg"`
	// Investment in tools.
	ToolingInvestment float64 `json:"tooling_investment"`
	// Investment in equipment product-specific.
	OwnEquipmentInvestment float64 `json:"product_specific_equipment_investment"`
	// Cost and mass against the first scenario; left out for that itself.
	MassSaved *MassSaved `json:"against_first_scenario,omitempty"`
}

// An Element is an element of cost of a good product.
type Element struct {
	// Key of the element: material, scrap_credit, labour, ...
	Name string `json:"name"`
	// Amount, rounded as the piece cost; the scrap credit is negative.
	Amount json.Number `json:"amount"`
	// The same, unrounded.
	Exact float64 `json:"exact"`
}

// MassSaved holds a scenario's cost and mass against those of another.
type MassSaved struct {
	// Which of the cases it is: lighter and more expensive, lighter and cheaper, heavier and same cost, ...
	Case string `json:"case"`
	// By how much it costs more; negative where it costs less.
	CostChange float64 `json:"cost_change"`
	// By how much it is lighter, kg; negative where it is heavier.
	MassSaved float64 `json:"mass_saved_kg"`
	// What a mass saved costs, currency per kg; left out where it says nothing, since both fall or both rise.
	CostPerKilogram *float64 `json:"cost_per_kilogram,omitempty"`
	// The verdict, in words.
	Words string `json:"words"`
	// The value of a mass saved that the sheet Case agrees on, currency per kg.
	ParityAtValue float64 `json:"allowable_cost_of_mass_saving"`
	// Whether it costs no more with each mass saved paid at that value.
	ParityHolds bool `json:"parity_holds"`
	// What is left then; negative where parity is missed by so much.
	ParityMarginLeft float64 `json:"net_benefit_of_mass_saving"`
}
