package costing

import (
	"context"

	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/costmodel/table"
	"piececost/scenarios"
)

// Findings about a case, each with its cell, what is wrong and what to do.
type (
	Diagnostics = table.Diagnostics
	Diagnostic  = table.Diagnostic
	Place       = table.Place
)

// Check finds everything that is wrong or doubtful in the case, by place. It has errors, warnings, and notes on what could
// not be looked at; without errors the case can be costed and written, except for errors of the sheet Uncertainty, on which
// no cost rests. Errors of the quotes stop the writing alone. It is empty once ctx is done.
func (w *Workbook) Check(ctx context.Context) Diagnostics {
	m, plans, ds := w.compile(ctx)
	if ctx.Err() != nil {
		return nil
	}
	if !ds.HasErrors() {
		ds = append(ds, scenarios.LongFormulas(plans)...)
	}
	_, uncertain := m.Uncertainty()
	ds = append(ds, uncertain...)
	quotes, err := w.quoteFindings(m)
	if err != nil { // the program's own text: told at the cell of no one
		ds.Add("quotes", Place{File: w.data.File}, err.Error(), "please report it")
	}
	ds = append(ds, quotes...)
	if !ds.HasErrors() {
		ds = append(ds, costmodel.ChoiceNotes(plans)...)
		ds = append(ds, costmodel.SizeNotes(plans)...)
		ds = append(ds, costmodel.NotCheckedNotes(plans)...)
		ds = append(ds, costmodel.PlaceholderNote(plans)...)
	}
	return ds.Sorted()
}

// ScenarioNames are the scenarios of the sheet, in its order, as the last Check or Cost found them.
func (w *Workbook) ScenarioNames() []string { return w.names }

// compile checks the tables and the structure of every scenario. Findings come back sorted; the plans are complete only
// without errors.
func (w *Workbook) compile(ctx context.Context) (*costmodel.Model, []*costmodel.Plan, Diagnostics) {
	m := costmodel.New(w.data, w.lib)
	w.names = nil
	for _, s := range m.Scenarios {
		w.names = append(w.names, s.Name)
	}
	plans, ds := compileAll(ctx, m)
	return m, plans, ds
}

// A compiledScenario is what compileAll knows of one.
type compiledScenario struct {
	plan     *costmodel.Plan // nil where it can't be costed
	findings Diagnostics
}

// compileAll checks the structure of every scenario, on all cores; with the findings of the model. Once ctx is done it leaves out the
// rest.
func compileAll(ctx context.Context, m *costmodel.Model) ([]*costmodel.Plan, Diagnostics) {
	all := m.Diagnostics
	var plans []*costmodel.Plan
	if err := study.InOrder(ctx, len(m.Scenarios), func() func(int, *compiledScenario) {
		return func(i int, into *compiledScenario) {
			into.plan, into.findings = m.Compile(m.Scenarios[i], costmodel.CompileOptions{})
		}
	}, func(c *compiledScenario) error {
		all = append(all, c.findings...)
		if c.plan != nil {
			plans = append(plans, c.plan)
		}
		return nil
	}); err != nil {
		return nil, all
	}
	all = append(all, m.Unread(plans)...)
	return plans, all.Sorted()
}
