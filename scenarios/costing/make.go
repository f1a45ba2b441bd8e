package costing

import (
	"cmp"
	"context"
	"errors"
	"fmt"

	"piececost/scenarios"
)

// studies are the costs of every scenario at its own volume and over the volumes of the case, and the studies that have a
// sheet. It ends with the error of ctx soon after that is done. What is left out is said to notice.
func (r *Result) studies(ctx context.Context, notice func(words string)) (*scenarios.Result, error) {
	out := &scenarios.Result{Program: cmp.Or(r.workbook.options.Program, "piececost")}
	volumes := r.volumes(nil)
	for i, p := range r.plans {
		out.Details = append(out.Details, r.Scenarios[i].detail)
		s, err := p.SweepTold(ctx, volumes, func(float64) {})
		if err != nil {
			return nil, err
		}
		out.Sweeps = append(out.Sweeps, s)
	}
	studies := run{ctx: ctx, m: r.model, plans: r.plans, r: out, progress: r.workbook.options.Progress, notice: notice}
	return out, studies.add(volumes)
}

// add fills in the studies; one that can't be made is said and has no sheet.
func (s *run) add(volumes []float64) error {
	for _, d := range s.r.Details {
		s.steps += len(d.Entries("operation"))
	}
	for _, of := range []struct {
		sheet, command string
		make           func() error
	}{
		{"Scenario comparison", "compare", s.compare},
		{"Cross-over", "crossover", s.crossover},
		{"Cross-over stability", "crossover --stability", s.stability},
		{"Sensitivity", "sensitivity", s.sensitivity},
		{"Least-cost map", "map", s.maps},
		{"Break-even values", "solve", s.solve},
		{"Least-cost combination", "combine", s.combine},
		{"Capacity and investment", "volumes", func() error { return s.volumes(volumes) }},
	} {
		err := s.ctx.Err()
		if err == nil {
			err = of.make()
		}
		switch {
		case s.ctx.Err() != nil:
			return s.ctx.Err()
		case errors.Is(err, errTooMuch):
			s.notice(fmt.Sprintf("without the sheet %s: %v; `piececost %s` has no such limit", of.sheet, err, of.command))
		case err != nil:
			s.notice(fmt.Sprintf("without the sheet %s: %v", of.sheet, err))
		}
	}
	return nil
}
