package main

import (
	"errors"
	"fmt"

	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/scenarios"
)

// What follows answers the sheet Studies. A kind of study that it does not ask for is made in its usual form: the difference
// of the last scenario to the first, and what must be true for each scenario to cost what the first one costs.

// each answers the questions of some kinds; one that can't be answered is said with its cell and has no place in the sheet.
func (s *runStudies) each(kinds []costmodel.QuestionKind, answer func(*costmodel.Question) error) (asked bool, err error) {
	for _, q := range s.m.Asked(kinds...) {
		asked = true
		switch err := answer(q); {
		case errors.Is(err, errStopped):
			return asked, err
		case errors.Is(err, errTooMuch):
			fmt.Fprintf(s.stderr, "%s: %s is left out: %v; its own command has no such limit\n", q.Place, q.Kind, err)
		case errors.Is(err, study.ErrNoRange):
			fmt.Fprintf(s.stderr, "%s: %s is left out: %v; fill From and To\n", q.Place, q.Kind, err)
		case err != nil:
			fmt.Fprintf(s.stderr, "%s: %s is left out: %s\n", q.Place, q.Kind, summaryOf(err))
		}
	}
	return asked, nil
}

// summaryOf is what is wrong and what to do, without the place of a finding.
func summaryOf(err error) string {
	var d costmodel.Diagnostic
	if !errors.As(err, &d) {
		return err.Error()
	}
	if d.Help == "" {
		return d.Summary
	}
	return d.Summary + "; " + d.Help
}

// measure is what a question is about.
func (s *runStudies) measure(q *costmodel.Question) study.Measure {
	return study.Measure{Model: s.m, Scenario: q.Scenarios[0], Against: q.Against, Volume: q.Volume, PayMass: q.Kind == costmodel.AskParity}
}

// usual is the difference of the last scenario to the first one, or the one there is.
func (s *runStudies) usual() study.Measure {
	out := study.Measure{Model: s.m, Scenario: s.plans[len(s.plans)-1].Scenario}
	if len(s.plans) > 1 {
		out.Against = s.plans[0].Scenario
	}
	return out
}

// compare puts the scenarios side by side, with their costs under each charging rule.
func (s *runStudies) compare() error {
	base := 0
	for _, q := range s.m.Asked(costmodel.AskCompare) {
		for i, p := range s.plans {
			if p.Scenario == q.Against {
				base = i
			}
		}
	}
	if len(s.plans) < 2 && len(s.m.Targets) == 0 {
		return nil
	}
	c := &scenarios.CompareStudy{Comparison: study.Compare(s.r.Details, base)}
	s.r.Compare = c
	if s.steps*len(s.plans) > mostVolumeWork {
		fmt.Fprintf(s.stderr, "the sheet Side by side is without the charging rules: %v; `piececost compare --charging-rules` has no such limit\n", errTooMuch)
		return nil
	}
	var err error
	c.Rules, c.Reversals, err = study.ChargingRules(s.r.Details)
	return err
}

// sensitivity ranks what moves the measures, and makes the tables over two inputs.
func (s *runStudies) sensitivity() error {
	if _, err := s.each([]costmodel.QuestionKind{costmodel.AskTable}, func(q *costmodel.Question) error {
		m := s.measure(q)
		t, _, err := m.TableOver(*q.First.Input, *q.Second.Input, study.AskedAxes(q, s.m, [2]int{9, 9}))
		if err == nil {
			s.r.Tables = append(s.r.Tables, &scenarios.TableStudy{TwoWay: t, Measure: m})
		}
		return err
	}); err != nil {
		return err
	}
	list, ds := s.m.Uncertainty()
	if ds.HasErrors() {
		return fmt.Errorf("%s in the sheet Uncertainty, listed among the warnings; no cost rests on it", plural(ds.Count(costmodel.Error), "error"))
	}
	asked, err := s.each([]costmodel.QuestionKind{costmodel.AskSensitivity}, func(q *costmodel.Question) error { return s.swings(s.measure(q), list) })
	if asked || err != nil {
		return err
	}
	return s.swings(s.usual(), list)
}

