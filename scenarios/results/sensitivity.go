package results

import (
	"fmt"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel/study"
	"piececost/scenarios/sheet"
)

// mostBars is the number of inputs that the sheet ranks.
const mostBars = 15

// sensitivity writes the inputs that move each measure most, one moved at a time, with a chart; what a percent of each is
// worth; and the tables over two inputs.
func (b *writer) sensitivity() error {
	list, tables := b.result.Sensitivity, b.result.Tables
	if len(list)+len(tables) == 0 {
		return nil
	}
	title := "Sensitivity: what moves the piece cost"
	if len(list) == 1 {
		title = "Sensitivity: what moves the " + list[0].Measure.Name()
	}
	p, err := b.Page(SensitivitySheet, title)
	if err != nil {
		return err
	}
	b.staleMark(p)
	row := 6
	for i, s := range list {
		if i > 0 {
			p.Breaks = append(p.Breaks, row)
		}
		row = b.moved(p, row, s)
	}
	for _, t := range tables {
		p.Breaks = append(p.Breaks, row)
		row = b.twoWay(p, row, t) + 1
	}
	for i, w := range []float64{42, 14, 14, 14, 14, 14, 14, 14, 14, 14, 26} {
		p.Widths[i+1] = w
	}
	p.Landscape, p.Titles = true, 4
	return p.Flush()
}

// moved writes one measure and returns the row below.
func (b *writer) moved(p *sheet.Page, row int, s *Sensitivity) int {
	p.Set(row, 1, s.measured(), sheet.Look{Kind: "text"})
	p.Set(row, 3, s.BaseValue, sheet.Look{Kind: "total", Format: b.money()})
	p.Set(row+1, 1, s.ranged(), sheet.Look{Kind: "faint"})
	first := row + 4
	row = b.bars(p, s, row+3)
	p.Set(row, 1, "Falls and rises are against the measure at the base values. Non-monotonic: integer quantities (capacity steps) make it "+
		"turn between low and high, so its ends "+
		"alone would not show the swing.", sheet.Look{Kind: "faint"})
	row++
	if n := len(s.Bars) - mostBars; n > 0 {
		p.Set(row, 1, fmt.Sprintf("%d inputs more move it less; piececost sensitivity --top 0 lists all.", n), sheet.Look{Kind: "faint"})
		row++
	}
	if s.Dropped > 0 {
		p.Set(row, 1, fmt.Sprintf("%d inputs could not be moved with the others.", s.Dropped), sheet.Look{Kind: "faint"})
		row++
	}
	if n := min(len(s.Bars), mostBars); n > 0 {
		p.Breaks = append(p.Breaks, row+1)
		chart := b.tornado(s, first, first+n-1)
		p.Charts[fmt.Sprintf("A%d", row+2)] = chart
		row += 4 + int(chart.Dimension.Height)/18
	}
	if len(s.Elasticities) > 0 {
		p.Breaks = append(p.Breaks, row)
		row = b.elasticities(p, row, s) + 1
	}
	return row
}

// measured says what is measured at which volume.
func (s *Sensitivity) measured() string {
	return sentence(fmt.Sprintf("%s at the base values, at %s", s.Measure.Name(), volumesOf(s.Measure)))
}

// ranged says how far the inputs are moved.
func (s *Sensitivity) ranged() string {
	if s.Share == 0 {
		return "Each input alone from low to high of the sheet Uncertainty, all else unchanged."
	}
	return fmt.Sprintf("Each input alone by plus and minus %.3g %%, within its plausible range, all else unchanged.", 100*s.Share)
}

// bars writes a row for each of the widest bars; it returns the row below.
func (b *writer) bars(p *sheet.Page, s *Sensitivity, row int) int {
	c := b.currency()
	p.MixedHeading(row, []int{1, 2, 11}, "Input", "Unit of its cell", "Base value", "moved from", "to", "at from ["+c+"]", "at to ["+c+"]",
		"falls by up to ["+c+"]", "rises by up to ["+c+"]", "Swing ["+c+"]", "How it moves")
	money := sheet.Look{Kind: "number", Format: b.money()}
	for i := range s.Bars[:min(len(s.Bars), mostBars)] {
		bar := &s.Bars[i]
		row++
		v := &bar.Input
		name := v.Input.String()
		if bar.Turns { // the chart has its labels from here
			name += " – non-monotonic"
		}
		b.setWords(p, row, 1, name, 42, sheet.Look{Kind: "label", Wrap: true})
		p.Set(row, 2, b.unitWords(v), sheet.Look{Kind: "label"})
		for k, x := range []float64{v.BaseValue, bar.Values[0], bar.Values[len(bar.Values)-1]} {
			b.number(p, row, 3+k, v.Shown(x), sheet.Look{Kind: "number", Format: sheet.ValueFormat(v.Shown(x))})
		}
		b.number(p, row, 6, bar.AtLow, money)
		b.number(p, row, 7, bar.AtHigh, money)
		p.Set(row, 8, bar.Min-s.BaseValue, money)
		p.Set(row, 9, bar.Max-s.BaseValue, money)
		p.Set(row, 10, bar.Swing, sheet.Look{Kind: "total", Format: sheet.Padded(b.money())})
		p.Set(row, 11, howMoves(bar), sheet.Look{Kind: "label"})
	}
	return row + 1
}

// howMoves says in words which way the measure goes.
func howMoves(bar *study.Bar) string {
	switch {
	case bar.Turns:
		return "non-monotonic"
	case bar.AtHigh > bar.AtLow:
		return "rises with the input"
	case bar.AtHigh < bar.AtLow:
		return "falls as the input rises"
	}
	return "no value at an end"
}

// tornado draws falls to the left and rises to the right of the measure as it stands.
func (b *writer) tornado(s *Sensitivity, first, last int) *excelize.Chart {
	font, gap := sheet.ChartFont(), uint(40)
	quoted := b.Quoted(SensitivitySheet)
	chart := &excelize.Chart{
		Type: excelize.BarStacked, Title: sheet.ChartTitle("Sensitivity: what moves the " + s.Measure.Name()), GapWidth: &gap,
		Dimension: excelize.ChartDimension{Width: 1380, Height: uint(150 + 24*(last-first+1))},
		Legend:    excelize.ChartLegend{Position: "bottom", Font: &font},
		XAxis:     excelize.ChartAxis{Font: font, ReverseOrder: true, TickLabelPosition: excelize.ChartTickLabelLow},
		YAxis: excelize.ChartAxis{Font: font, MajorGridLines: true, NumFmt: excelize.ChartNumFmt{CustomNumFmt: "+#,##0.##;-#,##0.##;0"},
			Title: sheet.AxisTitle(fmt.Sprintf("change from the base value [%s per good piece]", b.currency()))},
	}
	for i, col := range []string{"H", "I"} {
		chart.Series = append(chart.Series, excelize.ChartSeries{
			Name:       fmt.Sprintf("%s!$%s$%d", quoted, col, first-1),
			Categories: fmt.Sprintf("%s!$A$%d:$A$%d", quoted, first, last),
			Values:     fmt.Sprintf("%s!$%s$%d:$%s$%d", quoted, col, first, col, last),
			Fill:       excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{sheet.Palette[i]}},
		})
	}
	return chart
}
