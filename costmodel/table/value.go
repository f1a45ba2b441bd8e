package table

// A ValueKind says what a cell holds.
type ValueKind uint8

// The kinds of value.
const (
	Empty    ValueKind = iota
	Number             // Number; Percent where the cell is formatted as percent
	Text               // Text
	Flag               // Number is 1 or 0
	Date               // a date or time; no quantity has one
	Broken             // no usable value: Text says why, Help what to do
	Reckoned           // Number, which the program found and no cell holds
)

// A Value is the content of a cell, a native formula replaced by its result.
type Value struct {
	Kind    ValueKind
	Number  float64
	Text    string
	Help    string
	Percent bool
	Filled  bool // of an Empty value: the cell holds blanks or an empty result, which a spreadsheet counts as filled
	Place   Place
}
