package costing

import (
	"errors"
	"fmt"
	"math"

	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/scenarios"
)

// What a run lists of the combinations of a scenario, and how many of them it costs: the command combine has no such limit.
const (
	listedCombinations  = 10
	mostCombinationWork = 200_000_000 // combinations x operations on their lane
)

// combine combines the alternatives of scenarios: as asked, or of every scenario that has any at its own volume.
func (s *run) combine() error {
	asked, err := s.each([]costmodel.QuestionKind{costmodel.AskCombine}, func(q *costmodel.Question) error {
		var plans []*costmodel.Plan
		for _, p := range s.plans {
			if len(q.Scenarios) == 0 || q.Scenarios[0] == p.Scenario {
				plans = append(plans, p)
			}
		}
		had, err := s.combineAll(plans, true, q.Volume, q.MassLimit)
		if err == nil && !had {
			return fmt.Errorf("no row that the scenario reaches has an Alternative")
		}
		return err
	})
	if asked || err != nil {
		return err
	}
	_, err = s.combineAll(s.plans, false, 0, math.NaN())
	return err
}

// combineAll combines the alternatives of scenarios; had is false where none has any. One without is costed unchanged
// beside the others where it was asked for.
func (s *run) combineAll(plans []*costmodel.Plan, asked bool, volume, limit float64) (had bool, err error) {
	for _, p := range plans {
		had = had || s.m.HasAlternatives(p.Scenario)
	}
	for _, p := range plans {
		if !had || !asked && !s.m.HasAlternatives(p.Scenario) {
			continue
		}
		if err := s.combineOne(p, volume, limit); err != nil {
			return had, err
		}
	}
	return had, nil
}

// combineOne combines the alternatives of a scenario.
func (s *run) combineOne(p *costmodel.Plan, volume, limit float64) error {
	c, ds := s.m.Combiner(p.Scenario)
	if c == nil {
		return ds.First("the alternatives can't be combined")
	}
	if volume == 0 {
		volume = p.Scenario.Volume
	}
	d := p.Detail(volume).Scenario()
	out := &scenarios.CombinationStudy{Scenario: p.Scenario, Alternatives: len(c.Tags()), Volume: volume, MaxMass: math.Inf(1),
		Cost: d.Must("piece_cost"), Mass: d.Must("net_mass")}
	if !math.IsNaN(limit) {
		out.MaxMass = limit
	}
	for _, d := range ds.Without(costmodel.Unlisted) {
		s.notice(d.String())
	}
	for _, names := range c.SameRows() {
		out.Notes = append(out.Notes, study.SameRowWords(names))
	}
	for _, o := range c.JoinOptions() {
		out.Notes = append(out.Notes, study.JoinWords(&o))
	}
	for _, l := range c.LeftOut() {
		out.Notes = append(out.Notes, study.LeftOutWords(l))
	}
	told, end := s.progress.begin("combinations")
	defer end()
	ask := study.CombinationAsk{Volume: volume, MaxMass: out.MaxMass, Fixed: make([]int, len(c.Tags())), Keep: listedCombinations,
		Most: max(1, mostCombinationWork/max(1, c.Operations())), Progress: told}
	var err error
	out.Combinations, err = study.Combine(s.ctx, c, ask)
	switch {
	case errors.Is(err, study.ErrManyCombinations):
		return errTooMuch
	case err != nil:
		return err
	}
	s.r.Combinations = append(s.r.Combinations, out)
	return nil
}
