package wire

// Crossover is the answer of crossover: which scenario is cheaper at which annual volume, and why.
type Crossover struct {
	Answer
	// Name of the workbook, without its folder.
	File string `json:"file"`
	// The currency of all money.
	Currency string `json:"currency"`
	// First whole annual volume that was looked at.
	From int `json:"from"`
	// Last whole annual volume that was looked at.
	To int `json:"to"`
	// Share of the cheaper cost up to which two scenarios cost the same: 0.005 is half a percent.
	Tolerance float64 `json:"tolerance"`
	// Whether the number of batches was taken as a fraction.
	ContinuousBatches bool `json:"continuous_batches"`
	// Names of the scenarios, in the order of the sheet.
	Scenarios []string `json:"scenarios"`
	// Which scenario is the cheapest of all where, by volume.
	Cheapest []Stretch `json:"cheapest"`
	// Every two scenarios.
	Pairs []CrossoverPair `json:"pairs"`
	// What the results are not for.
	Caution string `json:"caution"`
}

// A Stretch is where a scenario is the cheapest of all.
type Stretch struct {
	// Name of the scenario.
	Scenario string `json:"scenario"`
	// First annual volume.
	From int `json:"from"`
	// Last annual volume.
	To int `json:"to"`
	// The second best at the first volume.
	AtFrom Lead `json:"second_best_at_from"`
	// The second best at the last volume.
	AtTo Lead `json:"second_best_at_to"`
	// The second best where it costs least more.
	Least Lead `json:"second_best_nearest"`
	// The second best where it costs most more.
	Most Lead `json:"second_best_farthest"`
}

// A Lead is by how much the cheapest scenario leads at a volume.
type Lead struct {
	// The annual volume.
	AnnualVolume int `json:"annual_volume"`
	// Name of the second best.
	Scenario string `json:"scenario"`
	// What the cheapest costs.
	Cheapest float64 `json:"cheapest_cost"`
	// What the second best costs more.
	More float64 `json:"cost_difference"`
}

// A CrossoverPair is two scenarios over annual volume.
type CrossoverPair struct {
	// Name of the first, in the order of the sheet.
	First string `json:"first"`
	// Name of the second.
	Second string `json:"second"`
	// Name of the one that is cheaper at the first volume; empty where they cost the same at every volume.
	Cheaper string `json:"cheaper_at_from"`
	// Whether they cost the same at every volume.
	Equal bool `json:"same_throughout,omitempty"`
	// Every change of order, by volume.
	Changes []Change `json:"changes"`
	// First and last volume of each stretch in which they cost the same within the tolerance.
	Bands [][2]int `json:"within_tolerance"`
}

// A Change is a volume from which another scenario is the cheaper one.
type Change struct {
	// First annual volume of the new order.
	AnnualVolume int `json:"annual_volume"`
	// Name of the scenario that is cheaper from there on.
	Cheaper string `json:"cheaper_from_here"`
	// What the first scenario of the pair does there.
	First Move `json:"first"`
	// What the second one does.
	Second Move `json:"second"`
}

// A Move is what a piece cost does from the volume before to that of a change.
type Move struct {
	// Piece cost at the volume before.
	Before float64 `json:"before"`
	// Piece cost at this volume.
	After float64 `json:"from_here"`
	// What jumped; empty where the cost slides along its curve.
	Jumped []Cause `json:"capacity_steps"`
}

// A Cause is a quantity that jumped.
type Cause struct {
	// The row that it is of.
	Row string `json:"row"`
	// Key of the quantity.
	Quantity string `json:"quantity"`
	// Its value at the volume before, in the unit.
	Before float64 `json:"before"`
	// Its value at this volume.
	After float64 `json:"from_here"`
	// The unit; empty for a bare number.
	Unit string `json:"unit"`
	// The same, in words.
	Words string `json:"words"`
}
