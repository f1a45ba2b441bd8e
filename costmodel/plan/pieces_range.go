package plan

import "math"

// Restart begins the walk anew over another range of whole volumes above 0.
func (w *Walker) Restart(from, to int) {
	w.next, w.to, w.anchor = from, to, 0
	w.piece = Piece{Switched: w.piece.Switched[:0]}
}

// Changes tells about how many jumps lie between two volumes, from the registers at these two alone: a count counts by as
// much as it has grown, any other decision once. Counts that jump together are counted each, and what changes back unseen.
func (w *Walker) Changes(from, to int) float64 {
	w.near.pair(from, to)
	before, after := lane{w.near.columns, 0}, lane{w.near.columns, 1}
	out := 0.0
	for i := range w.decisions {
		d := &w.decisions[i]
		if moved := math.Abs(d.says(after) - d.says(before)); moved > 0 {
			out += min(moved, float64(to-from))
		}
	}
	return out
}
