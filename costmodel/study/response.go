package study

import (
	"math"
	"slices"

	"piececost/costmodel"
	"piececost/costmodel/table"
)

// A Response answers how a measure moves with inputs: both scenarios compiled with the same inputs as columns. Values are
// coherent, the measure is model currency per good piece. It owns its columns: one goroutine.
type Response struct {
	Inputs    []costmodel.Varied // as the scenario has them, or the other one where it lacks the row
	Dropped   []string           // inputs that can't be varied with the others, each with the reason
	sides     []side
	out       []float64
	narrow    narrowed
	touched   []int // inputs with values of the caller's in the lanes
	baseValue float64

	progress Progress // of the measure

	magnitude float64 // of a scenario's piece cost, which the measure's rounding errors are fractions of
}

// side is one of the scenarios.
type side struct {
	lanes   *costmodel.Lanes
	inputs  []costmodel.Varied
	volume  float64
	payMass bool
	sign    float64
}

func (m Measure) response(inputs []costmodel.Input, dropped []string) (*Response, table.Diagnostics) {
	var plans []*costmodel.Plan
	if ds := m.compile(inputs, &plans); ds != nil {
		return nil, ds
	}
	r := &Response{Dropped: dropped, progress: m.Progress}
	quantities := []string{"piece_cost"}
	if m.PayMass {
		quantities = append(quantities, "net_mass", "case.allowable_cost_of_mass_saving")
	}
	for i, p := range plans {
		lanes, err := p.Lanes(quantities...)
		if err != nil {
			return nil, table.Diagnostics{{Code: "vary", Severity: table.Error, Summary: err.Error(), Place: table.Place{File: m.Model.Case.File}}}
		}
		s := side{lanes: lanes, volume: p.Scenario.Volume, payMass: m.PayMass, sign: 1 - 2*float64(i)}
		if m.Volume > 0 {
			s.volume = m.Volume
		}
		s.inputs = p.VariedAt(s.volume)
		r.sides = append(r.sides, s)
	}
	r.out = make([]float64, r.Size())
	r.Inputs = append(r.Inputs, r.sides[0].inputs...)
	for i, v := range r.sides[len(r.sides)-1].inputs {
		if computed := r.Inputs[i].Computed || v.Computed; !r.Inputs[i].Present {
			r.Inputs[i] = v
		} else {
			r.Inputs[i].Computed = computed
		}
	}
	r.Reset()
	r.baseValue = r.Block(1)[0]
	for _, s := range r.sides {
		r.magnitude = max(r.magnitude, math.Abs(s.lanes.Block(1)[0][0]))
	}
	return r, nil
}

// Size returns the longest block.
func (r *Response) Size() int { return r.sides[0].lanes.Size() }

// Reset fills every lane with the base values.
func (r *Response) Reset() {
	for i := range r.sides {
		s := &r.sides[i]
		fill(s.lanes.Volumes(), s.volume)
		for n := range s.inputs {
			fill(s.lanes.Input(n), s.inputs[n].BaseValue)
		}
	}
	r.touched = nil
}

func fill(col []float64, v float64) {
	for i := range col {
		col[i] = v
	}
}

// Set gives a lane a value of an input, in both scenarios.
func (r *Response) Set(lane, input int, value float64) {
	r.touch(input)
	for i := range r.sides {
		r.sides[i].lanes.Input(input)[lane] = value
	}
}

// Scale multiplies the base value of an input in a lane, each scenario's its own.
func (r *Response) Scale(lane, input int, factor float64) {
	r.touch(input)
	for i := range r.sides {
		s := &r.sides[i]
		s.lanes.Input(input)[lane] = s.inputs[input].AtShare(factor)
	}
}

// restore gives the first n lanes the base value of an input again.
func (r *Response) restore(input, n int) {
	for i := range r.sides {
		s := &r.sides[i]
		fill(s.lanes.Input(input)[:n], s.inputs[input].BaseValue)
	}
	r.touched = slices.DeleteFunc(r.touched, func(t int) bool { return t == input })
}

