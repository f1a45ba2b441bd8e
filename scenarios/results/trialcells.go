package results

import (
	"fmt"
	"math"
	"strings"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/scenarios/sheet"
)

// passing lists the base and the cells that pass, the front of cost against mass first, with a chart; it returns the row below.
func (b *writer) passing(p *sheet.Page, row int, t *study.Trial) int {
	b.band(p, row, "Cells that pass against the base, the front of cost against mass first", b.trialColumns(t))
	row++
	p.Heading(row, 2, "Grade", "", "Gauge [mm]", "Piece cost ["+b.currency()+"]", "Cost difference ["+b.currency()+"]", "Net mass of the product [kg]",
		"Cost of mass saved ["+b.currency()+"/kg]")
	base := row + 2
	var drawn []trialSeries
	for _, g := range []struct {
		words string
		cells []*study.TrialCell
	}{{"Base", []*study.TrialCell{&t.Base}}, {"Front of cost against mass", t.FrontCells()}, {"Other cells that pass", t.Others()}} {
		if len(g.cells) == 0 {
			continue
		}
		row++
		p.Set(row, 1, g.words, sheet.Look{Kind: "text"})
		drawn = append(drawn, trialSeries{row, len(g.cells)})
		for _, c := range g.cells {
			row++
			b.passingRow(p, row, base, t, c)
		}
	}
	row = b.trialNotes(p, row+1, []string{"A dash under cost of mass saved: no mass is saved, or it costs nothing."})
	if len(drawn) < 2 {
		return row
	}
	p.Breaks = append(p.Breaks, row+1, row+3+chartRows) // the chart has a page of its own
	p.Charts[fmt.Sprintf("A%d", row+2)] = b.frontChart(t, drawn)
	return row + 2 + chartRows
}

// A trialSeries is a series of the chart: the row with its name, above so many rows.
type trialSeries struct{ name, count int }

// passingRow writes a cell beside the base, which stands in a row of its own.
func (b *writer) passingRow(p *sheet.Page, row, base int, t *study.Trial, c *study.TrialCell) {
	kind := "number"
	if c.Least {
		kind = "best"
	}
	var words []string
	if c.Least {
		words = append(words, "* least cost")
	}
	if c.IsBase && row != base {
		words = append(words, "the base")
	}
	if len(c.Open) > 0 {
		words = append(words, "? not all known")
	}
	p.Set(row, 1, c.Grade, sheet.Look{Kind: "label"})
	b.setWords(p, row, 2, strings.Join(words, ", "), 26, sheet.Look{Kind: "label", Wrap: true})
	p.Set(row, 3, rounded(1000*c.Gauge), sheet.Look{Kind: kind, Format: "0.0##"})
	b.number(p, row, 4, c.PieceCost, sheet.Look{Kind: kind, Format: b.money()})
	b.number(p, row, 6, c.NetMass, sheet.Look{Kind: kind, Format: sheet.MassFormat})
	if row == base {
		for _, col := range []int{5, 7} {
			p.Set(row, col, nil, sheet.Look{Kind: "number"})
		}
		return
	}
	p.Formula(row, 5, fmt.Sprintf("D%d-D%d", row, base), c.PieceCost-t.Base.PieceCost, sheet.Look{Kind: "number", Format: signedFormat(b.money())})
	got := b.model().Schema.Comparison.Of(map[costmodel.ComparedName]float64{costmodel.BaseCost: t.Base.PieceCost, costmodel.BaseMass: t.Base.NetMass,
		costmodel.OtherCost: c.PieceCost, costmodel.OtherMass: c.NetMass})
	price := math.NaN()
	if got.Holds(costmodel.MassHasPrice) && got.Number(costmodel.MassSaved) > 0 {
		price = got.Number(costmodel.CostOfMassSaved)
	}
	b.number(p, row, 7, price, sheet.Look{Kind: "number", Format: sheet.MoneyFormat})
}

