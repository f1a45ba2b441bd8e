package results

import (
	"fmt"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel/study"
	"piececost/costmodel/table"
	"piececost/scenarios/sheet"
)

// verdicts writes what the saved mass costs, whether parity holds, the targets, and the ranking under each equipment allocation.
func (s *sideBySide) verdicts(row int) int {
	row = s.mass(row)
	row = s.targets(row)
	return s.rules(row)
}

// mass writes what a saved kilogram costs against the base, and whether parity holds, as formulas.
func (s *sideBySide) mass(row int) int {
	if s.n < 2 {
		return row
	}
	c := s.b.currency()
	s.wordHeading(row, s.titles("Cost of mass saved", "against "+s.b.scenarioName(s.c.Base))...)
	worth := row + 5
	base := func(row int) string { return fmt.Sprintf("$%s$%d", table.ColumnName(3+s.c.Base), row) }
	cells := func(col string) MassCells {
		return NewMassCells(s.b.model().Schema.Comparison, fmt.Sprintf("%s%d", col, row+1), fmt.Sprintf("%s%d", col, row+2), base(worth))
	}
	s.verdictLine(row+1, "Cost difference ["+c+"]", s.b.money(), func(col string, v *study.MassVerdict) (string, any) {
		return fmt.Sprintf("%s%d-%s", col, s.costRow, base(s.costRow)), v.CostChange
	})
	s.verdictLine(row+2, "Mass saved [kg]", sheet.MassFormat, func(col string, v *study.MassVerdict) (string, any) {
		return fmt.Sprintf("%s-%s%d", base(s.massRow), col, s.massRow), v.MassSaved
	})
	s.verdictLine(row+3, "Result", "", func(col string, v *study.MassVerdict) (string, any) { return cells(col).VerdictCell(v) })
	s.verdictLine(row+4, massPriceLabel(c), sheet.MoneyFormat, func(col string, v *study.MassVerdict) (string, any) { return cells(col).PriceCell(v) })
	s.worth(worth, "Allowable cost of mass saving ["+c+"]")
	s.verdictLine(row+6, "Net benefit of mass saving ["+c+"]", signedFormat(s.b.money()),
		func(col string, v *study.MassVerdict) (string, any) { return cells(col).MarginCell(v) })
	s.verdictLine(row+7, "Parity", "", func(col string, v *study.MassVerdict) (string, any) { return cells(col).ParityCell(v) })
	return row + 9
}

// verdictLine writes a formula for each scenario beside the base; a row of words wraps.
func (s *sideBySide) verdictLine(row int, label, format string, formula func(col string, v *study.MassVerdict) (string, any)) {
	s.rowWords(row, label, "", "label")
	k := sheet.Look{Kind: "number", Format: format, Right: true, Wrap: format == ""}
	s.p.Set(row, 3+s.c.Base, nil, k)
	for _, i := range s.others() {
		f, value := formula(table.ColumnName(3+i), &s.c.Mass[i])
		s.p.Formula(row, 3+i, f, value, k)
		if words, ok := value.(string); ok && format == "" {
			s.p.Grow(row, words, sideWidth+4)
		}
	}
}

// worth writes what a saved kilogram is worth in the column of the base.
func (s *sideBySide) worth(row int, label string) {
	s.rowWords(row, label, "", "label")
	k := sheet.Look{Kind: "number", Format: "#,##0.00"} // 0 is a worth, too
	for i := range s.n {
		s.p.Set(row, 3+i, nil, k)
	}
	sheet := s.b.sheets[s.c.Base]
	if r := sheet.Ref(sheet.Main("case").Rows[0], "allowable_cost_of_mass_saving"); r.OK {
		s.p.Link(row, 3+s.c.Base, r, k)
		return
	}
	s.p.Set(row, 3+s.c.Base, s.c.Mass[s.c.Base].Parity.Value, k)
}

