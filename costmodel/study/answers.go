package study

import (
	"context"
	"errors"
	"fmt"
	"math"

	"piececost/costmodel"
)

// ErrNoRange says that a search needs to be told where to look.
var ErrNoRange = errors.New("has no base value from which to search")

// A SolveAnswer is what was found for one input that was asked for, or for each in turn.
type SolveAnswer struct {
	Measure   Measure
	Target    float64 // of the measure, money per good piece; 0 where it is held against another scenario
	Each      bool    // every lever was tried in turn
	BaseValue float64 // the measure as the case stands
	Magnitude float64 // of the piece costs
	Solutions []Solution
	Dropped   []string // inputs that could not be tried, each with the reason
}

// SolveEachLever looks for the target with each lever of the scenario in turn; what only the other scenario has is no way
// to the target.
func (m Measure) SolveEachLever(ctx context.Context, target float64) (*SolveAnswer, error) {
	alone := Measure{Model: m.Model, Scenario: m.Scenario}
	inputs, ds := alone.Levers()
	if len(ds) > 0 {
		return nil, ds[0]
	}
	r, ds := m.Respond(inputs)
	if r == nil {
		return nil, ds[0]
	}
	a := m.answer(r, target)
	a.Each = true
	var err error
	if a.Solutions, err = r.SolveEach(ctx, target); err != nil {
		return nil, err
	}
	return a, nil
}

// SolveFor looks for the target with one input, from one value to another in the unit of its cells, or where SearchRange
// says if they are NaN.
func (m Measure) SolveFor(ctx context.Context, target float64, in costmodel.Input, asked, until float64) (*SolveAnswer, error) {
	r, ds := m.Respond([]costmodel.Input{in})
	if r == nil {
		return nil, ds[0]
	}
	v := &r.Inputs[0]
	if !v.Present {
		return nil, fmt.Errorf("no scenario in question has the row of %s", v.Input)
	}
	from, to, kind := SearchRange(v)
	if !math.IsNaN(asked) {
		from, to, kind = v.Coherent(asked), v.Coherent(until), RangeAsked
	}
	if kind == RangeUnknown {
		return nil, fmt.Errorf("%s %w", v.Input, ErrNoRange)
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	a := m.answer(r, target)
	a.Solutions = []Solution{r.Solve(0, target, from, to, kind)}
	return a, nil
}

func (m Measure) answer(r *Response, target float64) *SolveAnswer {
	return &SolveAnswer{Measure: m, Target: target, BaseValue: r.BaseValue(), Magnitude: r.Magnitude(), Dropped: r.Dropped}
}

// Standing says how the question stands at the base values: "it costs 9.15 EUR per good piece more".
func (a *SolveAnswer) Standing() string {
	currency := a.Measure.Model.Schema.Units.ModelCurrency()
	amount := fmt.Sprintf("%.*f", a.Digits(), math.Abs(a.BaseValue))
	paid := ""
	if a.Measure.PayMass {
		paid = ", mass saved counted at its allowable cost"
	}
	switch {
	case a.Measure.Against == nil:
		return fmt.Sprintf("it costs %s %s per good piece", amount, currency)
	case math.Abs(a.BaseValue) <= 1e-9*a.Magnitude:
		return "it costs the same" + paid
	case a.BaseValue > 0:
		return fmt.Sprintf("it costs %s %s per good piece more%s", amount, currency, paid)
	}
	return fmt.Sprintf("it costs %s %s per good piece less%s", amount, currency, paid)
}

// Digits are the decimals of amounts.
func (a *SolveAnswer) Digits() int {
	return int(costmodel.MoneyDigits(a.Measure.Model.Schema.Units.ModelCurrency(), a.Magnitude))
}
