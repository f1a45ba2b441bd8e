package study

import (
	"math"
	"slices"

	"piececost/costmodel"
)

// pieceSource names the volumes at which something may happen, from the pieces of the cost curves: both ends of every
// stretch in which no curve jumps, and inside one the neighbourhood of every place where two curves, or a curve and the
// other's edge of the band, come closer than rounding or where their distance turns. Where a curve has no form, or jumps so
// often that costing every volume is less work than finding the jumps, every volume is named.
type pieceSource struct {
	walks        []walk
	factors      []float64 // of the second curve: 1, and the edges of the band where it has a width
	from, at, to int       // first, next and last volume
	crowded      bool      // by the counts at both ends there are too many jumps
	walked       int       // stretches between two jumps so far
	stretches    []VolumeBand
	places       []VolumeBand // the memory of stretches, used again
}

// walk is a walk over the pieces of one scenario.
type walk interface {
	Restart(from, to int)
	Next() bool
	Piece() *costmodel.Piece
	Changes(from, to int) float64
}

func newPieceSource(plans []*costmodel.Plan, ask CrossoverAsk) *pieceSource {
	s := &pieceSource{factors: []float64{1}}
	if ask.Tolerance > 0 {
		s.factors = append(s.factors, 1+ask.Tolerance, 1/(1+ask.Tolerance))
	}
	for _, p := range plans {
		s.walks = append(s.walks, p.Pieces(ask.From, ask.To))
	}
	return s
}

// pieceWork is how many volumes of a scenario are costed in the time in which a piece is found: 25 to 60, by the case.
// probed is the number of stretches after which a range that seems crowded is given up: jumps may fall together.
const (
	pieceWork = 32
	probed    = 8
)

// start begins a range of volumes.
func (s *pieceSource) start(from, to int) {
	s.from, s.at, s.to, s.walked, s.stretches = from, from, to, 0, nil
	jumps := 0.0
	for _, w := range s.walks {
		w.Restart(from, to)
		w.Next()
		jumps += w.Changes(from, to)
	}
	s.crowded = jumps*s.stretchWork() > float64(to-from+1)
}

// stretchWork is how many volumes of all scenarios are costed in the time that goes into a stretch between two jumps, its
// two ends included.
func (s *pieceSource) stretchWork() float64 { return pieceWork/float64(len(s.walks)) + 2 }

// gaveUp tells whether the rest of the range is to be named as a whole.
func (s *pieceSource) gaveUp() bool {
	for _, w := range s.walks {
		if w.Piece().Cell.Open {
			return true
		}
	}
	return s.crowded && s.walked == probed && float64(s.at-s.from) < probed*s.stretchWork()
}

func (s *pieceSource) next() (VolumeBand, bool) {
	for len(s.stretches) == 0 && s.at <= s.to {
		to := s.to
		if s.gaveUp() {
			s.stretches = append(s.places[:0], VolumeBand{s.at, to})
			s.at = to + 1
			break
		}
		for _, w := range s.walks {
			for w.Piece().To < s.at {
				w.Next()
			}
			to = min(to, w.Piece().To)
		}
		s.inside(s.at, to)
		s.at = to + 1
		s.walked++
	}
	if len(s.stretches) == 0 {
		return VolumeBand{}, false
	}
	out := s.stretches[0]
	s.stretches = s.stretches[1:]
	return out, true
}

// shortStretch is the number of volumes up to which looking at all of them is no more work than looking for places.
const shortStretch = 8

// inside names the volumes of a stretch in which no curve jumps.
func (s *pieceSource) inside(from, to int) {
	s.places = append(s.places[:0], VolumeBand{from, to})
	s.stretches = s.places
	if to-from < shortStretch {
		return
	}
	for _, w := range s.walks {
		c := curveOf(w.Piece().Cell)
		if v := c.at(from); w.Piece().Cell.Open || !(w.Piece().Cell.Slack <= 1e-9*v) || c.least(from, to) <= 0 {
			return
		}
	}
	places := append(s.places[:0], VolumeBand{from, from}, VolumeBand{to, to})
	for i := range s.walks {
		for j := i + 1; j < len(s.walks); j++ {
			places = s.between(places, s.walks[i].Piece().Cell, s.walks[j].Piece().Cell, from, to)
		}
	}
	s.places = places
	s.stretches = joined(places)
}

// between adds the places of two curves.
func (s *pieceSource) between(places []VolumeBand, a, b costmodel.Smooth, from, to int) []VolumeBand {
	if a == b {
		return places // the same curve computed by the same operations
	}
	for _, k := range s.factors {
		d := smoothCurve{a.Inverse - k*b.Inverse, a.Constant - k*b.Constant, a.Slope - k*b.Slope}
		margin := a.Slack + k*b.Slack + 2*equalCosts*(a.At(float64(from))+k*b.At(float64(from)))
		turn, turns := d.turn(from, to)
		if !turns {
			places = d.near(places, margin, from, to)
			continue
		}
		places = append(places, VolumeBand{turn, turn + 1})
		places = d.near(places, margin, from, turn)
		places = d.near(places, margin, turn+1, to)
	}
	return places
}

// joined sorts stretches and joins those that touch.
func joined(list []VolumeBand) []VolumeBand {
	slices.SortFunc(list, func(a, b VolumeBand) int { return a.From - b.From })
	out := list[:1]
	for _, b := range list[1:] {
		if last := &out[len(out)-1]; b.From <= last.To+1 {
			last.To = max(last.To, b.To)
		} else {
			out = append(out, b)
		}
	}
	return out
}

// A smoothCurve is inverse/n + constant + slope*n over the volume n.
type smoothCurve struct{ inverse, constant, slope float64 }

func curveOf(s costmodel.Smooth) smoothCurve { return smoothCurve{s.Inverse, s.Constant, s.Slope} }

func (c smoothCurve) at(n int) float64 {
	return c.inverse/float64(n) + c.constant + c.slope*float64(n)
}

// turn returns the whole volume at or before the place where the curve turns from falling to rising or the other way
// round, if that lies inside.
func (c smoothCurve) turn(from, to int) (int, bool) {
	if !(c.inverse*c.slope > 0) {
		return 0, false
	}
	t := math.Sqrt(c.inverse / c.slope)
	if !(t > float64(from) && t < float64(to)) {
		return 0, false
	}
	return int(t), true
}

// least is the lowest value of the curve between two volumes.
func (c smoothCurve) least(from, to int) float64 {
	out := min(c.at(from), c.at(to))
	if t, ok := c.turn(from, to); ok {
		out = min(out, c.at(t), c.at(t+1))
	}
	return out
}

// near adds the volumes at which the curve, which only rises or only falls between two volumes, is within the margin of 0
// or passes it, with one more on either side.
func (c smoothCurve) near(places []VolumeBand, margin float64, from, to int) []VolumeBand {
	sign := 1.0
	if c.at(from) > c.at(to) {
		sign = -1
	}
	rising := func(n int) float64 { return sign * c.at(n) }
	if rising(from) > margin || rising(to) < -margin {
		return places
	}
	enters := firstOf(from, to, func(n int) bool { return rising(n) >= -margin })
	leaves := firstOf(from, to, func(n int) bool { return rising(n) > margin })
	return append(places, VolumeBand{max(from, enters-1), min(to, leaves)})
}

// firstOf returns the first volume at which a condition holds that holds from some volume on; to+1 where it never does.
func firstOf(from, to int, holds func(int) bool) int {
	for from <= to {
		if mid := from + (to-from)/2; holds(mid) {
			to = mid - 1
		} else {
			from = mid + 1
		}
	}
	return from
}
