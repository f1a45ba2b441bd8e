package wire

// Explain is the answer of explain: a number down to the input cells.
type Explain struct {
	Answer
	// Name of the workbook, without its folder.
	File string `json:"file"`
	// Name of the scenario.
	Scenario string `json:"scenario"`
	// Good products per year.
	AnnualVolume float64 `json:"annual_volume"`
	// The number that was asked for.
	Number Number `json:"number"`
	// What the results are not for.
	Caution string `json:"caution"`
}

// A Number is a quantity of a row with where it comes from.
type Number struct {
	// Key of the quantity.
	Quantity string `json:"quantity"`
	// The row that it is of: operation A01/20.
	Row string `json:"row"`
	// The value, in the unit; left out for a choice.
	Value *float64 `json:"value,omitempty"`
	// Of a choice what was chosen, of a condition yes or no.
	Choice string `json:"choice,omitempty"`
	// The unit of the value; left out for a bare number.
	Unit string `json:"unit,omitempty"`
	// equation, default, input (a cell), scenario (a cell of the sheet Scenarios), structure or volume.
	From string `json:"from"`
	// The equation with names.
	Equation string `json:"equation,omitempty"`
	// The equation with numbers, the branch that was taken.
	Numbers string `json:"numbers,omitempty"`
	// What is said of the quantity.
	Note string `json:"note,omitempty"`
	// Where the equation or default is from.
	Source string `json:"source,omitempty"`
	// The cell, of an input.
	Place *Place `json:"place,omitempty"`
	// What that cell holds.
	Content string `json:"content,omitempty"`
	// What the row says of where its data are from, each with its heading.
	Provided []string `json:"provided,omitempty"`
	// Of an operation that was asked for: which machine was chosen for it and why; left out where one is given.
	Machine string `json:"machine,omitempty"`
	// Whether it is explained above, so that its parts are left out.
	Again bool `json:"explained_above,omitempty"`
	// What went in.
	Parts []Number `json:"parts,omitempty"`
}
