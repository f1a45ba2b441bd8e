package study

import (
	"context"
	"fmt"
	"math"
	"slices"

	"piececost/costmodel"
	"piececost/costmodel/table"
)

// A Map says which scenario is cheapest at every pair of values of two inputs.
type Map struct {
	Scenarios []*costmodel.Scenario
	X, Y      costmodel.Varied
	Xs, Ys    []float64     // coherent
	Costs     [][][]float64 // by scenario, Y, X; NaN where a pair can't be
	Cheapest  [][]int       // by Y, X: index of the scenario, the first of equals; -1 where none gives a number
	Margin    [][]float64   // by Y, X: how much the second best costs more, money per good piece; NaN without a second
}

// BestRoute evaluates the scenarios of a model over two inputs. volume (1/yr) holds for all where it is above 0 and no axis
// is the annual volume.
func BestRoute(ctx context.Context, m *costmodel.Model, scenarios []*costmodel.Scenario, x, y costmodel.Input, xs, ys []float64, volume float64) (*Map, error) {
	out := &Map{Scenarios: scenarios, Xs: xs, Ys: ys}
	for _, s := range scenarios {
		r, ds := Measure{Model: m, Scenario: s, Volume: volume}.pair(x, y)
		if r == nil {
			return nil, ds[0]
		}
		t, err := r.TwoWay(ctx, xs, ys)
		if err != nil {
			return nil, err
		}
		out.Costs = append(out.Costs, t.Cells)
		if len(out.Costs) == 1 || !out.X.Present {
			out.X = t.X
		}
		if len(out.Costs) == 1 || !out.Y.Present {
			out.Y = t.Y
		}
	}
	out.compare()
	return out, nil
}

// pair responds to exactly two inputs; one that can't be varied is an error.
func (m Measure) pair(x, y costmodel.Input) (*Response, table.Diagnostics) {
	return m.response([]costmodel.Input{x, y}, nil)
}

func (m *Map) compare() {
	for j := range m.Ys {
		best, margin := make([]int, len(m.Xs)), make([]float64, len(m.Xs))
		for i := range m.Xs {
			best[i], margin[i] = m.at(j, i)
		}
		m.Cheapest, m.Margin = append(m.Cheapest, best), append(m.Margin, margin)
	}
}

// at finds the cheapest scenario of a pair and its distance to the next.
func (m *Map) at(j, i int) (best int, margin float64) {
	best = -1
	second := math.NaN()
	for s := range m.Scenarios {
		c := m.Costs[s][j][i]
		switch {
		case c != c:
		case best < 0:
			best = s
		case c < m.Costs[best][j][i]:
			second = m.Costs[best][j][i]
			best = s
		case !(c >= second):
			second = c
		}
	}
	if best < 0 {
		return best, math.NaN()
	}
	return best, second - m.Costs[best][j][i]
}

// An Axis is a choice of values of an input, in the unit of its cells.
type Axis struct {
	From, To float64
	Points   int
	ByRatio  bool // evenly spaced by ratio, else by difference
}

// Values lists the values of an axis, ascending: the ends as they are, the others rounded to numbers that can be said. There
// may be fewer than asked where rounding makes two equal.
func (a Axis) Values() ([]float64, error) {
	switch {
	case a.Points < 2 || a.Points > 1000:
		return nil, fmt.Errorf("an axis has 2 to 1,000 points, not %d", a.Points)
	case !(a.From < a.To) || math.IsInf(a.To, 0) || math.IsInf(a.From, 0):
		return nil, fmt.Errorf("an axis runs from a lower to a higher value, not from %v to %v", a.From, a.To)
	case a.ByRatio && !(a.From > 0):
		return nil, fmt.Errorf("an axis by ratio begins above 0, not at %v", a.From)
	}
	out := []float64{a.From}
	for i := 1; i < a.Points-1; i++ {
		share := float64(i) / float64(a.Points-1)
		var v, grain float64
		if a.ByRatio {
			v = a.From * math.Pow(a.To/a.From, share)
			grain = v * (1 - math.Pow(a.From/a.To, 1/float64(a.Points-1)))
		} else {
			v, grain = a.From+(a.To-a.From)*share, (a.To-a.From)/float64(a.Points-1)
		}
		if v = rounded(v, grain/5); v > out[len(out)-1] && v < a.To {
			out = append(out, v)
		}
	}
	return append(out, a.To), nil
}

// rounded rounds to a power of ten times 1 or 5 that is at most the grain.
func rounded(v, grain float64) float64 {
	exp := math.Floor(math.Log10(grain))
	times := 1.0
	if grain/math.Pow(10, exp) >= 5 {
		times = 5
	}
	if exp < 0 { // dividing by a whole power keeps decimals clean
		p := math.Pow(10, -exp)
		return math.Round(v*p/times) * times / p
	}
	unit := times * math.Pow(10, exp)
	return math.Round(v/unit) * unit
}

// UsualAxis is the axis of an input without further word: for the annual volume the volumes of the case, or a tenth to three
// times the base value, by ratio; else half to double the base value, within its plausible range. ok is false for an input without
// a value above 0 at the base values.
func UsualAxis(m *costmodel.Model, v *costmodel.Varied, points int) (a Axis, ok bool) {
	if !(v.BaseValue > 0) && !(v.IsLevel() && v.HasShares()) {
		return Axis{}, false
	}
	if v.IsVolume() {
		if n := len(m.Volumes); n > 1 {
			return Axis{From: m.Volumes[0], To: m.Volumes[n-1], Points: points, ByRatio: true}, true
		}
		return Axis{From: math.Max(1, math.Round(v.BaseValue/10)), To: math.Round(3 * v.BaseValue), Points: points, ByRatio: true}, true
	}
	from, to := v.AtShare(0.5), v.AtShare(2)
	if v.HasRange() {
		from, to = max(from, min(v.Low, v.BaseValue)), min(to, max(v.High, v.BaseValue))
	}
	a = roundAxis(v.Shown(from), v.Shown(to), points)
	return a, a.From < a.To
}

// roundAxis finds an even axis inside a range whose values are all multiples of 1, 2, 2.5 or 5 times a power of ten, with
// about the given number of points.
func roundAxis(from, to float64, points int) Axis {
	least := (to - from) / float64(points-1)
	exp := math.Floor(math.Log10(least))
	for _, times := range []float64{1, 2, 2.5, 5, 10} {
		step := times * math.Pow(10, exp)
		if step < 0.75*least {
			continue
		}
		first, last := math.Ceil(from/step-1e-9), math.Floor(to/step+1e-9)
		if last-first >= 2 {
			return Axis{From: rounded(first*step, step/5), To: rounded(last*step, step/5), Points: int(last-first) + 1}
		}
	}
	return Axis{From: from, To: to, Points: points}
}

// Coherent turns the values of an axis into coherent ones.
func Coherent(v *costmodel.Varied, values []float64) []float64 {
	out := slices.Clone(values)
	for i := range out {
		out[i] = v.Coherent(out[i])
	}
	return out
}
