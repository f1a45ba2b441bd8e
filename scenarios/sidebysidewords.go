package scenarios

import (
	"fmt"
	"math"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
)

// verdicts writes what the saved mass costs, whether parity holds, the targets, and the ranking under each charging rule.
func (s *sideBySide) verdicts(row int) int {
	row = s.mass(row)
	row = s.targets(row)
	return s.rules(row)
}

// mass writes cost of mass saved and parity in words.
func (s *sideBySide) mass(row int) int {
	if s.n < 2 {
		return row
	}
	b, base := s.b, s.c.Base
	columns := 1 + 2*s.n
	b.band(s.p, row, "Cost of mass saved against "+b.scenarioName(base), columns)
	for _, i := range s.others() {
		row++
		s.p.set(row, 1, b.scenarioName(i), look{kind: "text"})
		s.p.set(row, 3, s.c.Mass[i].Words, look{kind: "text"})
	}
	row += 2
	b.band(s.p, row, fmt.Sprintf("Parity with %s at %.2f %s a saved kilogram", b.scenarioName(base), s.c.Parity[base].Value, b.currency()), columns)
	for _, i := range s.others() {
		row++
		p := s.c.Parity[i]
		words := "is missed by "
		if p.Holds {
			words = "holds with "
		}
		words += fmt.Sprintf("%.*f %s a piece", s.b.result.Details[i].Statement().Digits, math.Abs(p.Margin), b.currency())
		if p.Holds {
			words += " to spare"
		}
		s.p.set(row, 1, b.scenarioName(i), look{kind: "text"})
		s.p.set(row, 3, words, look{kind: "text"})
	}
	return row + 2
}

// targets writes for each requirement what is wanted, what the scenarios reach and by how much they meet or miss it.
func (s *sideBySide) targets(row int) int {
	if len(s.c.Targets) == 0 {
		return row
	}
	s.p.heading(row, 2, s.titles("Target", "")...)
	for _, list := range s.c.Targets {
		t := list[0].Target
		unit := ""
		if u := s.b.model().ShownUnit(t.Unit); u != "" && u != "1" {
			unit = " [" + u + "]"
		}
		for n, label := range []string{t.Name() + unit, t.Direction(), "above it by", "verdict"} {
			row++
			s.p.set(row, 1, map[bool]string{true: label}[n == 0], look{kind: "label"})
			s.p.set(row, 2, map[bool]string{true: "reached", false: label}[n == 0], look{kind: "label"})
			for i, j := range list {
				if n == 3 {
					s.p.set(row, 3+i, string(j.Verdict), look{kind: "label", right: true})
					continue
				}
				v := []float64{j.Value, j.Wanted, j.Over}[n]
				k := look{kind: "number", format: valueFormat(v)}
				if n == 2 {
					k.format = signedFormat(valueFormat(v))
				}
				s.b.number(s.p, row, 3+i, v, k)
			}
		}
	}
	return row + 2
}

// rules writes piece cost and rank under each charging rule, and where the rule turns the ranking round.
func (s *sideBySide) rules(row int) int {
	if len(s.c.Rules) == 0 {
		return row
	}
	s.p.heading(row, 2, s.titles("Charging rule", "of all machines; rank in brackets")...)
	for _, r := range s.c.Rules {
		row++
		s.p.set(row, 1, r.Rule, look{kind: "label"})
		s.p.set(row, 2, nil, look{kind: "label"})
		for i, v := range r.Costs {
			k := look{kind: "number", format: fmt.Sprintf(`#,##0.00" (%d)"`, r.Rank[i])}
			if r.Rank[i] == 1 {
				k.kind = "best"
			}
			s.p.set(row, 3+i, v, k)
		}
	}
	row++
	if s.n > 1 && len(s.c.Reversals) == 0 {
		s.p.set(row, 1, "The ranking is the same under every rule.", look{kind: "faint"})
		row++
	}
	for _, r := range s.c.Reversals {
		for i, line := range brokenLines("The rule turns the ranking round: "+r.Words, 120) {
			if i > 0 {
				line = "      " + line
			}
			s.p.set(row, 1, line, look{kind: "text"})
			row++
		}
	}
	return row + 1
}

// chart shows by how much each element makes the others dearer or cheaper than the base.
func (s *sideBySide) chart(first, last int) *excelize.Chart {
	font := chartFont()
	sheet := s.b.quoted(compareSheet)
	chart := &excelize.Chart{
		Type: excelize.Col, Title: chartTitle("What makes the difference to " + s.b.scenarioName(s.c.Base) + ", by element"),
		Dimension: excelize.ChartDimension{Width: 1100, Height: 460},
		Legend:    excelize.ChartLegend{Position: "bottom", Font: &font},
		XAxis:     excelize.ChartAxis{Font: font, TickLabelPosition: excelize.ChartTickLabelLow},
		YAxis:     excelize.ChartAxis{Font: font, MajorGridLines: true, NumFmt: excelize.ChartNumFmt{CustomNumFmt: "+#,##0.##;-#,##0.##;0"}, Title: axisTitle(s.b.currency() + " a good piece more than " + s.b.scenarioName(s.c.Base))},
	}
	for n := range s.others() {
		col := costmodel.ColumnName(3 + s.n + n)
		chart.Series = append(chart.Series, excelize.ChartSeries{
			Name:       fmt.Sprintf("%s!$%s$%d", sheet, col, first-1),
			Categories: fmt.Sprintf("%s!$A$%d:$A$%d", sheet, first, last),
			Values:     fmt.Sprintf("%s!$%s$%d:$%s$%d", sheet, col, first, col, last),
			Fill:       excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{palette[n%len(palette)]}},
		})
	}
	return chart
}
