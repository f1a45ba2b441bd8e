package results

import (
	"fmt"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel/table"
	"piececost/scenarios/sheet"
)

// summary writes the comparison of the scenarios, each at its own volume: the statement with its rounding line, cost by
// behaviour, the price build-up, mass, investment and the cost of mass saved.
func (b *writer) summary() error {
	p, err := b.Page(SummarySheet, "Summary: piece cost of the scenarios")
	if err != nil {
		return err
	}
	head := []string{b.currency() + " per good piece"}
	for _, s := range b.sheets {
		head = append(head, s.Plan.Scenario.Name)
	}
	p.Heading(5, 1, head...)
	row := summaryFirst - 1
	line := func(label, quantity, kind, format string) {
		words := "label"
		if kind == "total" {
			words = "total"
		}
		p.Set(row, 1, label, sheet.Look{Kind: words})
		for i, s := range b.sheets {
			p.Link(row, 2+i, scenarioRef(s, quantity), sheet.Look{Kind: kind, Format: format})
		}
		row++
	}
	line("Annual volume [1/yr]", "annual_volume", "number", sheet.WholeFormat)
	first := row
	for _, e := range b.elements() {
		line(e.Label, e.PieceName(), "number", b.money())
	}
	line("Piece cost, unrounded", "piece_cost", "total", b.money())
	row = b.rounding(p, row)
	line("of which set-up", "setup_cost", "number", b.money())
	line("of which fixed", "fixed_cost", "number", b.money())
	line("of which step-fixed", "step_fixed_cost", "number", b.money())
	line("of which variable", "variable_cost", "number", b.money())
	row = b.priceView(p, row+1)
	row++
	p.Heading(row, 1, append([]string{"Mass and investment"}, head[1:]...)...)
	row++
	line("Net mass [kg]", "net_mass", "number", sheet.MassFormat)
	line("Gross mass, purchased per good piece [kg]", "gross_mass", "number", sheet.MassFormat)
	line(fmt.Sprintf("Tooling investment [%s]", b.currency()), "tooling_investment", "number", sheet.WholeFormat)
	line(fmt.Sprintf("Product-specific equipment investment [%s]", b.currency()), "product_specific_equipment_investment", "number", sheet.WholeFormat)
	line("Floor space for product-specific equipment [m2]", "product_specific_floor_space", "number", sheet.WholeFormat)
	row = b.massSaved(p, row+1)
	p.Widths[1] = 46
	for i := range b.sheets {
		p.Widths[2+i] = 17
	}
	p.Titles = 5
	p.Freeze = "B6"
	p.Breaks = append(p.Breaks, row+2)
	at, err := excelize.CoordinatesToCellName(1, row+2)
	if err != nil {
		return err
	}
	p.Charts[at] = b.elementsChart(first)
	return p.Flush()
}

// rounding shows the rounded total and the line that makes up the difference, so that the printed lines add up.
func (b *writer) rounding(p *sheet.Page, row int) int {
	p.Set(row, 1, "Rounding", sheet.Look{Kind: "label"})
	p.Set(row+1, 1, "Piece cost", sheet.Look{Kind: "total"})
	for i, d := range b.result.Details {
		st := d.Statement()
		total := fmt.Sprintf("%s%d", table.ColumnName(2+i), row-1)
		rounded := st.Total.Money.InexactFloat64()
		p.Formula(row, 2+i, fmt.Sprintf("ROUND(%s,%d)-%s", total, st.Digits, total), rounded-d.Scenario().Must("piece_cost"),
			sheet.Look{Kind: "number", Format: "0.000000"})
		p.Formula(row+1, 2+i, fmt.Sprintf("%s+%s%d", total, table.ColumnName(2+i), row), rounded, sheet.Look{Kind: "total", Format: b.money()})
	}
	return row + 2
}

// priceView writes manufacturing cost up to the price.
func (b *writer) priceView(p *sheet.Page, row int) int {
	head := []string{"Price build-up, profit above the required return"}
	for _, s := range b.sheets {
		head = append(head, s.Plan.Scenario.Name)
	}
	p.Heading(row, 1, head...)
	row++
	for _, l := range []struct{ label, scope, quantity string }{
		{"Piece cost", "scenario", "piece_cost"}, {"Material handling", "case", "material_handling"}, {"SG&A", "scenario", "sga_amount"},
		{"Profit", "scenario", "profit_amount"}, {"Packaging", "case", "packaging"}, {"Freight", "case", "freight"}, {"Duty", "case", "duty"},
		{"Price", "scenario", "price"},
	} {
		kind, words := "number", "label"
		if l.quantity == "price" {
			kind, words = "total", "total"
		}
		p.Set(row, 1, l.label, sheet.Look{Kind: words})
		for i, s := range b.sheets {
			p.Link(row, 2+i, s.Ref(s.Main(l.scope).Rows[0], l.quantity), sheet.Look{Kind: kind, Format: b.money()})
		}
		row++
	}
	return row
}

