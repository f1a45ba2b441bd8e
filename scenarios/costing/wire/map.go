package wire

// Map is the answer of map: which scenario is cheapest over two inputs.
type Map struct {
	Answer
	// Name of the workbook, without its folder.
	File string `json:"file"`
	// The currency of all money.
	Currency string `json:"currency"`
	// The input across.
	X Axis `json:"x"`
	// The input upward.
	Y Axis `json:"y"`
	// Annual volume where it is no axis; left out for each scenario's own.
	Volume *float64 `json:"annual_volume,omitempty"`
	// Name of the cheapest scenario, by y, then x; empty where nothing can be costed.
	Cheapest [][]string `json:"cheapest"`
	// What the second best costs more, by y, then x; null without a second.
	Margin [][]*float64 `json:"margin"`
	// The cost of each scenario.
	Costs []MapCosts `json:"costs"`
	// What the results are not for.
	Caution string `json:"caution"`
}

// An Axis is an input and its values.
type Axis struct {
	// The input: sheet/row/column.
	Input string `json:"input"`
	// The unit of its cells; left out for a bare number.
	Unit string `json:"unit,omitempty"`
	// The values, in that unit, ascending.
	Values []float64 `json:"values"`
}

// MapCosts are the costs of a scenario over a map.
type MapCosts struct {
	// Name of the scenario.
	Scenario string `json:"scenario"`
	// Piece cost, by y, then x; null where it can't be costed.
	Costs [][]*float64 `json:"costs"`
}
