package scenarios

import (
	"fmt"
	"math"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
	"piececost/costmodel/study"
)

// crossoverCurves writes the values of the chart and returns it.
func (b *writer) crossoverCurves(p *page, row int) *excelize.Chart {
	curves := b.result.Crossover.Curves
	head := []string{"Annual volume [1/yr]"}
	for _, s := range curves {
		head = append(head, fmt.Sprintf("%s [%s]", s.Scenario.Name, b.currency()))
	}
	b.band(p, row, "Piece cost over annual volume, the values of the chart", 9)
	p.heading(row+1, 0, head...)
	p.heights[row+1] = 42
	best := study.Cheapest(curves)
	first := row + 2
	for i, v := range curves[0].Volumes {
		p.set(first+i, 1, v, look{kind: "number", format: wholeFormat})
		for s := range curves {
			k := look{kind: "number", format: b.money()}
			if s == best[i] {
				k.kind = "best"
			}
			p.set(first+i, 2+s, curves[s].Columns[0][i], k)
		}
	}
	return b.crossoverChart(row+1, first, first+len(curves[0].Volumes)-1)
}

// crossoverChart draws the curves; their volumes grow by ratio, so that the axis does too.
func (b *writer) crossoverChart(head, first, last int) *excelize.Chart {
	font := chartFont()
	chart := &excelize.Chart{
		Type: excelize.Line, Title: chartTitle("Piece cost over annual volume"),
		Dimension: excelize.ChartDimension{Width: 1180, Height: 460},
		Legend:    excelize.ChartLegend{Position: "bottom", Font: &font},
		XAxis:     excelize.ChartAxis{Font: font, TickLabelSkip: max(1, (last-first)/20), Alignment: excelize.Alignment{TextRotation: -45}, NumFmt: excelize.ChartNumFmt{CustomNumFmt: "#,##0"}, Title: axisTitle("annual volume [1/yr], by ratio")},
		YAxis:     excelize.ChartAxis{Font: font, MajorGridLines: true, NumFmt: excelize.ChartNumFmt{CustomNumFmt: "#,##0.##"}, Title: axisTitle(fmt.Sprintf("piece cost [%s]", b.currency()))},
	}
	dashes := []excelize.LineDashType{excelize.LineDashSolid, excelize.LineDashDash, excelize.LineDashLgDashDot, excelize.LineDashLgDash, excelize.LineDashSashDot, excelize.LineDashSysDot}
	lo, hi := math.Inf(1), math.Inf(-1)
	for i, s := range b.result.Crossover.Curves {
		col := costmodel.ColumnName(2 + i)
		chart.Series = append(chart.Series, excelize.ChartSeries{
			Name:       fmt.Sprintf("%s!$%s$%d", b.quoted(crossoverSheet), col, head),
			Categories: fmt.Sprintf("%s!$A$%d:$A$%d", b.quoted(crossoverSheet), first, last),
			Values:     fmt.Sprintf("%s!$%s$%d:$%s$%d", b.quoted(crossoverSheet), col, first, col, last),
			Fill:       excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{palette[i%len(palette)]}},
			Line:       excelize.LineOptions{Width: 2, Dash: dashes[i%len(dashes)]},
			Marker:     excelize.ChartMarker{Symbol: "none"},
		})
		for _, v := range s.Columns[0] {
			lo, hi = min(lo, v), max(hi, v)
		}
	}
	if floor := axisFloor(lo, hi); floor > 0 { // from 0 up the curves would lie on one another
		chart.YAxis.Minimum = &floor
		chart.YAxis.Title = axisTitle(fmt.Sprintf("piece cost [%s], from %s up", b.currency(), costmodel.ShownNumber(floor)))
	}
	return chart
}

// axisFloor is a round value below the lowest one, 0 for none.
func axisFloor(lo, hi float64) float64 {
	if !(lo > 0 && hi > lo) {
		return 0
	}
	step := math.Pow(10, math.Floor(math.Log10(hi-lo)))
	return math.Floor(lo/step) * step
}
