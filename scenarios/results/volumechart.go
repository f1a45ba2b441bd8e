package results

import (
	"fmt"

	"github.com/xuri/excelize/v2"

	"piececost/scenarios/sheet"
)

// volumeChart draws what a piece costs over the volumes, what the next one would, and what it costs on the installed
// capacity of a volume when that falls or rises. first is the first row of values of the cost table.
func (b *writer) volumeChart(scenario string, first, last int) *excelize.Chart {
	font := sheet.ChartFont()
	quoted := b.Quoted(VolumeSheet)
	chart := &excelize.Chart{
		Type: excelize.Line, Title: sheet.ChartTitle(scenario + ": piece cost, marginal cost, and piece cost on the installed capacity"),
		Dimension: excelize.ChartDimension{Width: 1000, Height: 400},
		Legend:    excelize.ChartLegend{Position: "bottom", Font: &font},
		XAxis: excelize.ChartAxis{Font: font, NumFmt: excelize.ChartNumFmt{CustomNumFmt: "#,##0"},
			Title: sheet.AxisTitle("annual volume [1/yr], steps not to scale")},
		YAxis: excelize.ChartAxis{Font: font, MajorGridLines: true, NumFmt: excelize.ChartNumFmt{CustomNumFmt: "#,##0.##"},
			Title: sheet.AxisTitle(b.currency())},
	}
	dashes := []excelize.LineDashType{excelize.LineDashSolid, excelize.LineDashDash, excelize.LineDashSysDot, excelize.LineDashLgDashDot}
	markers := []string{"circle", "square", "triangle", "diamond"}
	for i, col := range []string{"B", "C", "E", "F"} {
		fill := excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{sheet.Palette[i]}}
		chart.Series = append(chart.Series, excelize.ChartSeries{
			Name:       fmt.Sprintf("%s!$%s$%d", quoted, col, first-1),
			Categories: fmt.Sprintf("%s!$A$%d:$A$%d", quoted, first, last),
			Values:     fmt.Sprintf("%s!$%s$%d:$%s$%d", quoted, col, first, col, last),
			Fill:       fill, Line: excelize.LineOptions{Width: 2, Dash: dashes[i]},
			Marker: excelize.ChartMarker{Symbol: markers[i], Size: 6, Fill: fill},
		})
	}
	return chart
}
