package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"piececost/costmodel"
	"piececost/scenarios/costing"
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
		if slices.Contains(out, p) {
			return nil, usageError{fmt.Errorf("--%s names %s twice", flag, p.Scenario.Name)}
		}
		out = append(out, p)
	}
	return out, nil
}

// planNamed finds a scenario by its name or by how it begins.
func planNamed(plans []*costmodel.Plan, name string) (*costmodel.Plan, error) {
	if p := costing.Named(plans, name); p != nil {
		return p, nil
	}
	var names []string
	begin := 0
	for _, p := range plans {
		names = append(names, p.Scenario.Name)
		if strings.HasPrefix(strings.ToLower(p.Scenario.Name), strings.ToLower(name)) {
			begin++
		}
	}
	given := fmt.Sprintf("; %q is none of them", name)
	switch {
	case name == "":
		given = ""
	case begin > 1:
		given = fmt.Sprintf("; %q is how %d of them begin", name, begin)
	}
	return nil, fmt.Errorf("--scenario must name one of %s, the scenarios of %s%s", strings.Join(names, ", "), plans[0].Model.Case.File, given)
}

// splitPair cuts a pair of names at a comma; names may have commas of their own, so a cut that names two scenarios is taken.
func splitPair(plans []*costmodel.Plan, text string) (first, second string, ok bool) {
	for i, r := range text {
		if r != ',' {
			continue
		}
		a, b := strings.TrimSpace(text[:i]), strings.TrimSpace(text[i+1:])
		_, errA := planNamed(plans, a)
		_, errB := planNamed(plans, b)
		if !ok || errA == nil && errB == nil {
			first, second, ok = a, b, true
		}
		if errA == nil && errB == nil {
			break
		}
	}
	return first, second, ok
}
