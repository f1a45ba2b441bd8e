package results

import (
	"fmt"
	"strings"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel/fit"
	"piececost/costmodel/study"
	"piececost/scenarios/sheet"
)

// toolFits writes for each kind of the sheet Past tools the coefficients that fit them, and each tool's price beside what the fit and the
// other tools say of it.
func (b *writer) toolFits() error {
	if len(b.result.ToolFits) == 0 {
		return nil
	}
	p, err := b.Page(ToolFitSheet, "Past tools, and the coefficients that fit them")
	if err != nil {
		return err
	}
	b.staleMark(p)
	row := b.notes(p, 6, []string{"least squares of the error in percent, no coefficient below 0; prices as they stand in the sheet Past tools",
		"nothing here changes a cost: piececost fit FILE --accept puts the coefficients into the sheet Tool relations"}) + 1
	for i, f := range b.result.ToolFits {
		if i > 0 {
			p.Breaks = append(p.Breaks, row)
		}
		row = b.toolFit(p, row, f) + 1
	}
	for i, w := range []float64{34, 16, 16, 16, 13, 16, 16} {
		p.Widths[i+1] = w
	}
	p.Landscape, p.Titles = true, 4
	return p.Flush()
}

// toolFit writes one kind and returns the row below.
func (b *writer) toolFit(p *sheet.Page, row int, f *study.ToolFit) int {
	b.band(p, row, fmt.Sprintf("%s: %d past tools", f.Kind, len(f.Tools)), 7)
	if f.Fit == nil {
		for _, why := range f.Refused {
			for _, line := range sheet.BrokenLines("not fitted: "+plainQuotes(why), noteLetters) {
				row++
				p.Set(row, 1, line, sheet.Look{Kind: "label"})
			}
		}
		return row + 1
	}
	row = b.fitCoefficients(p, row+1, f)
	head := row + 1
	p.Heading(head, 1, "Tool", "Price ["+b.currency()+"]", "Fitted ["+b.currency()+"]", "Residual ["+b.currency()+"]", "Residual",
		"By the other tools ["+b.currency()+"]", "Residual to these")
	row = head
	for i, r := range f.Fit.Rows {
		row++
		p.Set(row, 1, f.Tools[i].Name, sheet.Look{Kind: "label"})
		p.Set(row, 2, r.Observed, sheet.Look{Kind: "number", Format: sheet.WholeFormat})
		p.Set(row, 3, r.Fitted, sheet.Look{Kind: "number", Format: sheet.WholeFormat})
		p.Formula(row, 4, fmt.Sprintf("B%d-C%d", row, row), r.Residual, sheet.Look{Kind: "number", Format: sheet.WholeFormat})
		p.Formula(row, 5, fmt.Sprintf("D%d/B%d", row, row), r.Residual/r.Observed, sheet.Look{Kind: "number", Format: sheet.ShareFormat})
		if r.HasLeftOut {
			p.Set(row, 6, r.LeftOut, sheet.Look{Kind: "number", Format: sheet.WholeFormat})
			p.Formula(row, 7, fmt.Sprintf("(B%d-F%d)/B%d", row, row, row), r.Miss/r.Observed, sheet.Look{Kind: "number", Format: sheet.ShareFormat})
		}
	}
	p.Breaks = append(p.Breaks, row+2) // the chart has a page of its own
	p.Charts[fmt.Sprintf("A%d", row+2)] = b.fitChart(f, head+1, row)
	return row + 2 + chartRows
}

// fitCoefficients writes the coefficients in force beside the fitted ones, and what is doubtful.
func (b *writer) fitCoefficients(p *sheet.Page, row int, f *study.ToolFit) int {
	p.Heading(row, 1, "Coefficient", "In force", "Fitted", fmt.Sprintf("%.0f %% from", f.Fit.Confidence*100), "to", "State")
	for i, c := range f.Chosen {
		row++
		e := f.Fit.Coefficients[i]
		p.Set(row, 1, c.Label+" ["+c.Unit+"]", sheet.Look{Kind: "label"})
		for col, v := range []float64{c.Value, e.Value, e.Low, e.High} {
			if col < 2 || e.State == fit.Found {
				p.Set(row, 2+col, v, sheet.Look{Kind: "number", Format: sheet.ValueFormat(v)})
			}
		}
		state := e.State.String()
		if e.Unreliable {
			state += ", unreliable"
		}
		p.Set(row, 6, state, sheet.Look{Kind: "label", Right: true})
	}
	text := fmt.Sprintf("standard deviation of the residuals %.3g %%, each tool by the others %.3g %%", f.Fit.ResidualSD*100, f.Fit.LeftOutRMS*100)
	lines := []string{text}
	for _, w := range f.Fit.Warnings {
		lines = append(lines, "warning: "+plainQuotes(w.String()))
	}
	for _, text := range lines {
		for _, line := range sheet.BrokenLines(text, noteLetters) {
			row++
			p.Set(row, 1, line, sheet.Look{Kind: "faint"})
		}
	}
	return row
}

// plainQuotes writes names between the quotes of a sheet.
func plainQuotes(text string) string { return strings.ReplaceAll(text, "`", "\"") }

// fitChart draws the fitted price of each tool over its price; a tool on the line is met.
func (b *writer) fitChart(f *study.ToolFit, first, last int) *excelize.Chart {
	font := sheet.ChartFont()
	quoted := b.Quoted(ToolFitSheet)
	column := func(col string) string { return fmt.Sprintf("%s!$%s$%d:$%s$%d", quoted, col, first, col, last) }
	axis := func(words string) excelize.ChartAxis {
		return excelize.ChartAxis{Font: font, MajorGridLines: true, NumFmt: excelize.ChartNumFmt{CustomNumFmt: "#,##0"}, Title: sheet.AxisTitle(words)}
	}
	dots := excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{sheet.Palette[0]}}
	line := excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{sheet.Palette[1]}}
	none := excelize.LineOptions{Type: excelize.LineNone}
	return &excelize.Chart{
		Type: excelize.Scatter, Title: sheet.ChartTitle(f.Kind + ": fitted over paid price"),
		Dimension: excelize.ChartDimension{Width: 760, Height: 480},
		Legend:    excelize.ChartLegend{Position: "bottom", Font: &font},
		XAxis:     axis("price paid [" + b.currency() + "]"),
		YAxis:     axis("fitted [" + b.currency() + "]"),
		Series: []excelize.ChartSeries{
			{Name: fmt.Sprintf("%s!$C$%d", quoted, first-1), Categories: column("B"), Values: column("C"), Fill: dots, Line: none,
				Marker: excelize.ChartMarker{Symbol: "circle", Size: 8, Fill: dots}},
			{Name: fmt.Sprintf("%s!$B$%d", quoted, first-1), Categories: column("B"), Values: column("B"), Fill: line,
				Line: excelize.LineOptions{Type: excelize.LineSolid, Width: 1}, Marker: excelize.ChartMarker{Symbol: "none"}},
		},
	}
}
