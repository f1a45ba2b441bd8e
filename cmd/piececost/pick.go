package main

import (
	"errors"
	"fmt"
	"strings"

	"piececost/costmodel"
)

// pickPlan finds a scenario for a flag by its name, or by how it begins where that names one alone.
func pickPlan(plans []*costmodel.Plan, flag, name string) (*costmodel.Plan, error) {
	p, err := planNamed(plans, name)
	if err != nil {
		return nil, usageError{errors.New(strings.Replace(err.Error(), "--scenario", "--"+flag, 1))}
	}
	return p, nil
}

// pickPlans finds several scenarios; all of them where no name is given. None may be named twice.
func pickPlans(plans []*costmodel.Plan, flag string, names []string) ([]*costmodel.Plan, error) {
	if len(names) == 0 {
		return plans, nil
	}
	var out []*costmodel.Plan
	for _, n := range names {
		p, err := pickPlan(plans, flag, n)
		if err != nil {
			return nil, err
		}
		for _, other := range out {
			if other == p {
				return nil, usageError{fmt.Errorf("--%s names %s twice", flag, p.Scenario.Name)}
			}
		}
		out = append(out, p)
	}
	return out, nil
}
