package wire

// Trial is the answer of trial: a part in other grades and gauges.
type Trial struct {
	Answer
	// Name of the workbook, without its folder.
	File string `json:"file"`
	// Name of the scenario.
	Scenario string `json:"scenario"`
	// Good products per year.
	AnnualVolume float64 `json:"annual_volume"`
	// The currency of all money.
	Currency string `json:"currency"`
	// Key of the part.
	Part string `json:"part"`
	// Key of the grade of the base: what the part has in the scenario, where no other is asked for.
	BaseGrade string `json:"base_grade"`
	// Gauge of the base, mm.
	BaseGauge float64 `json:"base_gauge_mm"`
	// The base, whether or not it is among the cells.
	BaseCell TrialCell `json:"base_cell"`
	// A cell for each grade and gauge, by grade.
	Cells []TrialCell `json:"cells"`
	// For each grade the gauges at which it equals the base.
	Equal []TrialEqual `json:"equal"`
	// Measured values of the sheet Trial values of which no cell is tried, in words.
	Unused []string `json:"not_tried"`
	// What screening relations are not for.
	ScreeningCaution string `json:"screening_caution"`
	// What the results are not for.
	Caution string `json:"caution"`
}

// A TrialCell is a grade at a gauge.
type TrialCell struct {
	// Key of the grade.
	Grade string `json:"grade"`
	// Gauge, mm.
	Gauge float64 `json:"gauge_mm"`
	// Manufacturing cost of a good product; null where it can't be costed.
	PieceCost *float64 `json:"piece_cost"`
	// Net mass of the product, kg.
	NetMass *float64 `json:"net_mass_kg"`
	// Net mass of the part, kg.
	PartMass *float64 `json:"part_mass_kg"`
	// Bending stiffness of a panel over that of the base; null where a modulus is not known, unless the grade is that of the base.
	Stiffness *float64 `json:"stiffness_ratio"`
	// Static dent load over that of the base; null where a yield strength is not known, unless the grade is that of the base.
	Dent *float64 `json:"dent_resistance_ratio"`
	// Moment of a section at first yield over that of the base; null where a yield strength is not known, unless the grade is that of the base.
	Section *float64 `json:"section_strength_ratio"`
	// Whether nothing speaks against it.
	Passes bool `json:"passed"`
	// Whether it costs least of those that pass.
	Least bool `json:"least_cost"`
	// Whether it costs least of those that pass and of which every target is known.
	Sure bool `json:"least_cost_all_known"`
	// Whether of those that pass none costs less and weighs less.
	Front bool `json:"front"`
	// Whether it is what the part has in the scenario.
	Base bool `json:"base"`
	// Checks and targets that do not hold, or why it can't be costed.
	Fails []string `json:"fails"`
	// Targets of which nothing is known in the cell; they do not count as failed.
	Open []string `json:"not_known"`
	// Targets and measured values, of the sheets Targets and Trial values.
	Targets []TrialTarget `json:"targets,omitempty"`
}

// A TrialTarget is a target beside the value of a cell, in the target's unit.
type TrialTarget struct {
	// The quantity, with its part.
	Target string `json:"target"`
	// at most or at least; empty where nothing is asked for.
	Direction string `json:"direction"`
	// Its unit; empty for a plain number.
	Unit string `json:"unit"`
	// measured, computed, or screened: carried over from what was measured in the base; empty where there is no value.
	Source string `json:"source"`
	// Its value; null where it is not known.
	Value *float64 `json:"value"`
	// What is asked for; null where nothing is.
	Wanted *float64 `json:"wanted"`
	// met, missed, no target or not known.
	Verdict string `json:"verdict"`
}

// A TrialEqual are the gauges of a grade at which it equals the base, mm; null where a property is not known.
type TrialEqual struct {
	// Key of the grade.
	Grade string `json:"grade"`
	// Of equal bending stiffness of a panel.
	Stiffness *float64 `json:"equal_stiffness_mm"`
	// Of equal dent resistance.
	Dent *float64 `json:"equal_dent_resistance_mm"`
	// Of equal strength of a section.
	Section *float64 `json:"equal_section_strength_mm"`
}
