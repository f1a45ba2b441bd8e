package study

import (
	"math"
	"slices"
	"sort"
)

// scanValues lists the values looked at first, ascending, the base value among them.
func scanValues(from, to, baseValue float64, points int) []float64 {
	var xs []float64
	for i := 0; i <= points; i++ {
		xs = append(xs, from+(to-from)*float64(i)/float64(points))
	}
	xs[points] = to
	if low := max(from, to/1e4); low > 0 && to/low > 10 {
		for i := 0; i < points; i++ {
			xs = append(xs, low*math.Pow(to/low, float64(i)/float64(points)))
		}
	}
	if baseValue >= from && baseValue <= to {
		xs = append(xs, baseValue)
	}
	slices.Sort(xs)
	return slices.Compact(xs)
}

// search is one search under way.
type search struct {
	r         *Response
	input     int
	target    float64
	tolerance float64 // below which the target counts as met
	span      float64
	roots     []Root
}

func (q *search) at(xs []float64) []float64 {
	fs := q.r.At(q.input, xs)
	for i := range fs {
		fs[i] -= q.target
	}
	return fs
}

func (q *search) sign(f float64) int {
	switch {
	case f > q.tolerance:
		return 1
	case f < -q.tolerance:
		return -1
	case f == f:
		return 0
	}
	return 2 // no number
}

// maxRoots is where a search stops collecting.
const maxRoots = 200

// scan looks at neighbouring values for stretches where the target holds, changes of sign, and intervals that may hide
// some.
func (q *search) scan(xs, fs []float64, depth int) {
	for i := 0; i < len(xs) && len(q.roots) < maxRoots; i++ {
		here := q.sign(fs[i])
		if here == 0 {
			i = q.run(xs, fs, i)
			continue
		}
		if i+1 == len(xs) || here == 2 {
			continue
		}
		switch next := q.sign(fs[i+1]); {
		case here*next == -1:
			q.close(xs[i], xs[i+1], fs[i], fs[i+1])
		case next == here && depth < 2 && q.suspect(xs, fs, i):
			sub := between(xs[i], xs[i+1])
			q.scan(sub, q.at(sub), depth+1)
		}
	}
}

// suspect tells whether the course on either side of an interval would cross the target within it.
func (q *search) suspect(xs, fs []float64, i int) bool {
	h := 1.5 * (xs[i+1] - xs[i])
	crosses := func(a, b int) bool { // from a through b
		if a < 0 || a >= len(xs) || q.sign(fs[a]) == 2 {
			return false
		}
		return (fs[b]+(fs[b]-fs[a])/math.Abs(xs[b]-xs[a])*h)*fs[b] < 0
	}
	return crosses(i-1, i) || crosses(i+2, i+1)
}

// between cuts an interval into 64.
func between(a, b float64) []float64 {
	out := make([]float64, 0, 65)
	for k := 0; k <= 64; k++ {
		out = append(out, a+(b-a)*float64(k)/64)
	}
	out[64] = b
	return slices.Compact(out)
}

// close follows the changes of sign in an interval down to neighbouring numbers.
func (q *search) close(a, b, fa, fb float64) {
	if len(q.roots) >= maxRoots {
		return
	}
	xs := between(a, b)
	if len(xs) < 3 || b-a <= 4e-16*max(math.Abs(a), math.Abs(b)) {
		q.end(a, b, fa, fb)
		return
	}
	fs := q.at(xs)
	for i := 0; i+1 < len(xs); i++ {
		here, next := q.sign(fs[i]), q.sign(fs[i+1])
		switch {
		case here != 0 && next == 0:
			i = q.run(xs, fs, i+1)
		case here*next == -1:
			q.close(xs[i], xs[i+1], fs[i], fs[i+1])
		default:
			continue
		}
		if b-a < 1e-6*q.span {
			return // nearer than that, further changes are rounding
		}
	}
}

// run notes neighbouring values that meet the target, from the first on, and returns the last. Where they span no more than
// rounding, the middle is the root; else the target holds on a stretch.
func (q *search) run(xs, fs []float64, first int) (last int) {
	last = first
	for last+1 < len(xs) && q.sign(fs[last+1]) == 0 {
		last++
	}
	lo, hi := xs[first], xs[last]
	if first > 0 {
		lo = q.edge(xs[first-1], lo)
	}
	if last+1 < len(xs) {
		hi = q.edge(xs[last+1], hi)
	}
	root := Root{Value: lo, Until: hi, before: lo}
	if hi-lo <= 1e-7*q.span {
		root.Value = (lo + hi) / 2
		for i := first; i <= last; i++ {
			if fs[i] == 0 {
				root.Value = xs[i]
			}
		}
		root.Until = root.Value
	}
	q.roots = append(q.roots, root)
	return last
}

// edge finds how far a stretch on which the target holds reaches from inside toward outside.
func (q *search) edge(outside, inside float64) float64 {
	for math.Abs(outside-inside) > 4e-16*max(math.Abs(outside), math.Abs(inside)) {
		xs := between(min(outside, inside), max(outside, inside))
		if len(xs) < 3 {
			break
		}
		if inside > outside {
			slices.Reverse(xs)
		}
		fs := q.at(xs)
		k := 1
		for k < len(xs)-1 && q.sign(fs[k]) == 0 {
			k++
		}
		inside, outside = xs[k-1], xs[k]
	}
	return inside
}

// end decides whether a change of sign between neighbouring numbers is a root or a jump.
func (q *search) end(a, b, fa, fb float64) {
	x := b
	if math.Abs(fa) < math.Abs(fb) {
		x = a
	}
	q.roots = append(q.roots, Root{Value: x, Until: x, Jump: math.Abs(fb-fa) > 1e3*q.tolerance, Below: fa, Above: fb, before: a})
}

// sorted returns the roots by value, those that are one said once.
func (q *search) sorted(baseValue float64) []Root {
	sort.SliceStable(q.roots, func(i, j int) bool { return q.roots[i].Value < q.roots[j].Value })
	var out []Root
	for _, root := range q.roots {
		if n := len(out); n > 0 && root.Value-out[n-1].Until <= 1e-9*q.span {
			if out[n-1].Jump && !root.Jump {
				root.Distance = out[n-1].Distance
				out[n-1] = root
			}
			out[n-1].Until = max(out[n-1].Until, root.Until)
			continue
		}
		root.Distance = math.Abs(root.Nearest(baseValue)/baseValue - 1)
		if math.IsInf(root.Distance, 0) {
			root.Distance = math.NaN()
		}
		out = append(out, root)
	}
	return out
}
