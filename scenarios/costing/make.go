package costing

import (
	"cmp"
	"context"
	"errors"
	"fmt"

	"piececost/costmodel/study"
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

// A studyOf is a study that has a sheet, and the command that makes it alone.
type studyOf struct {
	sheet, command string
	make           func(*run) error
}

// add fills in the studies, on all cores; one that can't be made is said and has no sheet. Each fills fields of the result of its
// own, and what they say comes in their order.
func (s *run) add(volumes []float64) error {
	for _, d := range s.r.Details {
		s.steps += len(d.Entries("operation"))
	}
	list := []studyOf{
		{"Scenario comparison", "compare", (*run).compare},
		{"Cross-over", "crossover", (*run).crossover},
		{"Cross-over stability", "crossover --stability", (*run).stability},
		{"Sensitivity", "sensitivity", (*run).sensitivity},
		{"Least-cost map", "map", (*run).maps},
		{"Break-even values", "solve", (*run).solve},
		{"Least-cost combination", "combine", (*run).combine},
		{"Capacity and investment", "volumes", func(s *run) error { return s.volumes(volumes) }},
		{"Trial matrix", "trial", (*run).trials},
		{"Tool fits", "fit", (*run).toolFits},
	}
	progress := s.progress.oneAtATime()
	return study.InOrder(s.ctx, len(list), func() func(int, *[]string) {
		return func(i int, said *[]string) {
			own := *s
			*said = nil
			own.progress, own.notice = progress, func(words string) { *said = append(*said, words) }
			own.try(list[i])
		}
	}, func(said *[]string) error {
		for _, words := range *said {
			s.notice(words)
		}
		return nil
	})
}

// try makes a study, or says why there is none.
func (s *run) try(of studyOf) {
	if s.ctx.Err() != nil {
		return
	}
	switch err := of.make(s); {
	case s.ctx.Err() != nil: // which whoever asked for the run learns
	case errors.Is(err, errTooMuch):
		s.notice(fmt.Sprintf("without the sheet %s: %v; `piececost %s` has no such limit", of.sheet, err, of.command))
	case err != nil:
		s.notice(fmt.Sprintf("without the sheet %s: %v", of.sheet, err))
	}
}
