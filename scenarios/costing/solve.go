package costing

import (
	"piececost/costmodel"
	"piececost/costmodel/study"
)

// solve finds break-even values: as asked, or with each input in turn for every scenario to cost what the first one costs.
func (s *run) solve() error {
	asked, err := s.each([]costmodel.QuestionKind{costmodel.AskSolve, costmodel.AskParity}, func(q *costmodel.Question) error {
		target := q.Target
		if target != target {
			target = 0
		}
		if q.First.Input == nil {
			return s.levers(s.measure(q), target, mostMoved)
		}
		a, err := s.measure(q).SolveFor(s.ctx, target, *q.First.Input, q.First.From, q.First.To)
		if err == nil {
			s.r.Solves = append(s.r.Solves, a)
		}
		return err
	})
	if asked || err != nil {
		return err
	}
	for _, p := range s.plans[1:] {
		if err := s.levers(study.Measure{Model: s.m, Scenario: p.Scenario, Against: s.plans[0].Scenario}, 0, mostUnasked); err != nil {
			return err
		}
	}
	return nil
}

// levers tries every input in turn, where the square of the operations is no more than a limit: each has inputs, and each
// input moves operations that share a machine.
func (s *run) levers(q study.Measure, target float64, most int) error {
	steps := 0
	for _, d := range s.r.Details {
		if d.Plan.Scenario == q.Scenario || d.Plan.Scenario == q.Against {
			steps += len(d.Entries("operation"))
		}
	}
	if steps*steps > most {
		return errTooMuch
	}
	told, end := s.progress.begin("break-even values")
	defer end()
	q.Progress = told
	a, err := q.SolveEachLever(s.ctx, target)
	if err == nil {
		s.r.Solves = append(s.r.Solves, a)
	}
	return err
}
