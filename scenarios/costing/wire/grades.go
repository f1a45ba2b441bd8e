package wire

// Grades is the answer of grades: the materials that are known by their designation, or those that were asked for.
type Grades struct {
	Answer
	// What the values are for, and what decides.
	Caution string `json:"caution"`
	// The grades, by family.
	Grades []Grade `json:"grades"`
}

// A Grade is a material that a row of the sheet Materials takes its values from where its cells are empty.
type Grade struct {
	// The designation, as the column Material or Grade takes it.
	Name string `json:"name"`
	// Other names that are taken for it, its number among them.
	Aliases []string `json:"aliases,omitempty"`
	// What it belongs to.
	Family string `json:"family"`
	// The standard that has the designation.
	Standard string `json:"standard"`
	// In what form it is bought: sheet, tube, profile, bar, casting, granulate.
	Form string `json:"form"`
	// Further remarks.
	Note string `json:"note,omitempty"`
	// What to look up before a result rests on the values.
	Verify string `json:"verify"`
	// The values, none of them a price.
	Values []GradeValue `json:"values"`
}

// A GradeValue is a value that a grade brings.
type GradeValue struct {
	// Name of the quantity, as expressions have it.
	Name string `json:"name"`
	// Heading of the column whose cell takes the place of the value.
	Label string `json:"label"`
	// Symbol.
	Symbol string `json:"symbol,omitempty"`
	// The value, in the unit.
	Value float64 `json:"value"`
	// Unit; 1 for a plain number.
	Unit string `json:"unit"`
	// Where it comes from: published, derived, from memory, common practice or placeholder.
	Kind string `json:"kind"`
	// By about how many percent it may be off.
	WithinPercent float64 `json:"within_percent"`
	// Whether it is a minimum, a typical value or what else there is to say.
	Note string `json:"note,omitempty"`
	// Where it stands, with the standard and how it was taken from it.
	Source string `json:"source"`
}
