package scenarios

import (
	"fmt"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel/study"
)

// curve writes the piece cost of all scenarios over annual volume, the cheapest marked, with a line chart.
func (b *writer) curve(sheet string) error {
	sweeps := b.result.Sweeps
	if err := b.title(sheet, fmt.Sprintf("Piece cost against annual volume, %s a good piece", b.currency())); err != nil {
		return err
	}
	head := []string{"Annual volume [1/yr]"}
	for _, s := range sweeps {
		head = append(head, s.Scenario.Name)
	}
	if err := b.heading(sheet, 4, 1, append(head, "Cheapest")...); err != nil {
		return err
	}
	best := study.Cheapest(sweeps)
	for i, v := range sweeps[0].Volumes {
		row := 5 + i
		if err := b.put(sheet, row, 1, v, look{kind: "number", format: wholeFormat}); err != nil {
			return err
		}
		for s := range sweeps {
			k := look{kind: "number", format: moneyFormat}
			if s == best[i] {
				k.kind = "best"
			}
			if err := b.put(sheet, row, 2+s, sweeps[s].Columns[0][i], k); err != nil {
				return err
			}
		}
		if err := b.put(sheet, row, 2+len(sweeps), sweeps[best[i]].Scenario.Name, look{kind: "label", right: true}); err != nil {
			return err
		}
	}
	if err := b.width(sheet, 1, 2+len(sweeps), 17); err != nil {
		return err
	}
	if err := b.curveChart(sheet, len(sweeps[0].Volumes)); err != nil {
		return err
	}
	one := 1
	if err := printSetup(b.f, sheet, true, 4); err != nil {
		return err
	}
	return b.f.SetPageLayout(sheet, &excelize.PageLayoutOptions{FitToHeight: &one})
}

func (b *writer) curveChart(sheet string, points int) error {
	font := excelize.Font{Color: inkText, Size: 9, Family: fontName}
	chart := &excelize.Chart{
		Type:      excelize.Line,
		Title:     excelize.ChartTitle{Paragraph: []excelize.RichTextRun{{Text: "Piece cost against annual volume", Font: &excelize.Font{Bold: true, Size: 12, Color: inkText, Family: fontName}}}},
		Dimension: excelize.ChartDimension{Width: 860, Height: 400},
		Legend:    excelize.ChartLegend{Position: "bottom", Font: &font},
		XAxis:     excelize.ChartAxis{Font: font, Title: excelize.ChartTitle{Paragraph: []excelize.RichTextRun{{Text: "annual volume [1/yr], steps not to scale", Font: &font}}}},
		YAxis:     excelize.ChartAxis{Font: font, MajorGridLines: true, NumFmt: excelize.ChartNumFmt{CustomNumFmt: "#,##0"}, Title: excelize.ChartTitle{Paragraph: []excelize.RichTextRun{{Text: fmt.Sprintf("piece cost [%s]", b.currency()), Font: &font}}}},
	}
	markers := []string{"circle", "square", "diamond", "triangle", "x", "star"}
	last := 4 + points
	for i := range b.result.Sweeps {
		col, err := excelize.ColumnNumberToName(2 + i)
		if err != nil {
			return err
		}
		colour := palette[i%len(palette)]
		chart.Series = append(chart.Series, excelize.ChartSeries{
			Name:       fmt.Sprintf("'%s'!$%s$4", sheet, col),
			Categories: fmt.Sprintf("'%s'!$A$5:$A$%d", sheet, last),
			Values:     fmt.Sprintf("'%s'!$%s$5:$%s$%d", sheet, col, col, last),
			Fill:       excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{colour}},
			Line:       excelize.LineOptions{Width: 2},
			Marker:     excelize.ChartMarker{Symbol: markers[i%len(markers)], Size: 6, Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{colour}}},
		})
	}
	return b.f.AddChart(sheet, fmt.Sprintf("A%d", last+2), chart)
}