// frontChart draws cost over mass: the base, the front, and the other cells that pass, told apart by their marks.
func (b *writer) frontChart(t *study.Trial, drawn []trialSeries) *excelize.Chart {
	font, quoted := sheet.ChartFont(), b.Quoted(TrialSheet)
	axis := func(words, format string) excelize.ChartAxis {
		return excelize.ChartAxis{Font: font, MajorGridLines: true, NumFmt: excelize.ChartNumFmt{CustomNumFmt: format}, Title: sheet.AxisTitle(words)}
	}
	chart := &excelize.Chart{
		Type: excelize.Scatter, Title: sheet.ChartTitle(fmt.Sprintf("Part %s: piece cost over net mass", t.Part)),
		Dimension: excelize.ChartDimension{Width: 760, Height: 480},
		Legend:    excelize.ChartLegend{Position: "bottom", Font: &font},
		XAxis:     axis("net mass of the product [kg]", "0.0##"),
		YAxis:     axis("piece cost ["+b.currency()+"]", b.money()),
	}
	for i, s := range drawn {
		column := func(col string) string {
			return fmt.Sprintf("%s!$%s$%d:$%s$%d", quoted, col, s.name+1, col, s.name+s.count)
		}
		ink := excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{sheet.Palette[i]}}
		line := excelize.LineOptions{Type: excelize.LineNone}
		chart.Series = append(chart.Series, excelize.ChartSeries{Name: fmt.Sprintf("%s!$A$%d", quoted, s.name), Categories: column("F"),
			Values: column("D"), Fill: ink, Line: line, Marker: excelize.ChartMarker{Symbol: []string{"square", "circle", "x"}[i], Size: 10 - 2*i, Fill: ink}})
	}
	return chart
}

// trialQuestion writes what is known of a quantity beside what is asked for, and returns the row below.
func (b *writer) trialQuestion(p *sheet.Page, row int, t *study.Trial, q *study.TrialQuestion) int {
	wanted, one := q.Wanted()
	title := q.Name
	if q.Direction != "" {
		title += ", " + q.Direction
		if one {
			title += " " + shownNumber(wanted)
			if q.Unit != "" {
				title += " " + q.Unit
			}
		} else {
			title += " the limit of each cell"
		}
	}
	b.band(p, row, title, b.trialColumns(t))
	row++
	b.gaugeHeading(p, row, t, "Grade")
	labels := []string{"value", "where from, verdict"}
	if q.Unit != "" {
		labels[0] += " [" + q.Unit + "]"
	}
	if !one {
		labels = append(labels, "limit")
	}
	for i, grade := range t.Grades {
		for n, label := range labels {
			row++
			p.Set(row, 1, []string{grade, "", ""}[n], sheet.Look{Kind: "label"})
			p.Set(row, 2, label, sheet.Look{Kind: "label"})
			for k := range t.Gauges {
				b.targetCell(p, row, 3+k, q.Cells[i][k], n)
			}
		}
	}
	if q.Has(study.TrialScreened) {
		return b.trialNotes(p, row+1, []string{"Screened: what was measured in the base times the screening ratio, which verifies nothing; a measured " +
			"value goes before."})
	}
	return row + 1
}

// targetCell writes the value (0), its source and verdict (1) or the limit (2) of a cell.
func (b *writer) targetCell(p *sheet.Page, row, col int, c *study.TrialTarget, line int) {
	look := sheet.Look{Kind: "number"}
	if c != nil && c.Verdict == costmodel.Missed {
		look.Kind = "failed"
	}
	switch {
	case c == nil:
		p.Set(row, col, nil, look)
	case line == 1:
		words := string(c.Source)
		if c.Source == study.TrialUnknown {
			words = "not known"
		} else if c.Verdict == costmodel.Met || c.Verdict == costmodel.Missed {
			words += ", " + string(c.Verdict)
		}
		look.Right, look.Wrap = true, true
		b.setWords(p, row, col, words, 17, look)
	default:
		v := rounded([]float64{c.Value, 0, c.Wanted}[line])
		look.Format = sheet.ValueFormat(v)
		b.number(p, row, col, v, look)
	}
}
