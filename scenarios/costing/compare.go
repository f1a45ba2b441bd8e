package costing

import (
	"fmt"

	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/scenarios"
)

// compare puts the scenario comparison:, with their costs under each equipment allocation.
func (s *run) compare() error {
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
		s.notice(fmt.Sprintf("the sheet Scenario comparison is without the equipment allocations: %v; `piececost compare "+
			"--equipment-allocation` has no such limit", errTooMuch))
		return nil
	}
	var err error
	c.Rules, c.Reversals, err = study.ChargingRules(s.ctx, s.r.Details)
	return err
}
