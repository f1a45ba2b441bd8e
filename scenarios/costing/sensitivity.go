package costing

import (
	"fmt"

	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/costmodel/table"
	"piececost/scenarios"
	"piececost/scenarios/sheet"
)

// sensitivity ranks what moves the measures, and makes the tables over two inputs.
func (s *run) sensitivity() error {
	if _, err := s.each([]costmodel.QuestionKind{costmodel.AskTable}, func(q *costmodel.Question) error {
		m := s.measure(q)
		t, _, err := m.TableOver(s.ctx, *q.First.Input, *q.Second.Input, study.AskedAxes(q, s.m, [2]int{9, 9}))
		if err == nil {
			s.r.Tables = append(s.r.Tables, &scenarios.TableStudy{TwoWay: t, Measure: m})
		}
		return err
	}); err != nil {
		return err
	}
	list, ds := s.m.Uncertainty()
	if ds.HasErrors() {
		return fmt.Errorf("%s in the sheet Uncertainty, listed among the warnings; no cost rests on it", sheet.Counted(ds.Count(table.Error), "error"))
	}
	asked, err := s.each([]costmodel.QuestionKind{costmodel.AskSensitivity}, func(q *costmodel.Question) error { return s.swings(s.measure(q), list) })
	if asked || err != nil {
		return err
	}
	return s.swings(s.usual(), list)
}

// swings ranks what moves a measure: the rows of the sheet Uncertainty, or all levers where it has none.
func (s *run) swings(q study.Measure, list []costmodel.Uncertain) error {
	out := &scenarios.Sensitivity{Measure: q}
	if len(list) == 0 {
		out.Share = 0.1
	}
	large := s.steps*s.steps > mostMoved // an operation has an input at least
	if large && len(list) == 0 {
		return errTooMuch
	}
	inputs, ds := q.Moved(list)
	switch {
	case len(ds) > 0:
		return ds[0]
	case len(inputs)*s.steps > mostMoved:
		return errTooMuch
	}
	told, end := s.progress.begin("sensitivity")
	defer end()
	q.Progress = told
	first, bars, ds, err := q.Swings(s.ctx, inputs, list, out.Share)
	if err != nil {
		return err
	}
	if first == nil {
		return ds.First("there is no input that can be moved")
	}
	out.BaseValue, out.Dropped, out.Bars = first.BaseValue(), len(first.Dropped), bars
	if !large {
		if all, _ := q.RespondAll(s.ctx); all != nil {
			out.Elasticities = all.Elasticities()
		}
	}
	s.r.Sensitivity = append(s.r.Sensitivity, out)
	return nil
}