// swings ranks what moves a measure: the rows of the sheet Uncertainty, or all levers where it has none.
func (s *runStudies) swings(q study.Measure, list []costmodel.Uncertain) error {
	out := &scenarios.Sensitivity{Measure: q}
	if len(list) == 0 {
		out.Share = 0.1
	}
	large := s.steps*s.steps > mostMoved // a step has an input at least
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
	w, stop := startWatch("sensitivity", s.stderr)
	defer stop()
	q.Progress = w.report
	first, bars, ds, err := q.Swings(inputs, list, out.Share)
	if err != nil {
		return err
	}
	if first == nil {
		return ds.First("there is no input that can be moved")
	}
	out.Today, out.Dropped, out.Bars = first.Today(), len(first.Dropped), bars
	if !large {
		if all, _ := q.RespondAll(); all != nil {
			out.Elasticities = all.Elasticities()
		}
	}
	s.r.Sensitivity = append(s.r.Sensitivity, out)
	return nil
}

// maps shows which scenario is cheapest over two inputs: as asked, or over the annual volume and the price that moves the
// difference of the scenarios most.
func (s *runStudies) maps() error {
	asked, err := s.each([]costmodel.QuestionKind{costmodel.AskMap}, func(q *costmodel.Question) error {
		list := q.Scenarios
		if len(list) == 0 {
			list = s.scenarios()
		}
		return s.mapOver(list, *q.First.Input, *q.Second.Input, q.Volume, study.AskedAxes(q, s.m, usualMapPoints))
	})
	if asked || err != nil || len(s.plans) < 2 {
		return err
	}
	price, err := s.leadingPrice()
	if err != nil {
		return err
	}
	return s.mapOver(s.scenarios(), costmodel.Input{Sheet: "Scenarios", Column: "Annual volume"}, price, 0, study.AskedAxes(costmodel.NewQuestion(), s.m, usualMapPoints))
}

var usualMapPoints = [2]int{12, 11}

func (s *runStudies) mapOver(list []*costmodel.Scenario, x, y costmodel.Input, volume float64, axis study.AxisOf) error {
	m, err := study.MapOver(s.m, list, x, y, volume, axis)
	if err == nil {
		s.r.Maps = append(s.r.Maps, &scenarios.MapStudy{Map: m, Volume: volume})
	}
	return err
}

func (s *runStudies) scenarios() []*costmodel.Scenario {
	var out []*costmodel.Scenario
	for _, p := range s.plans {
		out = append(out, p.Scenario)
	}
	return out
}

// leadingPrice is the input with a currency in its unit of which a percent moves the difference of the last scenario to the
// first most.
func (s *runStudies) leadingPrice() (costmodel.Input, error) {
	if s.steps*s.steps > mostMoved {
		return costmodel.Input{}, errTooMuch
	}
	r, ds := s.usual().RespondAll()
	if r == nil {
		return costmodel.Input{}, ds.First("there is no input that can be moved")
	}
	for _, e := range r.Elasticities() {
		if e.Input.Unit.Dim.Currency > 0 && e.Input.Today > 0 {
			return e.Input.Input, nil
		}
	}
	return costmodel.Input{}, errors.New("no price moves the difference of the scenarios; name two inputs in the sheet Studies")
}

// solve finds what must be true: as asked, or with each input in turn for every scenario to cost what the first one costs.
func (s *runStudies) solve() error {
	asked, err := s.each([]costmodel.QuestionKind{costmodel.AskSolve, costmodel.AskParity}, func(q *costmodel.Question) error {
		target := q.Target
		if target != target {
			target = 0
		}
		if q.First.Input == nil {
			return s.levers(s.measure(q), target, mostMoved)
		}
		a, err := s.measure(q).SolveFor(target, *q.First.Input, q.First.From, q.First.To)
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

// levers tries every input in turn, where the square of the steps is no more than a limit: each has inputs, and each
// input moves steps that share a machine.
func (s *runStudies) levers(q study.Measure, target float64, most int) error {
	steps := 0
	for _, d := range s.r.Details {
		if d.Plan.Scenario == q.Scenario || d.Plan.Scenario == q.Against {
			steps += len(d.Lines("operation"))
		}
	}
	if steps*steps > most {
		return errTooMuch
	}
	w, stop := startWatch("what must be true", s.stderr)
	defer stop()
	q.Progress = w.report
	a, err := q.SolveEachLever(target)
	if err == nil {
		s.r.Solves = append(s.r.Solves, a)
	}
	return err
}
