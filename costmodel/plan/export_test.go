package plan

// Stands tells whether every decision of the current piece says at a volume what it says at the start of the piece, by
// the kernel alone.
func (w *Walker) Stands(n int) bool {
	l := newLanes(w.near.program, w.near.inputs, 1)
	l.run(n, n)
	for i := range w.decisions {
		if w.decisions[i].changed(l.lane(n)) {
			return false
		}
	}
	return true
}
