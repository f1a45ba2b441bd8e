package results

import (
	"fmt"
	"maps"
	"math"

	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/costmodel/table"
	"piececost/scenarios/live"
	"piececost/scenarios/sheet"
)

// followBenchmarks notes the cells of the sheet Benchmarks that formulas of the comparison follow.
func (b *writer) followBenchmarks() {
	if b.result.Compare == nil {
		return
	}
	for _, v := range b.result.Compare.Benchmarks {
		for _, r := range v.Rows {
			for i, c := range []costmodel.BenchmarkCell{r.Mass, r.Size, r.Cost} {
				if c.Times != 0 {
					b.inputs.Followed(c.Cell, r.Name, []string{"Mass", "Size", "Cost"}[i])
				}
			}
		}
		for i := range b.sheets {
			if c, ok := v.OwnSizeIn(b.scenarioName(i)); ok && c.Times != 0 {
				b.inputs.Followed(c.Cell, "own", "Size")
			}
		}
	}
}

// benchmarkBlock is the block of one benchmark being written: the measured parts, what is taken over them, then the scenarios.
type benchmarkBlock struct {
	s     *sideBySide
	v     study.BenchmarkView
	e     *costmodel.BenchmarkEquations
	taken map[costmodel.ComparedName]string // cells of the statistics
}

// benchmarks writes what others measure against and how the scenarios stand to it, as formulas; it returns the row below.
func (s *sideBySide) benchmarks(row int) int {
	for _, v := range s.c.Benchmarks {
		k := &benchmarkBlock{s: s, v: v, e: v.Figures.Equations, taken: map[costmodel.ComparedName]string{}}
		row = k.scenarios(k.measured(row) + 1)
		s.p.Breaks = append(s.p.Breaks, row)
	}
	return row
}

// measuredColumns is how many columns of numbers the measured parts take.
func (s *sideBySide) measuredColumns() int {
	n := 0
	for _, v := range s.c.Benchmarks {
		e := v.Figures.Equations
		n = max(n, len(e.MeasuredInputs())+len(e.Measured))
	}
	return n
}

// heading is a quantity with its unit.
func (k *benchmarkBlock) heading(d *costmodel.Definition) string {
	return d.Item.Label + unitIn(k.s.b.model().ShownUnit(d.Unit))
}

func unitIn(unit string) string {
	if unit == "" || unit == "1" || unit == "%" { // shares are formatted as percent
		return ""
	}
	return " [" + unit + "]"
}

// format is how numbers of a quantity are shown: shares as percent, costs as money, the rest by size.
func (k *benchmarkBlock) format(d *costmodel.Definition, v float64) string {
	switch {
	case d.Item.Unit == "%":
		return sheet.ShareFormat
	case d.Item.Unit == "1":
		return sheet.WholeFormat
	case d.Unit.Dim.Currency != 0:
		return k.s.b.money()
	case d.Item.Unit == "kg":
		return sheet.MassFormat
	}
	return sheet.ValueFormat(v)
}

// put writes a formula, or nothing where the run has no number.
func (k *benchmarkBlock) put(row, col int, d *costmodel.Definition, formula string, v float64, kind string) bool {
	look := sheet.Look{Kind: kind, Format: k.format(d, v)}
	if math.IsNaN(v) {
		k.s.p.Set(row, col, nil, look)
		return false
	}
	k.s.p.Formula(row, col, formula, v, look)
	return true
}

// measured writes the measured parts, and the statistics below the quantities that they are taken over.
func (k *benchmarkBlock) measured(row int) int {
	texts := []string{"Benchmarks: parts of others", "for the " + k.v.Name()}
	given := k.e.MeasuredInputs()
	for _, d := range append(given, k.e.Measured...) {
		texts = append(texts, k.heading(d))
	}
	k.s.wordHeading(row, texts...)
	first := row + 1
	for i, part := range k.v.Rows {
		row++
		k.s.rowWords(row, part.Name, part.Source, "label")
		cells := map[costmodel.ComparedName]string{}
		for n, c := range []costmodel.BenchmarkCell{part.Mass, part.Size, part.Cost} {
			k.input(row, 3+n, given[n], c)
			cells[costmodel.ComparedName(given[n].Item.Name)] = fmt.Sprintf("%s%d", table.ColumnName(3+n), row)
		}
		of := live.ComparisonCells{Of: k.e.Comparison, Cells: cells}
		for n, d := range k.e.Measured {
			name := costmodel.ComparedName(d.Item.Name)
			k.put(row, 3+len(given)+n, d, of.Number(name), k.v.Figures.Rows[i].Number(name), "number")
		}
	}
	return k.statistics(row, first, row, 3+len(given))
}

