package costmodel

// A Kind is where the default of an input, or the relation and the coefficients of an equation, come from, so that a reader knows what
// to trust and what to replace by own figures first.
type Kind string

// The kinds, from the one that needs least checking to the one that needs most.
const (
	Published      Kind = "published"       // read in the source that is named
	Derived        Kind = "derived"         // from mechanics, a balance or geometry: exact within its assumptions
	FromMemory     Kind = "from memory"     // the source that is named was not at hand
	CommonPractice Kind = "common practice" // a starting point of the trade, no source
	Placeholder    Kind = "placeholder"     // a coefficient to be calibrated with own figures
)

// Kinds lists them in this order.
var Kinds = []Kind{Published, Derived, FromMemory, CommonPractice, Placeholder}
