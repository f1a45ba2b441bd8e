package main

import (
	"io"
	"sync"

	"piececost/cmd/piececost/internal/report"
	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/scenarios"
	"piececost/templates"
)

// readModel reads a workbook and checks its tables and the structure of every scenario. Findings come back sorted; the
// plans are complete only without errors.
func readModel(path string) (*costmodel.Model, []*costmodel.Plan, table.Diagnostics, error) {
	c, err := scenarios.Read(path)
	if err != nil {
		return nil, nil, nil, err
	}
	return modelOf(c)
}

// modelOf is readModel for a case that is read already.
func modelOf(c *table.Case) (*costmodel.Model, []*costmodel.Plan, table.Diagnostics, error) {
	lib, err := library()
	if err != nil {
		return nil, nil, nil, err
	}
	m := costmodel.New(c, lib)
	plans, all := compileAll(m)
	return m, plans, all, nil
}

// compileAll checks the structure of every scenario; with the findings of the model.
func compileAll(m *costmodel.Model) ([]*costmodel.Plan, table.Diagnostics) {
	all := m.Diagnostics
	var plans []*costmodel.Plan
	for _, s := range m.Scenarios {
		p, ds := m.Compile(s, costmodel.CompileOptions{})
		all = append(all, ds...)
		if p != nil {
			plans = append(plans, p)
		}
	}
	all = append(all, m.Unread(plans)...)
	return plans, all.Sorted()
}

// costedModel is readModel for commands that need results: with errors they are printed and errCase is returned. Notes are
// left to check.
func costedModel(path string, stderr io.Writer) (*costmodel.Model, []*costmodel.Plan, table.Diagnostics, error) {
	c, err := scenarios.Read(path)
	if err != nil {
		return nil, nil, nil, err
	}
	return costedModelOf(c, stderr)
}

// costedModelOf is costedModel for a case that is read already.
func costedModelOf(c *table.Case, stderr io.Writer) (*costmodel.Model, []*costmodel.Plan, table.Diagnostics, error) {
	m, plans, ds, err := modelOf(c)
	if err != nil {
		return nil, nil, nil, err
	}
	if ds.HasErrors() {
		report.PrintDiagnostics(stderr, ds)
		return nil, nil, nil, errCase
	}
	return m, plans, ds.Of(table.Error, table.Warning), nil
}

// library reads the definitions once; a variable so that a test can break them.
var library = sync.OnceValues(func() (*costmodel.Library, error) { return costmodel.LoadLibrary(templates.Files) })
