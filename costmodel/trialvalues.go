package costmodel

import (
	"math"

	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// A TrialQuantity is what the sheet Trial values says of one quantity of a part: what is asked of it, and what was measured of it, by grade and gauge.
// Where nothing was measured, a value is computed, or carried over from the base by a screening ratio, or not known.
type TrialQuantity struct {
	Part     string
	Label    string       // the quantity as it is called
	Unit     units.Unit   // of the first of its rows
	Ratio    ComparedName // that carries a measured value over from the base; "" for none
	computed string       // quantity of a part; "" where the program can't compute it
	known    bool         // the program knows the unit, so that it can convert
	relative bool

	rows []*trialValue
}

// A trialValue is a row of the sheet.
type trialValue struct {
	grade    string  // key of the sheet Materials; "" for every one
	gauge    float64 // m; NaN for every one
	atLeast  bool
	target   float64 // coherent; NaN for none
	measured float64 // coherent; NaN for none
	place    table.Place
}

// A TrialLimit is what is asked for in a grade at a gauge, in the quantity's unit.
type TrialLimit struct {
	AtLeast bool
	Value   float64
}

// TrialQuantities lists what the sheet Trial values says of a part, in its order.
func (m *Model) TrialQuantities(part string) (out []*TrialQuantity) {
	for _, q := range m.trialValues {
		if q.Part == part {
			out = append(out, q)
		}
	}
	return out
}

// Name returns the quantity with its part.
func (q *TrialQuantity) Name() string { return q.Label + " of " + q.Part }

// key is the same for what is one quantity of one part.
func (q *TrialQuantity) key() string { return table.Normalise(q.Label) + " of " + q.Part }

// SameGauge tells whether two gauges are one, in the same unit: a rounding of arithmetic is none of the mill.
func SameGauge(a, b float64) bool { return math.Abs(a-b) <= 1e-6*math.Abs(b) }

// Limits are what is asked for in a grade at a gauge (m): at most, at least or both. Of several rows the more specific one holds: grade and gauge,
// then grade, then gauge.
func (q *TrialQuantity) Limits(grade string, gauge float64) (out []TrialLimit) {
	for _, atLeast := range []bool{true, false} {
		best, value := -1, 0.0
		for _, r := range q.rows {
			if rank := r.specific(); !math.IsNaN(r.target) && r.atLeast == atLeast && r.covers(grade, gauge) && rank > best {
				best, value = rank, r.target
			}
		}
		if best >= 0 {
			out = append(out, TrialLimit{atLeast, q.Unit.Shown(value)})
		}
	}
	return out
}

// Measured is what was measured in a grade at a gauge (m), in the quantity's unit; NaN for nothing.
func (q *TrialQuantity) Measured(grade string, gauge float64) float64 {
	for _, r := range q.rows {
		if !math.IsNaN(r.measured) && r.covers(grade, gauge) {
			return q.Unit.Shown(r.measured)
		}
	}
	return math.NaN()
}

// Computed is what the program computes of it for a part, in the quantity's unit; NaN for nothing.
func (q *TrialQuantity) Computed(part Entry) float64 {
	if q.computed == "" {
		return math.NaN()
	}
	v, ok := part.Value(q.computed)
	if !ok {
		return math.NaN()
	}
	return q.Unit.Shown(v)
}

// Relative tells whether its values are ratios to the base, which itself is 1.
func (q *TrialQuantity) Relative() bool { return q.relative }

// MeasuredElsewhere lists the grades and gauges (m) that something was measured in and that are none of those tried.
func (q *TrialQuantity) MeasuredElsewhere(tried func(grade string, gauge float64) bool) (grades []string, gauges []float64) {
	for _, r := range q.rows {
		if !math.IsNaN(r.measured) && !tried(r.grade, r.gauge) {
			grades, gauges = append(grades, r.grade), append(gauges, r.gauge)
		}
	}
	return grades, gauges
}

// covers tells whether a row speaks of a grade at a gauge.
func (r *trialValue) covers(grade string, gauge float64) bool {
	return (r.grade == "" || r.grade == grade) && (math.IsNaN(r.gauge) || SameGauge(r.gauge, gauge))
}

// specific ranks rows: a grade counts more than a gauge.
func (r *trialValue) specific() int {
	rank := 0
	if r.grade != "" {
		rank += 2
	}
	if !math.IsNaN(r.gauge) {
		rank++
	}
	return rank
}

// Misses holds a value against a limit, both in one unit: a rounding of arithmetic is no miss.
func (l TrialLimit) Misses(value float64) bool {
	t := Target{atLeast: l.AtLeast}
	return t.misses(value, l.Value)
}

// Direction returns the direction as the sheet writes it.
func (l TrialLimit) Direction() string {
	t := Target{atLeast: l.AtLeast}
	return t.Direction()
}
