package study

import (
	"context"
	"math"
	"sort"
	"strings"

	"piececost/costmodel"
)

// A Root is a value of an input at which a measure meets a target, or at which it jumps over it.
type Root struct {
	Value    float64 // coherent
	Until    float64 // the end of a stretch on which the target holds throughout; else Value
	Jump     bool    // no value meets the target: it is jumped over at Value
	Below    float64 // measure less target before and after a jump: at the whole volumes around it, or a hair beside it
	Above    float64
	Distance float64 // from the base value, as a share of it; NaN where the base value is 0 or unknown

	before float64 // the number just below the value at which the sign changes
}

// Nearest returns the value that is nearest to the base value: of a stretch one of its ends, or the base value itself.
func (r Root) Nearest(baseValue float64) float64 {
	return min(max(baseValue, r.Value), r.Until)
}

// A Solution is what a search found.
type Solution struct {
	Input     costmodel.Varied
	From, To  float64 // searched, coherent
	Range     RangeKind
	BaseValue float64 // the measure as the case stands
	Target    float64
	Roots     []Root  // by value
	Idle      bool    // the input moves nothing
	Nearest   float64 // where there is no root: the value that comes closest
	Miss      float64 // measure less target there; NaN where no value gives a number
}

// A RangeKind says why a range was searched.
type RangeKind string

// The kinds of range.
const (
	RangeAsked     RangeKind = "as asked"
	RangePlausible RangeKind = "its plausible range"
	RangeShare     RangeKind = "no plausible range known, so to 100 %"
	RangeTimes     RangeKind = "no plausible range known, so to 10 times the base value"
	RangeLevel     RangeKind = "no plausible range known, so to 1,000 K either way"
	RangeVolume    RangeKind = "a twentieth to twenty times the base volume"
	RangeUnknown   RangeKind = "no range is known"
)

// SearchRange is where a search looks without further word: the plausible range, which is stretched to hold the base value,
// or a wide one around the base value.
func SearchRange(v *costmodel.Varied) (from, to float64, kind RangeKind) {
	known := !math.IsNaN(v.BaseValue)
	switch {
	case v.IsVolume():
		return v.BaseValue / 20, v.BaseValue * 20, RangeVolume
	case v.HasRange() && known:
		return min(v.Low, v.BaseValue), max(v.High, v.BaseValue), RangePlausible
	case v.HasRange():
		return v.Low, v.High, RangePlausible
	case v.IsLevel() && known:
		return v.AtShare(-9), v.AtShare(11), RangeLevel
	case strings.Contains(v.Unit.Text, "%") && !(v.BaseValue < 0 || v.BaseValue > v.Coherent(100)):
		return 0, v.Coherent(100), RangeShare
	case v.BaseValue > 0:
		return 0, 10 * v.BaseValue, RangeTimes
	case v.BaseValue < 0:
		return 10 * v.BaseValue, 0, RangeTimes
	}
	return math.NaN(), math.NaN(), RangeUnknown
}

// The numbers of values looked at before a search closes in: for one input, and for each of many.
const (
	finePoints   = 2048
	coarsePoints = 128
)

// Solve finds every value of an input in a range at which the measure meets the target. The range is scanned at 2,048
// values evenly spaced, and again by ratio where it spans more than a decade; each change of sign is closed in to
// neighbouring numbers, and so is each interval in which the course before or after it would cross the target. A change of
// sign that does not close is a jump.
func (r *Response) Solve(input int, target, from, to float64, kind RangeKind) Solution {
	return r.solve(input, target, from, to, kind, finePoints)
}

func (r *Response) solve(input int, target, from, to float64, kind RangeKind, points int) Solution {
	s := Solution{Input: r.Inputs[input], From: from, To: to, Range: kind, BaseValue: r.BaseValue(), Target: target, Nearest: math.NaN(), Miss: math.NaN()}
	if math.IsNaN(from) || math.IsNaN(to) {
		return s
	}
	q := &search{r: r, input: input, target: target, tolerance: 1e-10 * max(r.magnitude, math.Abs(target)), span: to - from}
	xs := scanValues(from, to, s.Input.BaseValue, points)
	fs := q.at(xs)
	lo, hi := math.Inf(1), math.Inf(-1)
	if baseValue := s.Input.BaseValue; baseValue >= from && baseValue <= to {
		s.Nearest, s.Miss = baseValue, s.BaseValue-target
	}
	for i, f := range fs {
		if f == f {
			lo, hi = min(lo, f), max(hi, f)
			if !(math.Abs(f) >= math.Abs(s.Miss)-q.tolerance) {
				s.Nearest, s.Miss = xs[i], f
			}
		}
	}
	if s.Idle = hi-lo <= 1e-11*r.magnitude; s.Idle {
		return s
	}
	q.scan(xs, fs, 0)
	s.Roots = q.sorted(s.Input.BaseValue)
	if s.Input.IsVolume() {
		s.Roots = q.wholeVolumes(s.Roots)
	} else {
		q.besideJumps(s.Roots, from, to)
	}
	return s
}

// Closest returns the root nearest to the base value, one that holds before a jump; ok is false without a root.
func (s *Solution) Closest() (Root, bool) {
	best, found := Root{Distance: math.NaN()}, false
	for _, root := range s.Roots {
		better := !found || best.Jump && !root.Jump || best.Jump == root.Jump && !(root.Distance >= best.Distance)
		if better {
			best, found = root, true
		}
	}
	return best, found
}

// SolveEach looks for the target with each input in turn, all else unchanged, over its search range. Inputs that move
// nothing are left out. Those with a root or a jump come first, the nearest to the base value before others and those that are
// 0 at the base values last, then those without by how near they come.
func (r *Response) SolveEach(ctx context.Context, target float64) ([]Solution, error) {
	var out []Solution
	for i := range r.Inputs {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		r.progress.Tell(float64(i) / float64(len(r.Inputs)))
		from, to, kind := SearchRange(&r.Inputs[i])
		if s := r.solve(i, target, from, to, kind, coarsePoints); !s.Idle && kind != RangeUnknown {
			out = append(out, s)
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return before(&out[i], &out[j]) })
	return out, nil
}

func before(a, b *Solution) bool {
	x, hasX := a.Closest()
	y, hasY := b.Closest()
	switch {
	case hasX != hasY:
		return hasX
	case !hasX:
		return math.Abs(a.Miss) < math.Abs(b.Miss)
	}
	// what differs by rounding stays in the order of the sheets: length and width of a blank need the same change
	dx, dy := math.Round(x.Distance*1e9), math.Round(y.Distance*1e9)
	return dx < dy || dx == dx && dy != dy
}
