package studies

import (
	"context"
	"errors"
	"fmt"
	"io"

	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/scenarios"
)

// Make costs every scenario at its own volume and over the volumes of the case, and makes the studies. It ends with
// term.ErrStopped soon after ctx is done.
func Make(ctx context.Context, program string, m *costmodel.Model, plans []*costmodel.Plan, stderr io.Writer) (*scenarios.Result, error) {
	r := &scenarios.Result{Program: program}
	volumes := study.UsualVolumes(m, plans)
	for _, p := range plans {
		if err := term.Stopped(ctx); err != nil {
			return nil, err
		}
		r.Details = append(r.Details, p.Detail(p.Scenario.Volume))
		s, err := p.Sweep(volumes)
		if err != nil {
			return nil, err
		}
		r.Sweeps = append(r.Sweeps, s)
	}
	studies := run{ctx: ctx, m: m, plans: plans, r: r, stderr: stderr}
	return r, studies.add(volumes)
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
		err := term.Stopped(s.ctx)
		if err == nil {
			err = of.make()
		}
		switch {
		case errors.Is(err, term.ErrStopped):
			return err
		case errors.Is(err, errTooMuch):
			fmt.Fprintf(s.stderr, "without the sheet %s: %v; `piececost %s` has no such limit\n", of.sheet, err, of.command)
		case err != nil:
			fmt.Fprintf(s.stderr, "without the sheet %s: %v\n", of.sheet, err)
		}
	}
	return nil
}
