package costing

import (
	"fmt"

	"piececost/costmodel"
)

// An Explanation is a number with where it comes from: its equation in words and in numbers, and the explanations of what
// went in, down to input cells.
type Explanation = costmodel.Explanation

// A Number names a quantity of a row of a scenario.
type Number struct {
	Scenario string  // as for Result.Scenario
	Scope    string  // part, operation, machine, material, plant; empty for the scenario itself
	Key      string  // of the row, as Row.Key; empty for the scenario itself
	Quantity string  // key or label
	Volume   float64 // good products per year; 0 for the scenario's own
}

// Explain explains a number. The error says which of its names is not there.
func (r *Result) Explain(of Number) (*Explanation, error) {
	p, err := r.plan(of.Scenario)
	if err != nil {
		return nil, err
	}
	if of.Scope == "" {
		of.Scope, of.Key = "scenario", p.Scenario.Name
	}
	e, err := p.FindRow(of.Scope, of.Key)
	if err != nil {
		return nil, err
	}
	n, err := p.QuantityNamed(e, of.Quantity)
	if err != nil {
		return nil, err
	}
	if of.Volume == 0 {
		of.Volume = p.Scenario.Volume
	}
	if !costmodel.PossibleVolume(of.Volume) {
		return nil, fmt.Errorf("a volume of %v can't be costed", of.Volume)
	}
	return p.Detail(of.Volume).Explain(e, n), nil
}
