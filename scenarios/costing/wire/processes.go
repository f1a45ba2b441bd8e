package wire

// Processes is the answer of processes: the pages of the library, or the one that was asked for.
type Processes struct {
	Answer
	// For what forces, pressures, temperatures and speeds may be used.
	Caution string `json:"caution"`
	// The pages: processes by group, then forms of material, then kinds of tool, then what all rows of a sheet share.
	Pages []Page `json:"pages"`
}

// A Page is what the library knows of a process, a form of material, a kind of tool or the rows of a sheet.
type Page struct {
	// Name of the process or form, as the sheets Operations and Parts take it; a kind of tool; of shared equations the scope.
	Name string `json:"name"`
	// process, form, tool, size (by what a machine is sized) or shared.
	Sort string `json:"sort"`
	// Other names that are taken for it.
	Aliases []string `json:"aliases,omitempty"`
	// Part of DIN 8580, and standard.
	Group string `json:"group,omitempty"`
	// What it is.
	What string `json:"what,omitempty"`
	// When it is the right one.
	Fits string `json:"fits,omitempty"`
	// When another is.
	FitsNot string `json:"fits_not,omitempty"`
	// Of a process: the kind of tool that it mostly takes.
	ToolKind string `json:"tool_kind,omitempty"`
	// Further remarks.
	Note string `json:"note,omitempty"`
	// For what its forces, pressures, temperatures and speeds may be used.
	Caution string `json:"caution,omitempty"`
	// The inputs, in order.
	Inputs []PageInput `json:"inputs"`
	// The relations, in order.
	Relations []PageRelation `json:"relations"`
	// The limits.
	Limits []PageLimit `json:"limits"`
	// One use with numbers; left out where there is none.
	Example *PageExample `json:"example,omitempty"`
}

// A PageExample is one use of a process with numbers. Its results were published or reckoned by hand, never taken from the program,
// which reckons the same.
type PageExample struct {
	// The thing, in words.
	What string `json:"what"`
	// What is given; all else has its default.
	Given []PageFigure `json:"given"`
	// The few results that matter.
	Results []PageResult `json:"results"`
	// Of the results that were published.
	Source string `json:"source,omitempty"`
}

// A PageFigure is a number that an example gives.
type PageFigure struct {
	// Name, as an expression of an operation has it: part.gauge, bead_speed.
	Name string `json:"name"`
	// The number, in the unit.
	Value float64 `json:"value"`
	// Unit; 1 for a plain number.
	Unit string `json:"unit"`
}

// A PageResult is a number that an example leads to.
type PageResult struct {
	// Name of the quantity.
	Name string `json:"name"`
	// The number, in the unit, rounded.
	Value float64 `json:"value"`
	// Unit; 1 for a plain number.
	Unit string `json:"unit"`
	// published or by hand.
	Origin string `json:"origin"`
}

// A PageInput is a quantity that a cell gives.
type PageInput struct {
	// Name, as expressions have it.
	Name string `json:"name"`
	// Heading of its column.
	Label string `json:"label"`
	// Symbol.
	Symbol string `json:"symbol,omitempty"`
	// Unit; left out for a choice.
	Unit string `json:"unit,omitempty"`
	// The words of a choice.
	Options []string `json:"options,omitempty"`
	// Number or expression that stands for an empty cell; left out where there is none.
	Default string `json:"default,omitempty"`
	// What holds in turn where the default leads to a quantity that the row's part does not have.
	Otherwise []string `json:"otherwise,omitempty"`
	// default, required (must be given), instead (may be given instead of another) checks (only checks need it) or own (nothing of the library reads it).
	Need string `json:"need"`
	// Input that follows from this one where it is not given itself.
	InsteadOf string `json:"instead_of,omitempty"`
	// Interval that a value must lie in, in the unit.
	Possible string `json:"possible,omitempty"`
	// Lower and upper end of what is expected, in the unit.
	Plausible []float64 `json:"plausible,omitempty"`
	// Where the default comes from: published, derived, from memory, common practice or placeholder.
	Kind string `json:"kind,omitempty"`
	// Explanation.
	Note string `json:"note,omitempty"`
	// Source of the default.
	Source string `json:"source,omitempty"`
}

// A PageRelation is a quantity that is reckoned.
type PageRelation struct {
	// Name, as expressions have it.
	Name string `json:"name"`
	// Heading of a column that overrides it.
	Label string `json:"label"`
	// Symbol.
	Symbol string `json:"symbol,omitempty"`
	// Unit; flag for a condition.
	Unit string `json:"unit,omitempty"`
	// The equation.
	Is string `json:"is"`
	// Interval that a value must lie in, in the unit.
	Possible string `json:"possible,omitempty"`
	// Where relation and coefficients come from: published, derived, from memory, common practice or placeholder.
	Kind string `json:"kind,omitempty"`
	// Explanation.
	Note string `json:"note,omitempty"`
	// Source.
	Source string `json:"source,omitempty"`
}

// A PageLimit is a condition that should hold.
type PageLimit struct {
	// The condition.
	Holds string `json:"holds"`
	// What is said where it does not hold.
	Say string `json:"say"`
	// error (nothing is computed) or warning.
	Severity string `json:"severity"`
}
