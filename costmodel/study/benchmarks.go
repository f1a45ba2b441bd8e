package study

import (
	"piececost/costmodel"
)

// A BenchmarkView is measured parts of others with the scenarios held against them.
type BenchmarkView struct {
	*costmodel.Benchmark
	Own []costmodel.Compared // by scenario; numbers that it can't have are NaN
}

// benchmarks holds the scenarios against each benchmark of the case.
func benchmarks(details []*costmodel.Detail) []BenchmarkView {
	var out []BenchmarkView
	for _, b := range details[0].Plan.Model.Benchmarks {
		v := BenchmarkView{Benchmark: b}
		for _, d := range details {
			v.Own = append(v.Own, b.Figures.Against(b.OwnIn(d)))
		}
		out = append(out, v)
	}
	return out
}

// Row is a quantity of the own part in each scenario, as shown.
func (v BenchmarkView) Row(m *costmodel.Model, d *costmodel.Definition) Row {
	r := Row{Key: d.Item.Name, Name: d.Item.Label, Unit: m.ShownUnit(d.Unit)}
	for _, own := range v.Own {
		r.Values = append(r.Values, d.Unit.Shown(own.Number(costmodel.ComparedName(d.Item.Name))))
	}
	return r
}

// Inputs are what the scenarios bring: size, mass and cost of the own part.
func (v BenchmarkView) Inputs() []*costmodel.Definition { return v.Figures.Equations.OwnInputs() }
