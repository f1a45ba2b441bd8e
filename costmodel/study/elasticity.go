package study

import (
	"math"
	"sort"

	"piececost/costmodel"
)

// An Elasticity says how strongly a measure follows an input at the base value, all else unchanged.
type Elasticity struct {
	Input costmodel.Varied
	// Value is by how many percent the measure grows for a percent of the input, from a central difference of a tenth of a
	// percent; NaN for a difference of two scenarios, which may be near 0.
	Value      float64
	PerPercent float64 // by how much the measure grows for a percent of the input
	Wide       float64 // PerPercent from a central difference of five percent
	Uneven     bool    // the two disagree by more than unevenShare: whole counts make steps, or the course is bent
	OneSided   bool    // only one side of the base value can be
}

// The steps of the differences, as shares of the base value.
const (
	smallStep = 1e-3
	wideStep  = 5e-2
)

// unevenShare is by how much of the larger the small and the wide difference may disagree. A smooth course stays below: of
// x^17, as bent as any that is met, they differ by 9 %; a whole count that steps makes them differ by half or more.
const unevenShare = 0.1

// Elasticities are those of all inputs at once: a block holds lanes in each of which one input is moved. They are ranked by
// what a percent of the input is worth, over the wide step where the small one is no guide. Inputs that are 0 at the base values or move
// nothing are left out.
func (r *Response) Elasticities() []Elasticity {
	var out []Elasticity
	baseValue := r.BaseValue()
	steps := []float64{-smallStep, smallStep, -wideStep, wideStep}
	per := r.Size() / len(steps)
	for from := 0; from < len(r.Inputs); from += per {
		n := min(per, len(r.Inputs)-from)
		for i := 0; i < n; i++ {
			for k, h := range steps {
				r.Scale(i*len(steps)+k, from+i, 1+h)
			}
		}
		results := r.Block(n * len(steps))
		for i := 0; i < n; i++ {
			v := r.Inputs[from+i]
			e := elasticity(v, baseValue, results[i*len(steps):(i+1)*len(steps)])
			if v.HasShares() && max(math.Abs(e.PerPercent), math.Abs(e.Wide)) > 1e-11*r.magnitude {
				out = append(out, e)
			}
			r.restore(from+i, n*len(steps))
		}
	}
	if len(r.sides) > 1 {
		for i := range out {
			out[i].Value = math.NaN()
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].weight() > out[j].weight() })
	return out
}

func (e *Elasticity) weight() float64 {
	if e.Uneven {
		return math.Abs(e.Wide)
	}
	return math.Abs(e.PerPercent)
}

// elasticity takes the results at minus and plus the small and the wide step.
func elasticity(v costmodel.Varied, baseValue float64, results []float64) Elasticity {
	e := Elasticity{Input: v}
	var one, other bool
	e.PerPercent, one = slope(results[0], baseValue, results[1], smallStep)
	e.Wide, other = slope(results[2], baseValue, results[3], wideStep)
	e.OneSided = one || other
	e.Value = e.PerPercent * 100 / baseValue
	e.Uneven = math.Abs(e.PerPercent-e.Wide) > unevenShare*max(math.Abs(e.PerPercent), math.Abs(e.Wide))
	return e
}

// slope is the change for a percent of the input; one-sided where one of the results is no number.
func slope(below, baseValue, above, step float64) (perPercent float64, oneSided bool) {
	switch {
	case below != below && above != above:
		return 0, true
	case below != below:
		return (above - baseValue) / step / 100, true
	case above != above:
		return (baseValue - below) / step / 100, true
	}
	return (above - below) / (2 * step) / 100, false
}
