package wire

// Sweep is the answer of sweep: what every scenario costs over annual volumes.
type Sweep struct {
	Answer
	// Name of the workbook, without its folder.
	File string `json:"file"`
	// The currency of all money.
	Currency string `json:"currency"`
	// A point for each volume and scenario, by volume, then in the order of the sheet.
	Points []SweepPoint `json:"points"`
	// What the results are not for.
	Caution string `json:"caution"`
}

// A SweepPoint is a scenario at an annual volume.
type SweepPoint struct {
	// Name of the scenario.
	Scenario string `json:"scenario"`
	// Good products per year.
	AnnualVolume float64 `json:"annual_volume"`
	// Manufacturing cost of a good product.
	PieceCost float64 `json:"piece_cost"`
	// By the element's key, its part of the piece cost; the scrap credit is negative.
	Elements map[string]float64 `json:"elements"`
	// Whether no scenario costs less at that volume.
	Cheapest bool `json:"cheapest"`
	// With --choose, by the operation's key the machine that was chosen for it at that volume; left out else.
	Machines map[string]string `json:"machines,omitempty"`
}
