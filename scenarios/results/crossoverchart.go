package results

import (
	"fmt"
	"math"
	"slices"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/costmodel/table"
	"piececost/scenarios/sheet"
)

// wideColumn is the column of causes, the last that the page has room for.
const wideColumn = 9

// curveTable is where the values of a chart of the sheet stand: volumes, then a column a scenario.
type curveTable struct {
	head, first, last int  // rows
	volumes, values   int  // first column of each
	words             bool // stand right of its last column
}

// format keeps the last column clear of words.
func (t curveTable) format(format string, column, columns int) string {
	if t.words && column == columns-1 {
		return sheet.Padded(format)
	}
	return format
}

// crossoverCurves writes the values of the charts and returns them: the piece cost, and how much more than the cheapest each
// costs.
func (b *writer) crossoverCurves(p *sheet.Page, row int) (cost, more *excelize.Chart) {
	curves := b.result.Crossover.Curves
	best := study.Cheapest(curves)
	b.band(p, row, "Cost over volume, the cheapest, and the cost difference of the others: the values of the charts", 9)
	costs := curveTable{head: row + 1, first: row + 2, last: row + 1 + len(curves[0].Volumes), volumes: 1, values: 2}
	mores := costs
	mores.values = 2 + len(curves)
	if mores.values+len(curves) > wideColumn {
		below := len(curves[0].Volumes) + 2
		mores = curveTable{head: costs.head + below, first: costs.first + below, last: costs.last + below, volumes: 1, values: 2}
		costs.words = true
		b.cheapestNames(p, costs, costs.values+len(curves), best)
	} else {
		mores.words = true
		b.cheapestNames(p, costs, mores.values+len(curves), best)
	}
	b.costValues(p, costs, best)
	b.moreValues(p, mores, best)
	return b.costChart(costs), b.moreChart(mores)
}

// curveHeading writes the heading of a table of values.
func (b *writer) curveHeading(p *sheet.Page, t curveTable, unit string) {
	p.Set(t.head, t.volumes, "Annual volume [1/yr]", sheet.Look{Kind: "heading", Right: true})
	p.Heights[t.head] = max(p.Heights[t.head], 30)
	for i, s := range b.result.Crossover.Curves {
		text := fmt.Sprintf("%s [%s]", s.Scenario.Name, unit)
		p.Set(t.head, t.values+i, text, sheet.Look{Kind: "heading", Right: true, Format: t.format("@", i, len(b.result.Crossover.Curves))})
		p.Grow(t.head, text, 13)
	}
}

// costValues writes the piece costs, the lowest at each volume marked.
func (b *writer) costValues(p *sheet.Page, t curveTable, best []int) {
	b.curveHeading(p, t, b.currency())
	for i, v := range b.result.Crossover.Curves[0].Volumes {
		p.Set(t.first+i, t.volumes, v, sheet.Look{Kind: "number", Format: sheet.WholeFormat})
		for s, curve := range b.result.Crossover.Curves {
			p.Set(t.first+i, t.values+s, curve.Columns[0][i], sheet.Look{Kind: markBest("number", s == best[i]),
				Format: t.format(b.money(), s, len(b.result.Crossover.Curves))})
		}
	}
}

func markBest(kind string, best bool) string {
	if best {
		return "best"
	}
	return kind
}

// cheapestNames writes the cheapest scenario at each volume in a column beside the numbers, and into the next one. A long
// name stands in full in the heading of its numbers.
func (b *writer) cheapestNames(p *sheet.Page, t curveTable, col int, best []int) {
	p.Set(t.head, col, "Cheapest", sheet.Look{Kind: "heading"})
	p.Set(t.head, col+1, nil, sheet.Look{Kind: "heading"})
	for i, s := range best {
		name := []rune(b.scenarioName(s))
		if len(name) > 60 {
			name = append(name[:59], '…')
		}
		p.Set(t.first+i, col, string(name), sheet.Look{Kind: "label"})
		p.Set(t.first+i, col+1, nil, sheet.Look{Kind: "label"})
	}
}

// moreValues writes by how many percent each scenario is above the cheapest at each volume.
func (b *writer) moreValues(p *sheet.Page, t curveTable, best []int) {
	b.curveHeading(p, t, "% more")
	for i, more := range b.aboveCheapest(best) {
		row := t.first + i
		p.Set(row, t.volumes, b.result.Crossover.Curves[0].Volumes[i], sheet.Look{Kind: "number", Format: sheet.WholeFormat})
		for s, v := range more {
			p.Set(row, t.values+s, v, sheet.Look{Kind: markBest("number", s == best[i]), Format: t.format("0.0", s, len(more))})
		}
	}
}

// aboveCheapest is by how many percent each scenario is above the cheapest, by volume of the curves.
func (b *writer) aboveCheapest(best []int) [][]float64 {
	curves := b.result.Crossover.Curves
	out := make([][]float64, len(best))
	for i := range out {
		least := curves[best[i]].Columns[0][i]
		for _, s := range curves {
			out[i] = append(out[i], 100*(s.Columns[0][i]/least-1))
		}
	}
	return out
}

