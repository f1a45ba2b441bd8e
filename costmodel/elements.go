package costmodel

// Elements are the cost elements in the one order in which they are shown everywhere: the names of quantities of an
// operation, a part and a scenario (there with the prefix piece_ for a good product).
var Elements = []string{"material", "scrap_credit", "purchased_parts", "consumables", "energy", "labour", "equipment",
	"building", "maintenance", "tooling", "overhead", "working_capital"}

// ElementLabel writes an element as a heading.
func ElementLabel(name string) string { return labelOf(name) }

// SweepQuantities are the quantities of a scenario that a sweep computes: the piece cost, then its elements.
func SweepQuantities() []string {
	out := []string{"piece_cost"}
	for _, e := range Elements {
		out = append(out, pieceElement(e))
	}
	return out
}

// pieceElement is the name of a scenario's element a good product.
func pieceElement(element string) string { return "piece_" + element }
