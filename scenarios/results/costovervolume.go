package results

import (
	"fmt"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel/study"
	"piececost/costmodel/table"
	"piececost/scenarios/sheet"
)

// curve writes the piece cost of all scenarios over annual volume, the cheapest marked, with a line chart. Only the
// engine can compute it, so its numbers are values under a mark that says whether an input has changed since.
func (b *writer) curve() error {
	sweeps := b.result.Sweeps
	p, err := b.Page(CurveSheet, fmt.Sprintf("Cost over volume: piece cost by annual volume, %s per good piece", b.currency()))
	if err != nil {
		return err
	}
	b.staleMark(p)
	head := []string{"Annual volume [1/yr]"}
	for _, s := range sweeps {
		head = append(head, s.Scenario.Name)
	}
	p.Heading(5, 1, append(head, "Cheapest")...)
	best := study.Cheapest(sweeps)
	for i, v := range sweeps[0].Volumes {
		row := 6 + i
		p.Set(row, 1, v, sheet.Look{Kind: "number", Format: sheet.WholeFormat})
		for s := range sweeps {
			k := sheet.Look{Kind: "number", Format: b.money()}
			if s == best[i] {
				k.Kind = "best"
			}
			p.Set(row, 2+s, sweeps[s].Columns[0][i], k)
		}
		p.Set(row, 2+len(sweeps), sweeps[best[i]].Scenario.Name, sheet.Look{Kind: "label", Right: true})
	}
	for c := 1; c <= 2+len(sweeps); c++ {
		p.Widths[c] = 17
	}
	last := 5 + len(sweeps[0].Volumes)
	p.Charts[fmt.Sprintf("A%d", last+2)] = b.curveChart(last)
	p.Landscape, p.OnePage, p.Freeze = true, true, "B6"
	return p.Flush()
}

func (b *writer) curveChart(last int) *excelize.Chart {
	font := sheet.ChartFont()
	chart := &excelize.Chart{
		Type: excelize.Line, Title: sheet.ChartTitle("Piece cost against annual volume"),
		Dimension: excelize.ChartDimension{Width: 860, Height: 400},
		Legend:    excelize.ChartLegend{Position: "bottom", Font: &font},
		XAxis: excelize.ChartAxis{Font: font, NumFmt: excelize.ChartNumFmt{CustomNumFmt: "#,##0"},
			Title: sheet.AxisTitle("annual volume [1/yr], steps not to scale")},
		YAxis: excelize.ChartAxis{Font: font, MajorGridLines: true, NumFmt: excelize.ChartNumFmt{CustomNumFmt: "#,##0.##"},
			Title: sheet.AxisTitle(fmt.Sprintf("piece cost [%s]", b.currency()))},
	}
	markers := []string{"circle", "square", "diamond", "triangle", "x", "star"}
	for i := range b.result.Sweeps {
		col := table.ColumnName(2 + i)
		colour := excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{sheet.Palette[i%len(sheet.Palette)]}}
		chart.Series = append(chart.Series, excelize.ChartSeries{
			Name:       fmt.Sprintf("%s!$%s$5", b.Quoted(CurveSheet), col),
			Categories: fmt.Sprintf("%s!$A$6:$A$%d", b.Quoted(CurveSheet), last),
			Values:     fmt.Sprintf("%s!$%s$6:$%s$%d", b.Quoted(CurveSheet), col, col, last),
			Fill:       colour,
			Line:       excelize.LineOptions{Width: 2},
			Marker:     excelize.ChartMarker{Symbol: markers[i%len(markers)], Size: 6, Fill: colour},
		})
	}
	return chart
}
