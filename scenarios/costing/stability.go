package costing

import (
	"fmt"
	"math"
	"slices"

	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/scenarios"
)

// stability finds how far cross-overs move with inputs, where the sheet Studies asks for it: it costs every whole volume
// for both ends of each input.
func (s *run) stability() error {
	_, err := s.each([]costmodel.QuestionKind{costmodel.AskStability}, func(q *costmodel.Question) error {
		if len(s.plans) < 2 {
			return fmt.Errorf("a cross-over needs two scenarios")
		}
		pairs := s.pairs(q)
		if pairs[0][0] == pairs[0][1] {
			return fmt.Errorf("%s is compared with itself; name another scenario under Against", q.Scenarios[0].Name)
		}
		list, ds := s.m.Uncertainty()
		if ds.HasErrors() {
			return ds.First("")
		}
		ask := study.StabilityAsk{Pairs: pairs, Stated: list, Share: 0.1, Top: 10}
		ask.From, ask.To = study.VolumeSpan(s.m, s.plans)
		if !math.IsNaN(q.First.From) {
			ask.From, ask.To = int(q.First.From), int(q.First.To)
		}
		cases := len(pairs) * (1 + 2*max(len(list), ask.Top))
		if float64(cases)*float64(ask.To-ask.From)*float64(s.steps) > mostStabilityWork {
			return errTooMuch
		}
		told, end := s.progress.begin("stability")
		defer end()
		ask.Progress = told
		found, err := study.Stabilities(s.ctx, s.plans, ask)
		if err != nil {
			return err
		}
		out := &scenarios.StabilityStudy{Stability: found}
		if len(list) == 0 {
			out.Share = ask.Share
		}
		s.r.Stability = append(s.r.Stability, out)
		return nil
	})
	return err
}

// pairs lists the pairs of a question: one scenario, or each, against another one or the first.
func (s *run) pairs(q *costmodel.Question) [][2]int {
	at := func(of *costmodel.Scenario) int {
		return max(0, slices.IndexFunc(s.plans, func(p *costmodel.Plan) bool { return p.Scenario == of }))
	}
	against := at(q.Against)
	if len(q.Scenarios) > 0 {
		return [][2]int{{against, at(q.Scenarios[0])}}
	}
	return study.EachAgainst(len(s.plans), against)
}
