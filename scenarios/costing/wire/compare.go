package wire

// Compare is the answer of compare: scenario comparison:. Lists by scenario are in the order of its scenarios.
type Compare struct {
	Answer
	// Name of the workbook, without its folder.
	File string `json:"file"`
	// The currency of all money.
	Currency string `json:"currency"`
	// Name of the scenario that the others are held against.
	Base string `json:"base"`
	// The scenarios.
	Scenarios []ComparedScenario `json:"scenarios"`
	// The piece cost by element, by part and by operation.
	Costs []CostRows `json:"piece_cost_by"`
	// Mass, investment, tool sets, lines, people and floor space.
	Measures []CompareRow `json:"measures"`
	// Lines of each machine.
	Lines []CompareRow `json:"lines"`
	// The requirements of the sheet Targets.
	Targets []Target `json:"targets"`
	// Measured parts of others with the scenarios held against them; left out where the sheet Benchmarks has none.
	Benchmarks []Benchmark `json:"benchmarks,omitempty"`
	// The piece cost under each equipment allocation; left out unless it was asked for.
	ChargingRules []ChargingRule `json:"equipment_allocations,omitempty"`
	// Pairs of scenarios whose order depends on the equipment allocation.
	Reversals []Reversal `json:"ranking_reversals,omitempty"`
	// What the results are not for.
	Caution string `json:"caution"`
}

// A ComparedScenario is a scenario of a comparison.
type ComparedScenario struct {
	// Name of the scenario.
	Name string `json:"name"`
	// Good products per year.
	AnnualVolume float64 `json:"annual_volume"`
	// Manufacturing cost of a good product.
	PieceCost float64 `json:"piece_cost"`
	// What it costs more than the base; negative where it costs less.
	Change float64 `json:"change"`
	// Cost and mass against the base; left out for that itself.
	Against *MassSaved `json:"against_base,omitempty"`
}

// CostRows are the piece cost cut up in one way.
type CostRows struct {
	// element, part or operation.
	By string `json:"by"`
	// The rows; of each scenario they add up to its piece cost.
	Rows []CompareRow `json:"rows"`
}

// A CompareRow is a line of a table with a column for each scenario.
type CompareRow struct {
	// Key of the element, part, operation, measure or machine.
	Key string `json:"key"`
	// What a person calls it.
	Name string `json:"name"`
	// Unit of the values; left out for a bare number.
	Unit string `json:"unit,omitempty"`
	// By scenario the value, null where it has no such row.
	Values []*float64 `json:"values"`
	// By scenario by how much it is more than that of the base, a missing one counted as 0.
	Changes []float64 `json:"changes"`
}

// A Target is a requirement of the sheet Targets.
type Target struct {
	// What is required of: the label of a quantity.
	Quantity string `json:"quantity"`
	// Key of the part; left out for the product.
	Part string `json:"part,omitempty"`
	// Unit of the values and targets; empty for a bare number.
	Unit string `json:"unit"`
	// at most or at least.
	Direction string `json:"direction"`
	// Whether the values stand in the sheet, measured or simulated, and are not computed.
	Stated bool `json:"values_from_the_sheet"`
	// The row of the requirement.
	Place Place `json:"place"`
	// How each scenario meets it.
	Scenarios []Judgement `json:"scenarios"`
}

// A Judgement says how a scenario meets a requirement.
type Judgement struct {
	// Name of the scenario.
	Scenario string `json:"scenario"`
	// met, missed, no target (none for this scenario) or not known (no such part, or no value is stated).
	Verdict string `json:"verdict"`
	// The scenario's value; null where it has none.
	Value *float64 `json:"value"`
	// What is required of it; null where nothing is.
	Target *float64 `json:"target"`
	// By how much the value is above the target; null without both.
	Above *float64 `json:"above"`
	// The same as a share of the target: 0.1 is 10 %.
	Share *float64 `json:"share"`
}

// A ChargingRule is every scenario costed under one equipment allocation.
type ChargingRule struct {
	// as given, or the rule that every machine and operation has.
	Rule string `json:"equipment_allocation"`
	// By scenario the piece cost.
	PieceCost []float64 `json:"piece_cost"`
	// By scenario its rank, 1 the cheapest; equals share a rank.
	Rank []int `json:"rank"`
}

// A Reversal is a pair of scenarios of which one is cheaper under some equipment allocations and the other under the rest.
type Reversal struct {
	// Name of the first.
	First string `json:"first"`
	// Name of the second.
	Second string `json:"second"`
	// Which is cheaper under which rule, in words.
	Words string `json:"words"`
}
