package wire

// Stability is the answer of crossover --stability: how far cross-overs move when one input is at its low or high.
type Stability struct {
	Answer
	// Name of the workbook, without its folder.
	File string `json:"file"`
	// First whole annual volume that was looked at.
	From int `json:"from"`
	// Last whole annual volume that was looked at.
	To int `json:"to"`
	// Where low and high are from, in words.
	Ranges string `json:"ranges"`
	// Whether the number of batches was taken as a fraction.
	ContinuousBatches bool `json:"continuous_batches"`
	// The pairs of scenarios that were looked at.
	Pairs []StabilityPair `json:"pairs"`
	// What the results are not for.
	Caution string `json:"caution"`
}

// A StabilityPair is the cross-overs of two scenarios.
type StabilityPair struct {
	// Name of the first scenario.
	First string `json:"first"`
	// Name of the second scenario.
	Second string `json:"second"`
	// The cross-overs as the case stands.
	BaseValue Orders `json:"base_value"`
	// Annual volume at which the inputs that move the difference most were sought; left out where the inputs are stated.
	SoughtAt int `json:"inputs_sought_at_volume,omitempty"`
	// The inputs: first those that break the cross-over, then by how far it moves.
	Inputs []StabilityInput `json:"inputs"`
	// How many more inputs move the difference, less than those that were looked at.
	Others int `json:"inputs_that_move_less"`
	// Inputs that can't be moved, each with the reason.
	Unmoved []string `json:"not_moved"`
}

// Orders are the cross-overs of two scenarios over the range.
type Orders struct {
	// Name of the scenario that is cheaper at the first volume; left out where both cost the same throughout.
	Cheaper string `json:"cheaper_at_from,omitempty"`
	// Number of cross-overs.
	Number int `json:"cross_overs"`
	// Annual volume of the first; left out where there is none.
	First *int `json:"first,omitempty"`
	// Annual volume of the last.
	Last *int `json:"last,omitempty"`
	// The first annual volume of each new order.
	Volumes []int `json:"annual_volumes"`
	// Why such a case can't be costed; then nothing else holds.
	Impossible string `json:"cannot_be,omitempty"`
	// The same, in words.
	Words string `json:"words"`
}

// A StabilityInput is what an input does to the cross-overs of a pair.
type StabilityInput struct {
	// The input: sheet/row/column.
	Input string `json:"input"`
	// The unit of its cells; left out for a bare number.
	Unit string `json:"unit,omitempty"`
	// Its value the base value, in that unit; left out where it has none.
	BaseValue *float64 `json:"base_value,omitempty"`
	// The pair with the input at its low.
	Low StabilityEnd `json:"low"`
	// The pair with the input at its high.
	High StabilityEnd `json:"high"`
	// Whether the cross-over vanishes, comes or turns at low or high.
	Breaks bool `json:"breaks"`
	// Pieces by which the first or the last cross-over moves at most.
	MovedBy int `json:"moved_by_at_most"`
}

// A StabilityEnd is a pair with an input at one end of its range.
type StabilityEnd struct {
	// Value of the input, in the unit of its cells.
	Value float64 `json:"value"`
	// Pieces from the base value's first cross-over to the first here; left out where there is none the base value or here.
	FirstMoved *int `json:"first_moved_by,omitempty"`
	// Pieces from the base value's last cross-over to the last here.
	LastMoved *int `json:"last_moved_by,omitempty"`
	// Whether the cross-over vanishes, comes or turns.
	Breaks bool `json:"breaks"`
	Orders
}
