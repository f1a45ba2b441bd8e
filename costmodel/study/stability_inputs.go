package study

import (
	"context"
	"fmt"
	"math"
	"sort"

	"piececost/costmodel"
)

// choose lists the inputs of a pair with their ranges and returns the runs: low and high of each.
func (s *stabilitySearch) choose(ctx context.Context, pair *StabilityPair) ([]orderRun, error) {
	if len(s.ask.Stated) > 0 {
		return s.stated(pair), nil
	}
	return s.shares(ctx, pair)
}

// stated takes the inputs of the sheet Uncertainty; both scenarios get the same value.
func (s *stabilitySearch) stated(pair *StabilityPair) []orderRun {
	var out []orderRun
	for _, u := range s.ask.Stated {
		sides, err := s.sides(pair, u.Input)
		if err != nil {
			pair.Unmoved = append(pair.Unmoved, fmt.Sprintf("%s: %v", u.Input, err))
			continue
		}
		pair.Inputs = append(pair.Inputs, StabilityInput{Input: *shownOf(sides), Low: StabilityEnd{Value: u.Low}, High: StabilityEnd{Value: u.High}})
		out = append(out, s.moved(pair, sides, u.Low), s.moved(pair, sides, u.High))
	}
	return out
}

// shares takes the inputs that move the difference of the two most, around the cross-over that is nearest to the second
// scenario's own volume, or around that volume where they have none.
func (s *stabilitySearch) shares(ctx context.Context, pair *StabilityPair) ([]orderRun, error) {
	second := s.plans[pair.Second].Scenario
	pair.Volume = nearestChange(pair.BaseValue, second.Volume)
	list, err := s.strongest(ctx, pair, Measure{Model: s.plans[0].Model, Scenario: second, Against: s.plans[pair.First].Scenario,
		ContinuousBatches: s.plans[pair.Second].ContinuousBatches()})
	if err != nil {
		return nil, err
	}
	var out []orderRun
	for i, c := range list {
		if s.ask.Top > 0 && len(pair.Inputs) == s.ask.Top {
			pair.Others = len(list) - i
			break
		}
		sides, err := s.sides(pair, c.input)
		if err != nil {
			pair.Unmoved = append(pair.Unmoved, fmt.Sprintf("%s: %v", c.input, err))
			continue
		}
		in := StabilityInput{Input: *shownOf(sides)}
		in.Low.Value, in.High.Value = c.low*in.Input.BaseValue, c.high*in.Input.BaseValue
		pair.Inputs = append(pair.Inputs, in)
		for i := range sides { // a cell that follows the volume goes on following it
			sides[i].Input.By = costmodel.ByFactor
		}
		out = append(out, s.moved(pair, sides, c.low), s.moved(pair, sides, c.high))
	}
	return out, nil
}

// candidate is an input that may be moved by a share, from low to high times the base value, and how far the difference moves.
type candidate struct {
	input     costmodel.Input
	low, high float64
	reach     Reach
}

// aroundChange are the volumes at which inputs are tried, as shares of that of the cross-over: not just there, where it
// often is a jump that any input may bring about or not.
var aroundChange = []float64{0.8, 0.9, 1.1, 1.25}

// choosing is how many runs trying all inputs counts for in the progress.
const choosing = 5

