package costing

import (
	"context"
	"errors"
	"fmt"

	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/costmodel/table"
	"piececost/scenarios"
)

// What a run spends on the studies of its sheets, in rows of work: an operation costed once. Sums beyond it take longer than a
// person waits for a run, some seconds; their own commands do them.
const (
	mostCrossoverWork = 1_000_000_000  // volumes x operations; every whole volume of the range is costed at worst
	mostStabilityWork = 10_000_000_000 // cases x volumes x operations, where the sheet Studies asks for it
	mostMoved         = 1_000_000      // inputs x operations
	mostUnasked       = 40_000         // the same of levers, where the sheet Studies does not ask for them
	mostVolumeWork    = 10_000         // volumes x operations, each compiled anew
)

// errTooMuch says that a study is left to its own command.
var errTooMuch = errors.New("the case is too large for it within a run")

// run makes the studies that have a sheet in the workbook.
type run struct {
	ctx      context.Context // of the one call that makes it
	m        *costmodel.Model
	plans    []*costmodel.Plan
	r        *scenarios.Result
	progress Progress
	notice   func(words string)
	steps    int // of all scenarios
}

// each answers the questions of some kinds; one that can't be answered is said with its cell and has no place in the sheet.
func (s *run) each(kinds []costmodel.QuestionKind, answer func(*costmodel.Question) error) (asked bool, err error) {
	for _, q := range s.m.Asked(kinds...) {
		asked = true
		switch err := answer(q); {
		case s.ctx.Err() != nil:
			return asked, s.ctx.Err()
		case errors.Is(err, errTooMuch):
			s.notice(fmt.Sprintf("%s: the study %s is left out: %v; its own command has no such limit", q.Place, q.Kind, err))
		case errors.Is(err, study.ErrNoRange):
			s.notice(fmt.Sprintf("%s: the study %s is left out: %v; fill From and To", q.Place, q.Kind, err))
		case err != nil:
			s.notice(fmt.Sprintf("%s: the study %s is left out: %s", q.Place, q.Kind, summaryOf(err)))
		}
	}
	return asked, nil
}

// summaryOf is what is wrong and what to do, without the place of a finding.
func summaryOf(err error) string {
	var d table.Diagnostic
	if !errors.As(err, &d) {
		return err.Error()
	}
	return d.Words()
}

// measure is what a question is about.
func (s *run) measure(q *costmodel.Question) study.Measure {
	return study.Measure{Model: s.m, Scenario: q.Scenarios[0], Against: q.Against, Volume: q.Volume, PayMass: q.Kind == costmodel.AskParity}
}

// usual is the difference of the last scenario to the first one, or the one there is.
func (s *run) usual() study.Measure {
	out := study.Measure{Model: s.m, Scenario: s.plans[len(s.plans)-1].Scenario}
	if len(s.plans) > 1 {
		out.Against = s.plans[0].Scenario
	}
	return out
}

func (s *run) scenarios() []*costmodel.Scenario {
	var out []*costmodel.Scenario
	for _, p := range s.plans {
		out = append(out, p.Scenario)
	}
	return out
}