// curvesChart draws the columns of a table; their volumes grow by ratio, so that the axis does too.
func (b *writer) curvesChart(t curveTable, title, format, axis string) *excelize.Chart {
	font := sheet.ChartFont()
	chart := &excelize.Chart{
		Type: excelize.Line, Title: sheet.ChartTitle(title),
		Dimension: excelize.ChartDimension{Width: 1180, Height: 430},
		Legend:    excelize.ChartLegend{Position: "bottom", Font: &font},
		XAxis: excelize.ChartAxis{Font: font, TickLabelSkip: max(1, (t.last-t.first)/20), Alignment: excelize.Alignment{TextRotation: -45},
			NumFmt: excelize.ChartNumFmt{CustomNumFmt: "#,##0"}, Title: sheet.AxisTitle("annual volume [1/yr], by ratio")},
		YAxis: excelize.ChartAxis{Font: font, MajorGridLines: true, NumFmt: excelize.ChartNumFmt{CustomNumFmt: format}, Title: sheet.AxisTitle(axis)},
	}
	dashes := []excelize.LineDashType{excelize.LineDashSolid, excelize.LineDashDash, excelize.LineDashLgDashDot, excelize.LineDashLgDash,
		excelize.LineDashSashDot, excelize.LineDashSysDot}
	volumes := table.ColumnName(t.volumes)
	for i := range b.result.Crossover.Curves {
		col := table.ColumnName(t.values + i)
		chart.Series = append(chart.Series, excelize.ChartSeries{
			Name:       fmt.Sprintf("%s!$%s$%d", b.Quoted(CrossoverSheet), col, t.head),
			Categories: fmt.Sprintf("%s!$%s$%d:$%s$%d", b.Quoted(CrossoverSheet), volumes, t.first, volumes, t.last),
			Values:     fmt.Sprintf("%s!$%s$%d:$%s$%d", b.Quoted(CrossoverSheet), col, t.first, col, t.last),
			Fill:       excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{sheet.Palette[i%len(sheet.Palette)]}},
			Line:       excelize.LineOptions{Width: 2, Dash: dashes[i%len(dashes)]},
			Marker:     excelize.ChartMarker{Symbol: "none"},
		})
	}
	return chart
}

func (b *writer) costChart(t curveTable) *excelize.Chart {
	chart := b.curvesChart(t, "Piece cost over annual volume", "#,##0.##", fmt.Sprintf("piece cost [%s]", b.currency()))
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, s := range b.result.Crossover.Curves {
		for _, v := range s.Columns[0] {
			lo, hi = min(lo, v), max(hi, v)
		}
	}
	if floor := axisFloor(lo, hi); floor > 0 { // from 0 up the curves would lie on one another
		chart.YAxis.Minimum = &floor
		chart.YAxis.Title = sheet.AxisTitle(fmt.Sprintf("piece cost [%s], from %s up", b.currency(), costmodel.ShownNumber(floor)))
	}
	return chart
}

// moreChart draws what each costs more than the cheapest. Its axis ends where the crossings can be told apart; what is
// more expensive still leaves the chart at the top.
func (b *writer) moreChart(t curveTable) *excelize.Chart {
	chart := b.curvesChart(t, "Where which scenario is the cheapest: the one at 0 %", "0.##", "% more than the cheapest")
	floor := 0.0
	chart.YAxis.Minimum = &floor
	if top, cut := axisTop(b.aboveCheapest(study.Cheapest(b.result.Crossover.Curves))); top > 0 {
		chart.YAxis.Maximum = &top
		if cut {
			chart.YAxis.Title = sheet.AxisTitle(fmt.Sprintf("%% more than the cheapest, up to %s %%", costmodel.ShownNumber(top)))
		}
	}
	return chart
}

// axisTop is a round percentage that twice the highest lead over the second best reaches, or the highest value where that is
// lower; cut tells that some values lie above it. 0 is for curves that are all the same.
func axisTop(more [][]float64) (top float64, cut bool) {
	lead, highest := 0.0, 0.0
	for _, row := range more {
		sorted := slices.Sorted(slices.Values(row))
		lead, highest = max(lead, sorted[min(1, len(sorted)-1)]), max(highest, sorted[len(sorted)-1])
	}
	top = min(2*lead, highest)
	if !(top > 0) || math.IsInf(top, 0) {
		return 0, false
	}
	step := math.Pow(10, math.Floor(math.Log10(top)))
	if top/step < 5 {
		step /= 2
	}
	top = math.Ceil(top/step-1e-9) * step
	return top, highest > top
}

// axisFloor is a round value below the lowest one, 0 for none.
func axisFloor(lo, hi float64) float64 {
	if !(lo > 0 && hi > lo) {
		return 0
	}
	step := math.Pow(10, math.Floor(math.Log10(hi-lo)))
	return math.Floor(lo/step) * step
}