// input writes a cell of the sheet Benchmarks: a link to a number, else the value of the run.
func (k *benchmarkBlock) input(row, col int, d *costmodel.Definition, c costmodel.BenchmarkCell) {
	if c.Times != 0 {
		k.put(row, col, d, live.CellTimes(c.Cell.Place, c.Times), c.Value, "link")
		return
	}
	var v any
	if !math.IsNaN(c.Value) {
		v = c.Value
	}
	k.s.p.Set(row, col, v, sheet.Look{Kind: "number", Format: k.format(d, c.Value)})
}

// spreadsheetStatistics are the spreadsheet forms of statistics; a function passes over empty cells.
var spreadsheetStatistics = map[costmodel.Statistic]string{costmodel.CountStatistic: "COUNT", costmodel.AverageStatistic: "AVERAGE",
	costmodel.LowestStatistic: "MIN", costmodel.HighestStatistic: "MAX", costmodel.DeviationStatistic: "STDEV"}

// statistics writes a row for each statistic; the quantities of measured parts begin at column from.
func (k *benchmarkBlock) statistics(row, first, last, from int) int {
	for _, kind := range costmodel.Statistics {
		row++
		k.s.rowWords(row, sentence(string(kind)), "", "total")
		for col := 3; col < from; col++ {
			k.s.p.Set(row, col, nil, sheet.Look{Kind: "total"})
		}
		for n, over := range k.e.Measured {
			d := k.e.Taken(kind, over.Item.Name)
			if d == nil {
				k.s.p.Set(row, from+n, nil, sheet.Look{Kind: "total"})
				continue
			}
			col := table.ColumnName(from + n)
			k.put(row, from+n, d, fmt.Sprintf("%s(%s%d:%s%d)", spreadsheetStatistics[kind], col, first, col, last), k.v.Figures.Taken(d.Item.Name), "total")
			k.taken[costmodel.ComparedName(d.Item.Name)] = fmt.Sprintf("$%s$%d", col, row)
		}
	}
	return row + 1
}

// scenarios writes how each scenario stands to the measured parts.
func (k *benchmarkBlock) scenarios(row int) int {
	k.s.wordHeading(row, k.s.titles("Against the benchmarks", "for the "+k.v.Name())...)
	given := k.e.OwnInputs()
	cells := make([]map[costmodel.ComparedName]string, k.s.n)
	for i := range cells {
		cells[i] = maps.Clone(k.taken)
	}
	for _, d := range given {
		row++
		k.s.rowWords(row, k.heading(d), "", "label")
		for i := range cells {
			k.own(row, i, d)
			cells[i][costmodel.ComparedName(d.Item.Name)] = fmt.Sprintf("%s%d", table.ColumnName(3+i), row)
		}
	}
	for _, d := range k.e.Own {
		row++
		k.s.rowWords(row, k.heading(d), "", "label")
		name := costmodel.ComparedName(d.Item.Name)
		for i := range cells {
			of := live.ComparisonCells{Of: k.e.Comparison, Cells: cells[i]}
			k.put(row, 3+i, d, of.Number(name), k.v.Own[i].Number(name), "number")
			cells[i][name] = fmt.Sprintf("%s%d", table.ColumnName(3+i), row)
		}
	}
	return row + 2
}

// own writes what a scenario brings: its size from the sheet Benchmarks, mass and cost from its calculation.
func (k *benchmarkBlock) own(row, i int, d *costmodel.Definition) {
	name := costmodel.ComparedName(d.Item.Name)
	v := k.v.Own[i].Number(name)
	calculation := k.s.b.sheets[i]
	l, has := k.v.RowIn(calculation.Detail)
	switch size, ok := k.v.OwnSizeIn(k.s.b.scenarioName(i)); {
	case math.IsNaN(v) || !has:
		k.put(row, 3+i, d, "", math.NaN(), "number")
	case name == costmodel.OwnSize && ok:
		k.input(row, 3+i, d, size)
	default:
		mass, cost := k.v.Quantities()
		quantity := map[costmodel.ComparedName]string{costmodel.OwnMass: mass, costmodel.OwnCost: cost}[name]
		k.s.p.Link(row, 3+i, calculation.Ref(l.Entity(), quantity), sheet.Look{Kind: "number", Format: k.format(d, v)})
	}
}
