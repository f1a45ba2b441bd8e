package study

import (
	"context"
	"fmt"
	"math"

	"piececost/costmodel"
)

// An AxisOf makes the values of an axis, in the unit of the input's cells: which is 0 for the first of two inputs, 1 for the
// second.
type AxisOf func(which int, v *costmodel.Varied) ([]float64, error)

// Axes responds to two inputs and makes their values, in the unit of the cells.
func (m Measure) Axes(x, y costmodel.Input, axis AxisOf) (r *Response, values [2][]float64, err error) {
	r, ds := m.Respond([]costmodel.Input{x, y})
	if r == nil || len(r.Inputs) < 2 {
		return nil, values, ds[0]
	}
	for i := range values {
		v := &r.Inputs[i]
		if !v.Present {
			return nil, values, fmt.Errorf("no scenario in question has the row of %s", v.Input)
		}
		if values[i], err = axis(i, v); err != nil {
			return nil, values, err
		}
	}
	return r, values, nil
}

// AskedAxes makes the axes of a question of the sheet Studies; points are the numbers of values where it says none.
func AskedAxes(q *costmodel.Question, m *costmodel.Model, points [2]int) AxisOf {
	return func(which int, v *costmodel.Varied) ([]float64, error) {
		asked := []costmodel.AskedInput{q.First, q.Second}[which]
		n := points[which]
		if asked.Points > 0 {
			n = asked.Points
		}
		if !math.IsNaN(asked.From) {
			return Axis{From: asked.From, To: asked.To, Points: n, ByRatio: asked.From > 0 && asked.To/asked.From >= 10}.Values()
		}
		a, ok := UsualAxis(m, v, n)
		if !ok {
			return nil, fmt.Errorf("%s has no base value above 0; write from where to where", v.Input)
		}
		return a.Values()
	}
}

// MapOver is BestRoute with axes made for the inputs, each as the first scenario has it that has its row and a value for
// the axis.
func MapOver(ctx context.Context, m *costmodel.Model, scenarios []*costmodel.Scenario, x, y costmodel.Input, volume float64, axis AxisOf) (*Map, error) {
	var inputs [2]costmodel.Varied
	var values [2][]float64
	for i, in := range []costmodel.Input{x, y} {
		v, list, err := axisAmong(m, scenarios, in, volume, func(v *costmodel.Varied) ([]float64, error) { return axis(i, v) })
		if err != nil {
			return nil, err
		}
		inputs[i], values[i] = *v, Coherent(v, list)
	}
	out, err := BestRoute(ctx, m, scenarios, inputs[0].Input, inputs[1].Input, values[0], values[1], volume)
	return out, err
}

// axisAmong makes the values of an input, in the unit of its cells, for the first scenario that has its row and a value for
// the axis. Where there is none, the error is that of the first scenario that has the row.
func axisAmong(m *costmodel.Model, scenarios []*costmodel.Scenario, in costmodel.Input, volume float64, axis func(*costmodel.Varied) ([]float64,
	error)) (*costmodel.Varied, []float64, error) {
	none := fmt.Errorf("no scenario in question has the row of %s", in)
	first := none
	for _, s := range scenarios {
		r, ds := Measure{Model: m, Scenario: s, Volume: volume}.Respond([]costmodel.Input{in})
		var err error
		switch {
		case r == nil:
			err = ds[0]
		case !r.Inputs[0].Present:
			continue
		default:
			var values []float64
			if values, err = axis(&r.Inputs[0]); err == nil {
				return &r.Inputs[0], values, nil
			}
		}
		if first == none {
			first = err
		}
	}
	return nil, nil, first
}

// TableOver is the measure over two inputs.
func (m Measure) TableOver(ctx context.Context, x, y costmodel.Input, axis AxisOf) (*TwoWay, *Response, error) {
	r, values, err := m.Axes(x, y, axis)
	if err != nil {
		return nil, nil, err
	}
	t, err := r.TwoWay(ctx, Coherent(&r.Inputs[0], values[0]), Coherent(&r.Inputs[1], values[1]))
	return t, r, err
}
