package costing

import (
	"piececost/costmodel"
	"piececost/costmodel/study"
)

// mostTrialWork is how much a run spends on a trial matrix: cells x operations, each cell compiled anew.
const mostTrialWork = 10_000

// trials makes the trial matrices that the sheet Studies asks for; none without it, since no part is tried by itself.
func (s *run) trials() error {
	_, err := s.each([]costmodel.QuestionKind{costmodel.AskTrial}, func(q *costmodel.Question) error {
		for i, p := range s.plans {
			if p.Scenario != q.Scenarios[0] {
				continue
			}
			ask := study.TrialAsk{Part: q.Trial.Part, Grades: q.Trial.Grades, Gauges: q.Trial.Gauges, BaseGrade: q.Trial.BaseGrade,
				BaseGauge: q.Trial.BaseGauge, Volume: q.Volume}
			cells, err := study.CountTrial(s.m, p, ask)
			if err != nil {
				return err
			}
			if cells > mostTrialWork/max(1, len(s.r.Details[i].Entries("operation"))) {
				return errTooMuch
			}
			t, err := study.Try(s.ctx, s.m, p, ask)
			if err != nil {
				return err
			}
			s.r.Trials = append(s.r.Trials, t)
		}
		return nil
	})
	return err
}
