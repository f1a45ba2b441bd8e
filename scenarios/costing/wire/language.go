package wire

// Language is the answer of processes --functions: what an expression may be made of.
type Language struct {
	Answer
	// How expressions are written, operators and names.
	Writings []Writing `json:"writings"`
	// The functions.
	Functions []Function `json:"functions"`
	// The rows that an expression of a row may see beyond its own: material.density.
	Relations []Relation `json:"relations"`
	// The units, by what they measure. Money is in currency, the model currency, or in codes of ISO 4217.
	Units []UnitGroup `json:"units"`
}

// A Writing is a way to write something.
type Writing struct {
	// An expression.
	Example string `json:"example"`
	// What it gives; left out where its names have values in a case alone.
	Result *float64 `json:"result,omitempty"`
	// Explanation.
	Help string `json:"help"`
}

// A Function is a function of the language.
type Function struct {
	// Name.
	Name string `json:"name"`
	// Names of its arguments.
	Arguments string `json:"arguments"`
	// Least number of arguments.
	Least int `json:"least"`
	// Largest number of arguments.
	Most int `json:"most"`
	// Whether its first argument is the name of a curve of the sheet Tables.
	Curve bool `json:"curve"`
	// Explanation.
	Help string `json:"help"`
	// An expression with it.
	Example string `json:"example"`
	// What the example gives; left out where its names have values in a case alone.
	Result *float64 `json:"result,omitempty"`
}

// A Relation leads from a row to another, or to many.
type Relation struct {
	// Name, before the point: material in material.density.
	Name string `json:"name"`
	// Whose rows have it, as the pages of shared equations are named; left out where all have.
	From string `json:"from,omitempty"`
	// What it leads to.
	To string `json:"to"`
	// Whether it leads to many rows, over which sum adds.
	Many bool `json:"many"`
	// Explanation.
	Help string `json:"help"`
}

// A UnitGroup is the units of one kind of quantity.
type UnitGroup struct {
	// What they measure.
	Measures string `json:"measures"`
	// Unit in which the factors are.
	Coherent string `json:"coherent"`
	// The units.
	Units []Unit `json:"units"`
}

// A Unit is a symbol with its worth.
type Unit struct {
	// Symbol.
	Symbol string `json:"symbol"`
	// How much one of it is in the coherent unit; of a level of temperature, one step of it.
	Factor float64 `json:"factor"`
	// What is subtracted from a number in it before it is multiplied by the factor; 0 but for levels of temperature.
	Zero float64 `json:"zero"`
}
