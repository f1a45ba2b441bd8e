package scenarios

import (
	"fmt"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
	"piececost/scenarios/live"
)

// breakdown writes part x element and step x element of every scenario, with a chart of where the money goes by part.
func (b *writer) breakdown() error {
	p, err := b.page(breakdownSheet, fmt.Sprintf("Where the money goes, %s a good piece", b.currency()))
	if err != nil {
		return err
	}
	p.landscape = true
	p.titles = 3
	row := 5
	for i, s := range b.sheets {
		if i > 0 {
			p.breaks = append(p.breaks, row)
		}
		first := row + 2
		row = b.breakdownTable(p, row, s, "part")
		at, err := excelize.CoordinatesToCellName(1, row+2)
		if err != nil {
			return err
		}
		p.charts[at] = b.partsChart(s.Plan.Scenario.Name, first, row-1)
		row += 2 + chartRows
		p.breaks = append(p.breaks, row)
		row = b.breakdownTable(p, row, s, "operation") + 2
	}
	p.widths[1], p.widths[2] = 15, 36
	for c := 3; c <= 3+len(b.elements()); c++ {
		p.widths[c] = 11.5
	}
	return p.flush()
}

// breakdownTable writes the rows of a scope with their elements and a total, and returns the row of the total.
func (b *writer) breakdownTable(p *page, row int, s *live.Sheet, scope string) int {
	what := map[string]string{"part": "part", "operation": "step"}[scope]
	p.set(row, 1, fmt.Sprintf("%s by %s and element", s.Plan.Scenario.Name, what), look{kind: "total"})
	row++
	head := []string{map[string]string{"part": "Part", "operation": "Step"}[scope], "Name"}
	for _, e := range b.elements() {
		head = append(head, e.Label)
	}
	p.heading(row, 2, append(head, "Piece cost")...)
	var lines []costmodel.Line
	for _, l := range s.Detail.Lines(scope) {
		if scope == "operation" || l.Must("has_route") == 1 { // bought parts are in the step they join at
			lines = append(lines, l)
		}
	}
	return b.costRows(p, row+1, s, lines, "", scenarioRef(s, "annual_volume"))
}

// costRows writes a row for each line with its elements and total over a quantity a year, then the sum of all, and
// returns the row of the sum. The first column is a word column of the record, or its key.
func (b *writer) costRows(p *page, row int, s *live.Sheet, lines []costmodel.Line, word string, over live.Ref) int {
	var quantities []string
	for _, e := range b.elements() {
		quantities = append(quantities, e.Name)
	}
	quantities = append(quantities, "annual_cost")
	sums := make([]float64, len(quantities))
	first := row
	for _, l := range lines {
		key := l.Record().Key
		if word != "" {
			key = l.Record().Text(word)
		}
		p.set(row, 1, key, look{kind: "label"})
		p.set(row, 2, nameOf(l.Record()), look{kind: "label"})
		for i, q := range quantities {
			r := s.Ref(l.Entity(), q).Over(over)
			sums[i] += r.Num
			p.link(row, 3+i, r, look{kind: "number", format: b.money()})
		}
		row++
	}
	p.set(row, 1, "Total", look{kind: "total"})
	p.set(row, 2, nil, look{kind: "total"})
	for i := range quantities {
		col := costmodel.ColumnName(3 + i)
		p.formula(row, 3+i, fmt.Sprintf("SUM(%s%d:%s%d)", col, first, col, row-1), sums[i], look{kind: "total", format: b.money()})
	}
	return row
}

const chartRows = 26 // rows that a chart covers

// partsChart shows what each part costs.
func (b *writer) partsChart(scenario string, first, last int) *excelize.Chart {
	font := chartFont()
	total := costmodel.ColumnName(3 + len(b.elements()))
	return &excelize.Chart{
		Type: excelize.Bar, Title: chartTitle(scenario + ": cost by part, own steps"),
		Dimension: excelize.ChartDimension{Width: 900, Height: 500},
		Legend:    excelize.ChartLegend{Position: "none"},
		XAxis:     excelize.ChartAxis{Font: font, ReverseOrder: true},
		YAxis:     excelize.ChartAxis{Font: font, MajorGridLines: true, NumFmt: excelize.ChartNumFmt{CustomNumFmt: "#,##0.##"}, Title: axisTitle(b.currency() + " a good piece")},
		Series: []excelize.ChartSeries{{
			Name:       fmt.Sprintf("%s!$%s$%d", b.quoted(breakdownSheet), total, first-1),
			Categories: fmt.Sprintf("%s!$A$%d:$A$%d", b.quoted(breakdownSheet), first, last),
			Values:     fmt.Sprintf("%s!$%s$%d:$%s$%d", b.quoted(breakdownSheet), total, first, total, last),
			Fill:       excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{palette[0]}},
		}},
	}
}

// bill writes the indented bill of each scenario with own and cumulated cost of a good piece and what a product needs.
func (b *writer) bill() error {
	p, err := b.page(billSheet, fmt.Sprintf("Bill of materials with own and cumulated cost, %s", b.currency()))
	if err != nil {
		return err
	}
	row := 5
	for i, s := range b.sheets {
		if i > 0 {
			p.breaks = append(p.breaks, row)
		}
		p.set(row, 1, s.Plan.Scenario.Name, look{kind: "total"})
		p.heading(row+1, 2, "Part", "Name", "Quantity in parent", "Demand [1/yr]", "Own, a piece", "Cumulated, a piece", "Cumulated, a product", "Net mass [kg]", fmt.Sprintf("%s/kg", b.currency()))
		row = b.billRows(p, row+2, s, s.Detail.Product().Entity(), 0, -1) + 1
	}
	p.widths[1], p.widths[2] = 24, 36
	for c := 3; c <= 9; c++ {
		p.widths[c] = 13
	}
	p.landscape = true
	p.titles = 3
	return p.flush()
}

// billRows writes a part and what joins it, one level further in, and returns the next free row.
func (b *writer) billRows(p *page, row int, s *live.Sheet, e int32, level int, link int32) int {
	r := s.Plan.RowRecord(e)
	indent := ""
	for i := 0; i < level; i++ {
		indent += "   "
	}
	p.set(row, 1, indent+r.Key, look{kind: "label"})
	p.set(row, 2, nameOf(r), look{kind: "label"})
	p.set(row, 3, nil, look{kind: "number"})
	volume := scenarioRef(s, "annual_volume")
	cumulated := s.Ref(e, "cumulated_piece_cost")
	perProduct := cumulated
	if link >= 0 {
		p.link(row, 3, s.Ref(link, "quantity"), look{kind: "number", format: "#,##0.##"})
		perProduct = s.Ref(link, "child_cost").Over(volume)
	}
	p.link(row, 4, s.Ref(e, "demand"), look{kind: "number", format: wholeFormat})
	p.link(row, 5, s.Ref(e, "own_piece_cost"), look{kind: "number", format: b.money()})
	p.link(row, 6, cumulated, look{kind: "number", format: b.money()})
	p.link(row, 7, perProduct, look{kind: "number", format: b.money()})
	p.link(row, 8, s.Ref(e, "net_mass"), look{kind: "number", format: massFormat})
	p.link(row, 9, s.Ref(e, "cost_per_kilogram"), look{kind: "number", format: moneyFormat})
	row++
	for _, l := range s.Plan.Members(e, costmodel.RelationNumber("part", "children")) {
		row = b.billRows(p, row, s, s.Plan.Follow(l, costmodel.RelationNumber("link", "child")), level+1, l)
	}
	return row
}
