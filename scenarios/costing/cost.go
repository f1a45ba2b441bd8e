package costing

import (
	"context"

	"piececost/costmodel"
	"piececost/costmodel/table"
)

// A Result is every scenario of a workbook, costed at its own annual volume. It is of one goroutine.
type Result struct {
	Currency  string      // of all money: ISO 4217, or how the case calls it
	Scenarios []*Scenario // in the order of the sheet, one at least
	Findings  Diagnostics // warnings; nothing is wrong

	workbook *Workbook
	model    *costmodel.Model
	plans    []*costmodel.Plan
}

// Cost costs every scenario at its own annual volume. The error is Diagnostics where the case has errors, in which all that
// is wrong stands at once; or that of ctx.
func (w *Workbook) Cost(ctx context.Context) (*Result, error) {
	m, plans, ds := w.compile(ctx)
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if ds.HasErrors() {
		return nil, ds
	}
	return w.result(ctx, m, plans, ds.Of(table.Error, table.Warning))
}

func (w *Workbook) result(ctx context.Context, m *costmodel.Model, plans []*costmodel.Plan, findings Diagnostics) (*Result, error) {
	r := &Result{Currency: m.Schema.Units.ModelCurrency(), Findings: findings, workbook: w, model: m, plans: plans}
	for _, p := range plans {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		r.Scenarios = append(r.Scenarios, scenarioOf(p))
	}
	return r, nil
}

// CostForCombining is Cost for a search over alternatives: an error in a row of an alternative that no scenario lists leaves
// the row out (left, with the findings aside) and is no error of the case.
func (w *Workbook) CostForCombining(ctx context.Context) (r *Result, left []costmodel.LeftOut, aside Diagnostics, err error) {
	m, plans, ds := w.compile(ctx)
	if err := ctx.Err(); err != nil {
		return nil, nil, nil, err
	}
	combined, left, aside := m.ForCombining()
	if combined != m {
		if again, sound := compileAll(ctx, combined); !sound.HasErrors() && ctx.Err() == nil {
			r, err = w.result(ctx, combined, again, sound)
			return r, left, aside, err
		}
	}
	if ds.HasErrors() {
		return nil, nil, nil, ds
	}
	r, err = w.result(ctx, combined, plans, ds)
	return r, left, aside, err
}

// Model is the case as it was read, and Plans are the scenarios as they were compiled, for the studies of package study that
// have no short way here.
func (r *Result) Model() *costmodel.Model { return r.model }

// Plans are the scenarios as they were compiled, in the order of Scenarios.
func (r *Result) Plans() []*costmodel.Plan { return r.plans }

// Scenario finds a scenario by its name, or by how it begins, whatever the case, where that names one alone.
func (r *Result) Scenario(name string) (*Scenario, error) {
	p, err := r.plan(name)
	if err != nil {
		return nil, err
	}
	for i := range r.plans {
		if r.plans[i] == p {
			return r.Scenarios[i], nil
		}
	}
	return nil, err
}