// strongest ranks the inputs that move a difference: first those that make it impossible, since a cross-over goes with it.
func (s *stabilitySearch) strongest(ctx context.Context, pair *StabilityPair, q Measure) ([]candidate, error) {
	inputs, ds := q.Moved(nil)
	if len(ds) > 0 {
		return nil, ds[0]
	}
	r, list, err := s.byShare(pair, q, inputs)
	if err != nil {
		return nil, err
	}
	var volumes []float64
	for _, k := range aroundChange {
		volumes = append(volumes, max(1, math.Round(k*float64(pair.Volume))))
	}
	reaches, err := r.Reaches(ctx, list, volumes, func(tried int) { s.report(s.length() * choosing * tried / len(list)) })
	if err != nil {
		return nil, err
	}
	crumb := 1e-11 * r.magnitude * float64(len(volumes)) // inputs that move it alike, such as two lengths of a blank, stay as in the sheets
	var out []candidate
	for i, g := range list {
		if reaches[i].Impossible || reaches[i].Far > crumb {
			in := r.Inputs[g.Input].Input
			in.By = costmodel.ByValue
			reaches[i].Far = math.Round(reaches[i].Far/crumb) * crumb
			out = append(out, candidate{in, g.Low, g.High, reaches[i]})
		}
	}
	sort.SliceStable(out, func(i, j int) bool {
		a, b := &out[i].reach, &out[j].reach
		if a.Impossible != b.Impossible {
			return a.Impossible
		}
		return a.Far > b.Far
	})
	return out, nil
}

// byShare responds to factors on inputs, so that a cell that rests on others goes on following them, and makes the range of
// each from the base value: at the scenario's own volume.
func (s *stabilitySearch) byShare(pair *StabilityPair, q Measure, inputs []costmodel.Input) (*Response, []Range, error) {
	values, ds := q.Respond(inputs)
	if values == nil {
		return nil, nil, ds.First("there is no input that can be moved")
	}
	of := map[costmodel.Input]Range{}
	var factors []costmodel.Input
	for _, g := range values.ShareRanges(s.ask.Share) {
		v := &values.Inputs[g.Input]
		switch {
		case v.IsLevel():
			pair.Unmoved = append(pair.Unmoved, fmt.Sprintf("%s: a level of temperature can't be multiplied", v.Input))
		case !v.IsVolume():
			in := v.Input
			in.By = costmodel.ByFactor
			of[in] = g
			factors = append(factors, in)
		}
	}
	r, ds := q.Respond(factors)
	if r == nil {
		return nil, nil, ds.First("there is no input that can be moved")
	}
	pair.Unmoved = append(append(pair.Unmoved, values.Dropped...), r.Dropped...)
	var list []Range
	for i := range r.Inputs {
		g := of[r.Inputs[i].Input]
		g.Input = i
		list = append(list, g)
	}
	return r, list, nil
}

// nearestChange is the cross-over nearest to a volume, or that volume where there is none.
func nearestChange(o Orders, volume float64) int {
	out := int(math.Round(volume))
	for i, n := range o.Changes {
		if i == 0 || math.Abs(float64(n)-volume) < math.Abs(float64(out)-volume) {
			out = n
		}
	}
	return max(1, out)
}

// sides finds an input in both scenarios; it must stand in one of them.
func (s *stabilitySearch) sides(pair *StabilityPair, in costmodel.Input) (out [2]costmodel.Varied, err error) {
	for i, n := range []int{pair.First, pair.Second} {
		v, d := s.plans[n].InputOf(in)
		switch {
		case d != nil:
			return out, fmt.Errorf("%s", d.Summary)
		case v.IsVolume():
			return out, fmt.Errorf("a cross-over is over the annual volume")
		}
		out[i] = v
	}
	if !out[0].Present && !out[1].Present {
		return out, fmt.Errorf("neither scenario has the row")
	}
	return out, nil
}

// shownOf is the input as the second scenario has it, or the first where that lacks the row.
func shownOf(sides [2]costmodel.Varied) *costmodel.Varied {
	if sides[1].Present {
		return &sides[1]
	}
	return &sides[0]
}

// moved is a run with the input at a value, or moved by it, in both scenarios; one that lacks the row stays as it is.
func (s *stabilitySearch) moved(pair *StabilityPair, sides [2]costmodel.Varied, value float64) orderRun {
	out := orderRun{pair: [2]int{pair.First, pair.Second}}
	for i, n := range out.pair {
		if v := &sides[i]; v.Present {
			out.fix[i] = s.plans[n].FixInput(v, value)
		}
	}
	return out
}
