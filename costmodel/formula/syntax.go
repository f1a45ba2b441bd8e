package formula

// A Writing is one thing that an expression may be made of, for help.
type Writing struct {
	Example string
	Result  float64 // of an example of numbers only
	Names   bool    // the example needs names and has no result by itself
	Help    string
}

// Writings lists how expressions are written, in the order in which help lists it.
var Writings = []Writing{
	{Example: "1 + 2 * 3 - 4 / 2", Result: 5, Help: "sums and products; round brackets as usual"},
	{Example: "2 ^ 3", Result: 8, Help: "a power; -a^b and a^b^c need brackets"},
	{Example: `"5 cm" / "2 mm"`, Result: 25, Help: "a quantity with its unit stands in quotation marks; units are converted and must fit"},
	{Example: `"400 mm2" ^ 0.5 / "1 mm"`, Result: 20, Help: "a power of a quantity is written out, and its unit must come out whole"},
	{Example: `("900 degC" - "20 degC") / "1 K"`, Result: 880,
		Help: "degC and degF are levels: two of them have a difference in K, a level and a difference are a level, there is no more"},
	{Example: "3 > 2 ? 10 : 20", Result: 10, Help: "condition ? value : other value; comparisons are < <= > >= == !="},
	{Example: "3 > 2 and not (1 > 2) or 1 == 2 ? 1 : 0", Result: 1, Help: "conditions are joined by and, or, not"},
	{Example: "2 * pi", Names: true, Help: "pi is 3.14159..., beside a quantity too; yes and no are conditions"},
	{Example: "gauge * blank_length", Names: true, Help: "a quantity of the same row, by its name: small letters and underscores"},
	{Example: "material.density", Names: true, Help: "a quantity of a row that this row leads to"},
	{Example: "sum(children.joined_mass)", Names: true, Help: "the total over the rows that this row leads to"},
	{Example: "equipment_allocation.shared ? 1 : 2", Names: true, Help: "whether a choice is the one named"},
	{Example: "base * 1.1", Names: true, Help: "what stands in the input sheet, in a change of the sheet Scenarios or a range of Uncertainty"},
}
