package wire

// Combine is the answer of combine: the cheapest combinations of alternatives at an annual volume.
type Combine struct {
	Answer
	// Name of the workbook, without its folder.
	File string `json:"file"`
	// The currency of all money.
	Currency string `json:"currency"`
	// Good products per year.
	Volume float64 `json:"annual_volume"`
	// Highest net mass of a product, kg; null for no limit.
	MaxMass *float64 `json:"max_mass_kg"`
	// Whether only combinations count that meet every computed target.
	Targets bool `json:"only_with_targets_met"`
	// The scenarios that were asked for.
	Scenarios []CombineScenario `json:"scenarios"`
	// What the results are not for.
	Caution string `json:"caution"`
}

// A CombineScenario is a scenario with its alternatives freely combined.
type CombineScenario struct {
	// Name of the scenario.
	Scenario string `json:"scenario"`
	// The alternatives of the rows that it reaches.
	Alternatives []string `json:"alternatives"`
	// Piece cost with the alternatives that it lists.
	PieceCost float64 `json:"piece_cost_unchanged"`
	// Net mass with those, kg.
	NetMass float64 `json:"net_mass_kg_unchanged"`
	// Lists of alternatives on the same rows; of each one is tried.
	SameRows [][]string `json:"alternatives_on_the_same_rows"`
	// Links of which one stands for another, or that are extras.
	Joins []JoinOptions `json:"links_that_compete"`
	// Rows with an error, which no combination has.
	LeftOut []LeftOut `json:"left_out"`
	// Number of valid combinations.
	Valid int `json:"valid_combinations"`
	// Number of those beside them that differ in alternatives without effect.
	Repeated int `json:"repeated_without_effect"`
	// Number of the valid ones that are too heavy.
	TooHeavy int `json:"too_heavy"`
	// Number of the others that miss a target, where targets are asked for.
	Missing int `json:"missing_a_target"`
	// Number of those in which a check fails or the cost is no number.
	NoCost int `json:"without_cost"`
	// The cheapest, by cost.
	Best []Combination `json:"cheapest"`
}

// JoinOptions are links that join at one operation, or join one child at several operations, under different alternatives.
type JoinOptions struct {
	// Key of the part that they join.
	Parent string `json:"parent"`
	// Whether one of them is taken; else any of them or none.
	One bool `json:"one_is_taken"`
	// The same, in words.
	Words string `json:"words"`
	// The choices.
	Options []JoinOption `json:"options"`
}

// A JoinOption is one choice.
type JoinOption struct {
	// The alternatives that bring it in.
	Alternatives []string `json:"alternatives"`
	// Its links.
	Links []Link `json:"links"`
}

// A Link is a child of the bill of materials.
type Link struct {
	// Key of the child.
	Child string `json:"child"`
	// Number of the operation at which it joins.
	Step string `json:"joined_at_operation"`
}

// A LeftOut is a row of an alternative that has an error.
type LeftOut struct {
	// The row.
	Row string `json:"row"`
	// Its alternatives.
	Alternatives []string `json:"alternatives"`
	// What is wrong with it, the first of all.
	Finding Finding `json:"finding"`
}

// A Combination is a choice of alternatives.
type Combination struct {
	// The alternatives that are in, in the order of the sheets.
	Alternatives []string `json:"alternatives"`
	// Manufacturing cost of a good product.
	PieceCost float64 `json:"piece_cost"`
	// Net mass, kg.
	NetMass float64 `json:"net_mass_kg"`
	// The computed targets that it misses.
	Missed []string `json:"missed_targets"`
}