// touch notes that an input has values of the caller's in some lanes.
func (r *Response) touch(input int) {
	if !slices.Contains(r.touched, input) {
		r.touched = append(r.touched, input)
	}
}

// blank takes out the lanes in which a value that was set is not possible, such as a negative price: no variant that could
// be.
func (r *Response) blank(out []float64) {
	for i := range r.sides {
		s := &r.sides[i]
		for _, t := range r.touched {
			in := s.inputs[t].Possible
			for j, v := range s.lanes.Input(t)[:len(out)] {
				if in.Known() && !in.Contains(v) {
					out[j] = math.NaN()
				}
			}
		}
	}
}

// Block returns the measure in the first n lanes, NaN where a lane gives no number. It is overwritten by the next Block.
func (r *Response) Block(n int) []float64 {
	out := r.out[:n]
	fill(out, 0)
	for i := range r.sides {
		s := &r.sides[i]
		cost := s.costs(s.lanes.Block(n))
		for j := range out {
			out[j] += s.sign * cost(j)
		}
	}
	r.blank(out)
	return finiteOnly(out)
}

// BaseValue returns the measure as the case stands.
func (r *Response) BaseValue() float64 { return r.baseValue }

// narrowed are the evaluators of the sides for one input alone, of which a search asks again and again.
type narrowed struct {
	input int
	lanes []*costmodel.NarrowLanes // by side
}

// narrowTo makes the evaluators for one input; every lane must be as it stands.
func (r *Response) narrowTo(input int) []*costmodel.NarrowLanes {
	if r.narrow.lanes == nil || r.narrow.input != input {
		r.narrow = narrowed{input: input}
		for i := range r.sides {
			r.narrow.lanes = append(r.narrow.lanes, r.sides[i].lanes.Narrow(input))
		}
	}
	return r.narrow.lanes
}

// At returns the measure for values of one input, all else unchanged. A scenario without the row is not costed anew.
func (r *Response) At(input int, values []float64) []float64 {
	return r.along(input, values, func(value float64, _ *costmodel.Varied) float64 { return value })
}

// AtShares is At for shares of the base value, each scenario's its own.
func (r *Response) AtShares(input int, shares []float64) []float64 {
	return r.along(input, shares, func(share float64, of *costmodel.Varied) float64 { return of.AtShare(share) })
}

// along evaluates one input at what value makes of each of the steps and a scenario's input as it is at the base values.
func (r *Response) along(input int, steps []float64, value func(step float64, of *costmodel.Varied) float64) []float64 {
	out := make([]float64, len(steps))
	for i, lanes := range r.narrowTo(input) {
		s := &r.sides[i]
		if !s.inputs[input].Present {
			baseValue := s.sign * s.costs(lanes.Block(1))(0)
			for j := range out {
				out[j] += baseValue
			}
			continue
		}
		col, of := lanes.Column(), &s.inputs[input]
		for from := 0; from < len(steps); from += lanes.Size() {
			n := min(len(steps)-from, lanes.Size())
			for j, x := range steps[from : from+n] {
				col[j] = value(x, of)
			}
			cost := s.costs(lanes.Block(n))
			for j := range n {
				if in := s.inputs[input].Possible; in.Known() && !in.Contains(col[j]) {
					out[from+j] = math.NaN()
				}
				out[from+j] += s.sign * cost(j)
			}
		}
		fill(col, of.BaseValue)
	}
	return finiteOnly(out)
}

// costs tells what each lane of a block of the side costs.
func (s *side) costs(cols [][]float64) func(lane int) float64 {
	if !s.payMass {
		return func(lane int) float64 { return cols[0][lane] }
	}
	return func(lane int) float64 { return cols[0][lane] + cols[2][lane]*cols[1][lane] }
}

// finiteOnly blanks what is no finite number.
func finiteOnly(out []float64) []float64 {
	for j, v := range out {
		if math.IsInf(v, 0) {
			out[j] = math.NaN()
		}
	}
	return out
}

// Magnitude returns the larger of the piece costs as the case stands.
func (r *Response) Magnitude() float64 { return r.magnitude }
