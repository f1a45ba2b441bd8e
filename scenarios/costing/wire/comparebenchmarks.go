package wire

// A Benchmark is measured parts of others, and how the scenarios stand to them.
type Benchmark struct {
	// Key of the part that they are compared with; left out for the product.
	Part string `json:"part,omitempty"`
	// Unit of all sizes: m2, m or m3.
	SizeUnit string `json:"size_unit"`
	// The measured parts in the order of the sheet.
	Measured []MeasuredPart `json:"measured_parts"`
	// What is taken over them: number, average, lowest, highest and standard deviation.
	Statistics []Figure `json:"statistics"`
	// By scenario mass, size and cost of the own part, per size, and how far below average, lightest and least.
	Rows []BenchmarkRow `json:"scenarios"`
}

// A BenchmarkRow is a quantity of the own part.
type BenchmarkRow struct {
	// Name of the quantity.
	Key string `json:"key"`
	// What a person calls it.
	Name string `json:"name"`
	// Unit of the values; left out for a bare number.
	Unit string `json:"unit,omitempty"`
	// By scenario the value; null where there is none, as in one without the part or an own size.
	Values []*float64 `json:"values"`
}

// A MeasuredPart is a part or assembly of another maker.
type MeasuredPart struct {
	// What the sheet calls it.
	Name string `json:"name"`
	// Where the figures come from; left out where the sheet does not say.
	Source string `json:"source,omitempty"`
	// The row.
	Place Place `json:"place"`
	// Mass, size, cost and what follows from them; what is not known is null.
	Figures []Figure `json:"figures"`
}

// A Figure is a number by name.
type Figure struct {
	// Name of the quantity.
	Key string `json:"key"`
	// What a person calls it.
	Name string `json:"name"`
	// Unit of the value; left out for a bare number.
	Unit string `json:"unit,omitempty"`
	// The value; null where there is none.
	Value *float64 `json:"value"`
}
