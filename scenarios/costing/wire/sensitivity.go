package wire

// Sensitivity is the answer of sensitivity: what moves the piece cost of a scenario, or the difference of two.
type Sensitivity struct {
	Answer
	// Name of the workbook, without its folder.
	File string `json:"file"`
	// The currency of all money.
	Currency string `json:"currency"`
	// Name of the scenario.
	Scenario string `json:"scenario"`
	// Name of the scenario whose cost is taken off; left out for the scenario alone.
	Against string `json:"against,omitempty"`
	// Annual volume of both; left out for each one's own.
	Volume *float64 `json:"annual_volume,omitempty"`
	// The cost, or the difference, the base value.
	BaseValue float64 `json:"base_value"`
	// Where the ranges are from, in words; left out with --elasticities.
	Ranges string `json:"ranges,omitempty"`
	// The inputs, widest swing first.
	Bars []Bar `json:"bars,omitempty"`
	// With --elasticities the inputs, by elasticity, the effect of +1 %.
	Elasticities []Elasticity `json:"elasticities,omitempty"`
	// Inputs that could not be moved, each with the reason.
	NotVaried []string `json:"not_varied,omitempty"`
	// What the results are not for.
	Caution string `json:"caution"`
}

// A Bar is how far one input moves the cost.
type Bar struct {
	// The input: sheet/row/column.
	Input string `json:"input"`
	// The unit of the values; left out for a bare number.
	Unit string `json:"unit,omitempty"`
	// factor or difference, where several rows move together and the values are of that; left out where they are the input's own.
	MovedBy string `json:"moved_by,omitempty"`
	// Its value the base value; left out where it has none.
	BaseValue *float64 `json:"base_value,omitempty"`
	// The values that were looked at, ascending.
	Values []float64 `json:"values"`
	// The cost, or the difference, at each; null where a value can't be.
	Results []*float64 `json:"results"`
	// The most less the least, the base value's among them.
	Swing float64 `json:"swing"`
	// Whether the cost only rises or only falls from low to high.
	Monotone bool `json:"monotonic"`
}

// An Elasticity is what a percent of an input is worth.
type Elasticity struct {
	// The input: sheet/row/column.
	Input string `json:"input"`
	// The unit of its cells; left out for a bare number.
	Unit string `json:"unit,omitempty"`
	// Its value the base value.
	BaseValue float64 `json:"base_value"`
	// By how many percent the cost grows for a percent of the input; left out for a difference of two scenarios.
	Elasticity *float64 `json:"elasticity,omitempty"`
	// By how much the cost, or the difference, grows for a percent of the input, from steps of a tenth of a percent.
	PerPercent float64 `json:"per_percent"`
	// The same from steps of five percent.
	Wide float64 `json:"per_percent_over_five"`
	// Whether the two disagree: integer quantities (capacity steps) make steps, or the course is bent.
	Uneven bool `json:"uneven"`
	// Whether only one side of the base value can be.
	OneSided bool `json:"one_sided"`
}

// Table is the answer of sensitivity with --x and --y: a cost, or the difference of two, over two inputs.
type Table struct {
	Answer
	// Name of the workbook, without its folder.
	File string `json:"file"`
	// The currency of all money.
	Currency string `json:"currency"`
	// What the table is of, in words.
	Measure string `json:"measure"`
	// The input across.
	X Axis `json:"x"`
	// The input down.
	Y Axis `json:"y"`
	// The cost, or the difference, by y, then x; null where a pair can't be.
	Values [][]*float64 `json:"values"`
	// What the results are not for.
	Caution string `json:"caution"`
}
