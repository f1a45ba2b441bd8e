package wire

// Solve is the answer of solve: values of inputs at which a target holds.
type Solve struct {
	Answer
	// Name of the workbook, without its folder.
	File string `json:"file"`
	// The currency of all money.
	Currency string `json:"currency"`
	// What is wanted, in words.
	Wanted string `json:"wanted"`
	// Name of the scenario.
	Scenario string `json:"scenario"`
	// Name of the scenario whose cost is wanted; left out where an amount is.
	Against string `json:"against,omitempty"`
	// Annual volume of both; left out for each one's own.
	Volume *float64 `json:"annual_volume,omitempty"`
	// What the cost, or its difference to that of the other scenario, is to be.
	Target float64 `json:"target"`
	// What it is the base value.
	BaseValue float64 `json:"base_value"`
	// What was found for each input.
	Inputs []Solution `json:"inputs"`
	// Inputs that could not be tried, each with the reason.
	NotTried []string `json:"not_tried,omitempty"`
	// What the results are not for.
	Caution string `json:"caution"`
	// Whether each mass saved is paid at the value of the sheet Case.
	PaidValue bool `json:"mass_saving_counted"`
}

// A Solution is what a search found for an input. Its values are in the unit.
type Solution struct {
	// The input: sheet/row/column.
	Input string `json:"input"`
	// The unit of its cells; left out for a bare number.
	Unit string `json:"unit,omitempty"`
	// Its value the base value; left out where it has none.
	BaseValue *float64 `json:"base_value,omitempty"`
	// Lowest value that was looked at.
	From float64 `json:"from"`
	// Highest value that was looked at.
	To float64 `json:"to"`
	// Why it was that range, in words.
	Range string `json:"range"`
	// Whether the input moves nothing.
	MovesNothing bool `json:"moves_nothing,omitempty"`
	// The values found, ascending.
	Values []Root `json:"values"`
	// Without any, the value that comes closest.
	Nearest *float64 `json:"nearest,omitempty"`
	// What is missed there: cost, or difference, less target.
	Miss *float64 `json:"miss,omitempty"`
}

// A Root is a value at which the target holds or is jumped over.
type Root struct {
	// value, stretch (the target holds from value to until) or jump (it is jumped over at value).
	Found string `json:"found"`
	// The value, in the unit of the input.
	Value float64 `json:"value"`
	// The end of a stretch.
	Until *float64 `json:"until,omitempty"`
	// What is missed before a jump: cost, or difference, less target.
	Below *float64 `json:"below,omitempty"`
	// What is missed behind it.
	Above *float64 `json:"above,omitempty"`
	// By what share of the base value it is away from that: 0.1 is 10 % more; left out where the base value's is 0 or unknown.
	Distance *float64 `json:"share_from_base_value,omitempty"`
}