// targets writes for each requirement what is wanted, what the scenarios reach and by how much they meet or miss it.
func (s *sideBySide) targets(row int) int {
	if len(s.c.Targets) == 0 {
		return row
	}
	s.wordHeading(row, s.titles("Target and what is reached", "")...)
	for _, list := range s.c.Targets {
		t := list[0].Target
		unit := ""
		if u := s.b.model().ShownUnit(t.Unit); u != "" && u != "1" {
			unit = " [" + u + "]"
		}
		for n, label := range []string{t.Name() + unit, t.Direction(), "above it by", "verdict"} {
			row++
			if n == 0 {
				row = s.targetName(row, label)
			} else {
				s.p.Set(row, 1, nil, sheet.Look{Kind: "label"})
				s.p.Set(row, 2, label, sheet.Look{Kind: "label"})
			}
			for i, j := range list {
				if n == 3 {
					s.p.Set(row, 3+i, string(j.Verdict), sheet.Look{Kind: "label", Right: true})
					continue
				}
				v := []float64{j.Value, j.Wanted, j.Over}[n]
				k := sheet.Look{Kind: "number", Format: sheet.ValueFormat(v)}
				if n == 2 {
					k.Format = signedFormat(sheet.ValueFormat(v))
					v = shownChange(v, decimalsOf(sheet.ValueFormat(v)))
				}
				s.b.number(s.p, row, 3+i, v, k)
			}
		}
	}
	return row + 2
}

// targetName writes a target's name over both columns of words, a long one in several rows; it returns the last of them.
func (s *sideBySide) targetName(row int, name string) int {
	lines := sheet.BrokenLines(name, sideKeys+sideNames-4)
	for i, line := range lines {
		s.rowWords(row+i, line, "", "label")
	}
	return row + len(lines) - 1
}

// rules writes piece cost and rank under each equipment allocation, and where the rule reverses the ranking.
func (s *sideBySide) rules(row int) int {
	if len(s.c.Rules) == 0 {
		return row
	}
	s.wordHeading(row, s.titles("Equipment allocation", "of all machines; rank in brackets")...)
	for _, r := range s.c.Rules {
		row++
		s.p.Set(row, 1, r.Rule, sheet.Look{Kind: "label"})
		s.p.Set(row, 2, nil, sheet.Look{Kind: "label"})
		for i, v := range r.Costs {
			k := sheet.Look{Kind: "number", Format: fmt.Sprintf(`#,##0.00" (%d)"`, r.Rank[i])}
			if r.Rank[i] == 1 {
				k.Kind = "best"
			}
			s.p.Set(row, 3+i, v, k)
		}
	}
	row++
	if s.n > 1 && len(s.c.Reversals) == 0 {
		s.p.Set(row, 1, "The ranking is the same under every equipment allocation.", sheet.Look{Kind: "faint"})
		row++
	}
	for _, r := range s.c.Reversals {
		for i, line := range sheet.BrokenLines("The ranking reverses under another equipment allocation: "+r.Words, 120) {
			if i > 0 {
				line = "      " + line
			}
			s.p.Set(row, 1, line, sheet.Look{Kind: "text"})
			row++
		}
	}
	return row + 1
}

// chart shows by how much each element makes the others more expensive or cheaper than the base.
func (s *sideBySide) chart(first, last int) *excelize.Chart {
	font := sheet.ChartFont()
	quoted := s.b.Quoted(CompareSheet)
	chart := &excelize.Chart{
		Type: excelize.Col, Title: sheet.ChartTitle("What makes the difference to " + s.b.scenarioName(s.c.Base) + ", by element"),
		Dimension: excelize.ChartDimension{Width: 1100, Height: 460},
		Legend:    excelize.ChartLegend{Position: "bottom", Font: &font},
		// level, a long word is broken
		XAxis: excelize.ChartAxis{Font: font, TickLabelPosition: excelize.ChartTickLabelLow, Alignment: excelize.Alignment{TextRotation: -45}},
		YAxis: excelize.ChartAxis{Font: font, MajorGridLines: true, NumFmt: excelize.ChartNumFmt{CustomNumFmt: "+#,##0.##;-#,##0.##;0"},
			Title: sheet.AxisTitle(s.b.currency() + " per good piece more than " + s.b.scenarioName(s.c.Base))},
	}
	for n := range s.others() {
		col := table.ColumnName(3 + s.n + n)
		chart.Series = append(chart.Series, excelize.ChartSeries{
			Name:       fmt.Sprintf("%s!$%s$%d", quoted, col, first-1),
			Categories: fmt.Sprintf("%s!$A$%d:$A$%d", quoted, first, last),
			Values:     fmt.Sprintf("%s!$%s$%d:$%s$%d", quoted, col, first, col, last),
			Fill:       excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{sheet.Palette[n%len(sheet.Palette)]}},
		})
	}
	return chart
}
