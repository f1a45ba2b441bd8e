package wire

// Volumes is the answer of volumes: what each scenario takes and costs at annual volumes.
type Volumes struct {
	Answer
	// Name of the workbook, without its folder.
	File string `json:"file"`
	// The currency of all money.
	Currency string `json:"currency"`
	// Percent by which the volume falls and rises on the installed capacity.
	Within float64 `json:"within_percent"`
	// The scenarios that were asked for.
	Scenarios []VolumeView `json:"scenarios"`
	// What the results are not for.
	Caution string `json:"caution"`
}

// A VolumeView is a scenario over annual volumes.
type VolumeView struct {
	// Name of the scenario.
	Scenario string `json:"scenario"`
	// What it takes at each volume.
	Volumes []VolumePoint `json:"volumes"`
	// Pooled operations that could not in fact share their stations.
	Pools []PoolWarning `json:"pool_warnings"`
}

// A VolumePoint is what a scenario takes and costs at an annual volume.
type VolumePoint struct {
	// Good products per year.
	AnnualVolume float64 `json:"annual_volume"`
	// Manufacturing cost of a good product.
	PieceCost float64 `json:"piece_cost"`
	// Manufacturing cost per year.
	AnnualCost float64 `json:"annual_cost"`
	// What one more good product per year costs.
	NextPiece float64 `json:"marginal_cost"`
	// Integer quantities (capacity steps) that one more piece raises.
	Jumps []Jump `json:"marginal_capacity_steps"`
	// Whole lines bought for the product.
	OwnLines float64 `json:"product_specific_lines"`
	// Capacity utilisation of the product-specific lines together, a share; null where there are none.
	OwnLoad *float64 `json:"capacity_utilisation"`
	// Lines of shared machines that are charged, a fraction.
	SharedLines float64 `json:"shared_lines"`
	// Direct workers, each paid for a year of one shift; null where it is no number.
	People *float64 `json:"people"`
	// Tool sets.
	ToolSets float64 `json:"tool_sets"`
	// Floor space charged, aisles included, m2.
	Floor float64 `json:"floor_space_m2"`
	// Investment in equipment product-specific.
	Equipment float64 `json:"product_specific_equipment_investment"`
	// Investment in tools.
	Tooling float64 `json:"tooling_investment"`
	// The machines that are used.
	Machines []Machine `json:"machines"`
	// The volume less a share, on the capacity that is installed for it.
	Less Installed `json:"less"`
	// The volume and a share, on the capacity that is installed for it.
	More Installed `json:"more"`
	// What other numbers of shifts per day cost.
	Shifts []Shift `json:"shifts"`
}

// A Jump is a whole count that one more piece raises.
type Jump struct {
	// The row that it is of.
	Row string `json:"row"`
	// What is counted.
	Count string `json:"count"`
	// The count at the volume.
	From float64 `json:"from"`
	// The count with one piece more.
	To float64 `json:"to"`
}

// A Machine is what a scenario takes of a machine in a plant.
type Machine struct {
	// Key of the machine, with its plant where there are several.
	Machine string `json:"machine"`
	// Name of the machine.
	Name string `json:"name"`
	// Whole lines bought for the product.
	OwnLines float64 `json:"product_specific_lines"`
	// Lines of a shared machine that are charged, a fraction.
	Shared float64 `json:"shared_lines"`
	// Lines that the hours would fill, a fraction.
	Needed float64 `json:"lines_filled"`
	// Hours over those of the product-specific lines, or of one line where it is shared: a share.
	Load float64 `json:"capacity_utilisation"`
	// Whole crew shifts per day of a pool; 0 without one.
	CrewShifts float64 `json:"crew_shifts"`
}

// Installed is another volume on the lines and tool sets that are there.
type Installed struct {
	// Good products per year.
	AnnualVolume float64 `json:"annual_volume"`
	// Manufacturing cost of a good product.
	PieceCost float64 `json:"piece_cost"`
	// Manufacturing cost per year.
	AnnualCost float64 `json:"annual_cost"`
	// Whether it can be made.
	Possible bool `json:"possible"`
	// What is short; worn tools can be bought in time and stop nothing.
	Shortages []Shortage `json:"shortages"`
}

// A Shortage is a count that is too small for a volume.
type Shortage struct {
	// Key of the machine or operation.
	Row string `json:"row"`
	// pool, dedicated (lines), tools (at work at once) or wear (tools worn out before the programme ends).
	Kind string `json:"kind"`
	// How many are needed, a fraction.
	Needed float64 `json:"required"`
	// How many there are.
	Has float64 `json:"installed"`
	// The same, in words.
	Words string `json:"words"`
}

// A Shift is a volume with a number of shifts per day.
type Shift struct {
	// Shifts a day.
	Shifts float64 `json:"shifts"`
	// Whether it is what the plants have.
	Given bool `json:"given"`
	// Whether it costs least of those that are possible.
	Cheapest bool `json:"cheapest"`
	// Whether the volume can be made so.
	Possible bool `json:"possible"`
	// Manufacturing cost of a good product.
	PieceCost float64 `json:"piece_cost"`
	// Whole lines bought for the product.
	OwnLines float64 `json:"product_specific_lines"`
	// Investment in tools and equipment product-specific.
	Investment float64 `json:"investment"`
	// Why it is not possible, in words.
	Reasons []string `json:"reasons,omitempty"`
	// Keys of shared machines that the product alone would fill beyond one line.
	Crowded []string `json:"shared_lines_filled,omitempty"`
}

// A PoolWarning says that pooled operations could not in fact share their stations.
type PoolWarning struct {
	// Key of the machine.
	Machine string `json:"machine"`
	// In what the operations differ, or what is short: set-up, process, area, power, force, plant, hours.
	Kind string `json:"kind"`
	// Keys of the operations.
	Steps []string `json:"operations,omitempty"`
	// The warning, in words.
	Words string `json:"words"`
	// Lowest annual volume of those looked at where it holds.
	From float64 `json:"from_annual_volume"`
	// Highest annual volume of those looked at where it holds.
	To float64 `json:"to_annual_volume"`
	// Where the rule is from.
	Source string `json:"source"`
}
