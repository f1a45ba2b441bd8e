package costing

import (
	"context"
	"fmt"
	"slices"

	"piececost/costmodel"
	"piececost/costmodel/study"
)

// A Curve is what a good product of a scenario costs over annual volume.
type Curve struct {
	Scenario  string
	Volumes   []float64            // good products per year
	PieceCost []float64            // at each, model currency
	Elements  map[string][]float64 // by the element's key: its part of each, model currency
}

// Sweep costs a scenario, found as by Result.Scenario, at annual volumes (good products per year), or at those of the sheet
// Volumes, else at some around the scenarios' own, where none are given. The error is a Diagnostic where a volume gives no
// number, or that of ctx.
func (r *Result) Sweep(ctx context.Context, scenario string, volumes ...float64) (*Curve, error) {
	p, err := r.plan(scenario)
	if err != nil {
		return nil, err
	}
	for _, v := range volumes {
		if !costmodel.PossibleVolume(v) {
			return nil, fmt.Errorf("a volume of %v can't be costed", v)
		}
	}
	told, end := r.workbook.options.Progress.begin("volumes")
	defer end()
	s, err := p.SweepTold(ctx, r.volumes(volumes), told.Tell)
	if err != nil {
		return nil, err
	}
	c := &Curve{Scenario: p.Scenario.Name, Volumes: slices.Clone(s.Volumes), PieceCost: s.Columns[0], Elements: map[string][]float64{}}
	for i, e := range r.model.Schema.Elements {
		c.Elements[e.Name] = s.Columns[1+i]
	}
	return c, nil
}

// SweepsChosen costs every scenario at volumes chosen as by Sweep, each with the machines that cost least there for operations that name none.
func (r *Result) SweepsChosen(ctx context.Context, volumes ...float64) ([]*costmodel.ChosenSweep, error) {
	var out []*costmodel.ChosenSweep
	for _, p := range r.plans {
		s, err := p.SweepChosen(ctx, r.volumes(volumes))
		if err != nil {
			return nil, err
		}
		out = append(out, s)
	}
	return out, nil
}

// Sweeps costs every scenario at the same volumes, chosen as by Sweep.
func (r *Result) Sweeps(ctx context.Context, volumes ...float64) ([]*costmodel.Sweep, error) {
	told, end := r.workbook.options.Progress.begin("volumes")
	defer end()
	var out []*costmodel.Sweep
	for i, p := range r.plans {
		s, err := p.SweepTold(ctx, r.volumes(volumes), part(told, i, len(r.plans)).Tell)
		if err != nil {
			return nil, err
		}
		out = append(out, s)
	}
	return out, nil
}

// volumes are the volumes themselves, or the usual ones where there are none.
func (r *Result) volumes(asked []float64) []float64 {
	if len(asked) > 0 {
		return asked
	}
	return study.UsualVolumes(r.model, r.plans)
}
