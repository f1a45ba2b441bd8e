package report

import (
	"fmt"
	"io"
	"math"

	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/scenarios/costing/wire"
)

// benchmarkRows are the statistics, the same for all scenarios, then how each scenario stands to them.
func (c *Comparison) benchmarkRows(v study.BenchmarkView) []study.Row {
	var out []study.Row
	for _, d := range v.Figures.Equations.Statistics {
		out = append(out, v.Row(c.Model, d))
	}
	return append(out, c.ownRows(v)...)
}

// ownRows are what each scenario brings and how it stands to the measured parts.
func (c *Comparison) ownRows(v study.BenchmarkView) []study.Row {
	var out []study.Row
	for _, d := range append(v.Inputs(), v.Figures.Equations.Own...) {
		out = append(out, v.Row(c.Model, d))
	}
	return out
}

// benchmarkJSON is a benchmark with its measured parts.
func (c *Comparison) benchmarkJSON(v study.BenchmarkView) wire.Benchmark {
	e := v.Figures.Equations
	out := wire.Benchmark{Part: v.Part, SizeUnit: v.Size.Text}
	for _, r := range c.ownRows(v) {
		row := wire.BenchmarkRow{Key: r.Key, Name: r.Name, Unit: r.Unit}
		for _, x := range r.Values {
			row.Values = append(row.Values, finite(x))
		}
		out.Rows = append(out.Rows, row)
	}
	for i, p := range v.Rows {
		m := wire.MeasuredPart{Name: p.Name, Source: p.Source, Place: placeOf(p.Place)}
		for _, d := range append(e.MeasuredInputs(), e.Measured...) {
			m.Figures = append(m.Figures, c.figure(d, v.Figures.Rows[i].Number(costmodel.ComparedName(d.Item.Name))))
		}
		out.Measured = append(out.Measured, m)
	}
	for _, d := range e.Statistics {
		out.Statistics = append(out.Statistics, c.figure(d, v.Figures.Taken(d.Item.Name)))
	}
	return out
}

func (c *Comparison) figure(d *costmodel.Definition, coherent float64) wire.Figure {
	unit := c.Model.ShownUnit(d.Unit)
	if unit == "1" {
		unit = ""
	}
	return wire.Figure{Key: d.Item.Name, Name: d.Item.Label, Unit: unit, Value: finite(d.Unit.Shown(coherent))}
}

// printBenchmarks prints for each benchmark the measured parts, what is taken over them, and how the scenarios stand to it.
func (c *Comparison) printBenchmarks(w io.Writer) {
	for _, v := range c.Benchmarks {
		fmt.Fprintf(w, "\nBenchmarks for the %s: parts of others per %s\n", v.Name(), v.Size.Text)
		c.printMeasured(w, v)
		fmt.Fprintf(w, "\nAgainst the benchmarks for the %s\n", v.Name())
		b := term.Blocks{}
		rows := c.ownRows(v)
		for _, r := range rows {
			b.Labels = append(b.Labels, withUnit(r))
		}
		for i := range c.Details {
			col := term.Column{Head: c.name(i)}
			for _, r := range rows {
				col.Cells = append(col.Cells, benchmarkNumber(r.Unit, r.Values[i]))
			}
			b.Groups = append(b.Groups, []term.Column{col})
		}
		b.Print(w)
	}
}

// printMeasured prints the measured parts and, below a line, the statistics under the quantities that they are taken over.
func (c *Comparison) printMeasured(w io.Writer, v study.BenchmarkView) {
	e := v.Figures.Equations
	b := term.Blocks{}
	for _, p := range v.Rows {
		b.Labels = append(b.Labels, p.Name)
	}
	b.Line()
	for _, kind := range costmodel.Statistics {
		b.Labels = append(b.Labels, string(kind))
	}
	for _, d := range append(e.MeasuredInputs(), e.Measured...) {
		row := study.Row{Name: d.Item.Label, Unit: c.Model.ShownUnit(d.Unit)}
		col := term.Column{Head: withUnit(row)}
		for i := range v.Rows {
			col.Cells = append(col.Cells, benchmarkNumber(row.Unit, d.Unit.Shown(v.Figures.Rows[i].Number(costmodel.ComparedName(d.Item.Name)))))
		}
		for _, kind := range costmodel.Statistics {
			cell := ""
			if t := e.Taken(kind, d.Item.Name); t != nil {
				cell = benchmarkNumber(c.Model.ShownUnit(t.Unit), t.Unit.Shown(v.Figures.Taken(t.Item.Name)))
			}
			col.Cells = append(col.Cells, cell)
		}
		b.Groups = append(b.Groups, []term.Column{col})
	}
	b.Print(w)
}

// benchmarkNumber shows a number of a benchmark: a count whole, a share with one decimal, the rest with three; nothing for none.
func benchmarkNumber(unit string, v float64) string {
	switch {
	case math.IsNaN(v):
		return ""
	case unit == "1" || unit == "":
		return term.Grouped(v, 0)
	case unit == "%":
		return term.Grouped(v, 1)
	}
	return term.Grouped(v, 3)
}
