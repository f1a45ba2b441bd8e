package study

import "math"

// wholeVolumes keeps of roots over the annual volume what whole volumes have: between two of them several counts may jump one
// after the other, and a sign that changes there and back is none. Where the two differ by a jump, Below and Above are the
// measure at them.
func (q *search) wholeVolumes(roots []Root) []Root {
	var out []Root
	last := math.NaN() // the whole volume below the last root
	for _, root := range roots {
		low := math.Floor(root.before)
		switch {
		case root.Until > root.Value || !root.Jump && root.Value == math.Trunc(root.Value):
			out, last = append(out, root), math.NaN()
			continue
		case low == last:
			at := &out[len(out)-1]
			at.Jump = at.Jump || root.Jump
			continue
		}
		fs := q.at([]float64{low, low + 1})
		switch below, above := q.sign(fs[0]), q.sign(fs[1]); {
		case below*above == -1:
			root.Below, root.Above = fs[0], fs[1]
			out, last = append(out, root), low
		case below == 0 || above == 0: // it holds at a whole volume itself
			root.Value = low
			if below != 0 {
				root.Value = low + 1
			}
			root.Until, root.Jump = root.Value, false
			if n := len(out); n == 0 || out[n-1].Value != root.Value {
				out = append(out, root)
			}
		}
	}
	return out
}

// hair is how far beside a jump the measure is taken, as a share of the value: whole counts that jump at nearly the same value
// are then one jump.
const hair = 1e-5

// besideJumps takes the measure a hair beside each jump, where it is still on the same side of the target.
func (q *search) besideJumps(roots []Root, from, to float64) {
	for i := range roots {
		root := &roots[i]
		if !root.Jump {
			continue
		}
		d := hair * math.Abs(root.Value)
		fs := q.at([]float64{max(from, root.before-d), min(to, root.Value+d)})
		if q.sign(fs[0]) == q.sign(root.Below) && q.sign(fs[1]) == q.sign(root.Above) {
			root.Below, root.Above = fs[0], fs[1]
		}
	}
}