// massSaved writes for every scenario after the first what its saved mass costs: differences live, the verdict in words.
func (b *writer) massSaved(p *sheet.Page, row int) int {
	if len(b.sheets) < 2 {
		return row
	}
	p.Heading(row, 1, fmt.Sprintf("Against %s", b.sheets[0].Plan.Scenario.Name))
	a := b.sheets[0]
	for i := range b.sheets {
		p.Set(row, 2+i, b.sheets[i].Plan.Scenario.Name, sheet.Look{Kind: "heading", Right: true})
	}
	for _, l := range []struct {
		label, quantity, format string
		sign                    float64
	}{{"Cost difference", "piece_cost", b.money(), 1}, {"Mass saved [kg]", "net_mass", sheet.MassFormat, -1}} {
		row++
		p.Set(row, 1, l.label, sheet.Look{Kind: "label"})
		p.Set(row, 2, nil, sheet.Look{Kind: "number"})
		for i, s := range b.sheets[1:] {
			x, y := scenarioRef(s, l.quantity), scenarioRef(a, l.quantity)
			if l.sign < 0 {
				x, y = y, x
			}
			p.Formula(row, 3+i, x.Formula+"-"+y.Formula, x.Num-y.Num, sheet.Look{Kind: "number", Format: l.format})
		}
	}
	row++
	p.Set(row, 1, "Result", sheet.Look{Kind: "label"})
	b.verdictRow = row
	p.Set(row, 2, nil, sheet.Look{Kind: "label"})
	p.Heights[row] = 28
	p.Set(row+1, 1, massPriceLabel(b.currency()), sheet.Look{Kind: "label"})
	p.Set(row+1, 2, nil, sheet.Look{Kind: "number"})
	for i := range b.sheets[1:] {
		col := table.ColumnName(3 + i)
		cells := NewMassCells(b.model().Schema.Comparison, fmt.Sprintf("%s%d", col, row-2), fmt.Sprintf("%s%d", col, row-1), "")
		v := Verdict(b.result.Details, i+1)
		formula, value := cells.VerdictCell(&v)
		p.Formula(row, 3+i, formula, value, sheet.Look{Kind: "label", Right: true, Wrap: true})
		formula, value = cells.PriceCell(&v)
		p.Formula(row+1, 3+i, formula, value, sheet.Look{Kind: "number", Format: sheet.MoneyFormat, Right: true})
	}
	return row + 1
}

// elementsChart stacks the elements of each scenario.
func (b *writer) elementsChart(first int) *excelize.Chart {
	font := sheet.ChartFont()
	last := table.ColumnName(1 + len(b.sheets))
	chart := &excelize.Chart{
		Type: excelize.ColStacked, Title: sheet.ChartTitle("What a piece costs, by element"),
		Dimension: excelize.ChartDimension{Width: 700, Height: 420},
		Legend:    excelize.ChartLegend{Position: "right", Font: &font},
		XAxis:     excelize.ChartAxis{Font: font}, YAxis: excelize.ChartAxis{Font: font, MajorGridLines: true,
			NumFmt: excelize.ChartNumFmt{CustomNumFmt: "#,##0.##"}, Title: sheet.AxisTitle("piece cost [" + b.currency() + "]")},
	}
	for i := range b.elements() {
		row := first + i
		chart.Series = append(chart.Series, excelize.ChartSeries{
			Name:       fmt.Sprintf("%s!$A$%d", b.Quoted(SummarySheet), row),
			Categories: fmt.Sprintf("%s!$B$5:$%s$5", b.Quoted(SummarySheet), last),
			Values:     fmt.Sprintf("%s!$B$%d:$%s$%d", b.Quoted(SummarySheet), row, last, row),
			Fill:       excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{sheet.Palette[i%len(sheet.Palette)]}},
		})
	}
	return chart
}
