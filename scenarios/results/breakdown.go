package results

import (
	"fmt"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/scenarios/live"
	"piececost/scenarios/sheet"
)

// breakdown writes part x element and step x element of every scenario, with a chart of where the money goes by part.
func (b *writer) breakdown() error {
	p, err := b.Page(BreakdownSheet, fmt.Sprintf("Cost breakdown, %s per good piece", b.currency()))
	if err != nil {
		return err
	}
	p.Landscape = true
	p.Titles = 3
	row := 5
	for i, s := range b.sheets {
		if i > 0 {
			p.Breaks = append(p.Breaks, row)
		}
		first := row + 2
		row = b.breakdownTable(p, row, s, "part")
		at, err := excelize.CoordinatesToCellName(1, row+2)
		if err != nil {
			return err
		}
		p.Charts[at] = b.partsChart(s.Plan.Scenario.Name, first, row-1)
		row += 2 + chartRows
		p.Breaks = append(p.Breaks, row)
		row = b.breakdownTable(p, row, s, "operation") + 2
	}
	p.Widths[1], p.Widths[2] = 15, 36
	for c := 3; c <= 3+len(b.elements()); c++ {
		p.Widths[c] = 11.5
	}
	return p.Flush()
}

// breakdownTable writes the rows of a scope with their elements and a total, and returns the row of the total.
func (b *writer) breakdownTable(p *sheet.Page, row int, s *live.Sheet, scope string) int {
	what := map[string]string{"part": "part", "operation": "operation"}[scope]
	p.Set(row, 1, fmt.Sprintf("%s by %s and element", s.Plan.Scenario.Name, what), sheet.Look{Kind: "total"})
	row++
	head := []string{map[string]string{"part": "Part", "operation": "Operation"}[scope], "Name"}
	for _, e := range b.elements() {
		head = append(head, e.Label)
	}
	p.Heading(row, 2, append(head, "Piece cost")...)
	var entries []costmodel.Entry
	for _, l := range s.Detail.Entries(scope) {
		if scope == "operation" || l.Must("has_route") == 1 { // bought parts are in the step they join at
			entries = append(entries, l)
		}
	}
	return b.costRows(p, row+1, s, entries, "", scenarioRef(s, "annual_volume"))
}

// costRows writes a row for each entry with its elements and total over a quantity per year, then the sum of all, and
// returns the row of the sum. The first column is a word column of the record, or its key.
func (b *writer) costRows(p *sheet.Page, row int, s *live.Sheet, entries []costmodel.Entry, word string, over live.Ref) int {
	var quantities []string
	for _, e := range b.elements() {
		quantities = append(quantities, e.Name)
	}
	quantities = append(quantities, "annual_cost")
	sums := make([]float64, len(quantities))
	first := row
	for _, l := range entries {
		key := l.Record().Key
		if word != "" {
			key = l.Record().Text(word)
		}
		p.Set(row, 1, key, sheet.Look{Kind: "label"})
		p.Set(row, 2, nameOf(l.Record()), sheet.Look{Kind: "label"})
		for i, q := range quantities {
			r := s.Ref(l.Entity(), q).Over(over)
			sums[i] += r.Num
			p.Link(row, 3+i, r, sheet.Look{Kind: "number", Format: b.money()})
		}
		row++
	}
	p.Set(row, 1, "Total", sheet.Look{Kind: "total"})
	p.Set(row, 2, nil, sheet.Look{Kind: "total"})
	for i := range quantities {
		col := table.ColumnName(3 + i)
		p.Formula(row, 3+i, fmt.Sprintf("SUM(%s%d:%s%d)", col, first, col, row-1), sums[i], sheet.Look{Kind: "total", Format: b.money()})
	}
	return row
}

// partsChart shows what each part costs.
func (b *writer) partsChart(scenario string, first, last int) *excelize.Chart {
	font := sheet.ChartFont()
	total := table.ColumnName(3 + len(b.elements()))
	return &excelize.Chart{
		Type: excelize.Bar, Title: sheet.ChartTitle(scenario + ": cost by part, this level"),
		Dimension: excelize.ChartDimension{Width: 900, Height: 500},
		Legend:    excelize.ChartLegend{Position: "none"},
		XAxis:     excelize.ChartAxis{Font: font, ReverseOrder: true},
		YAxis: excelize.ChartAxis{Font: font, MajorGridLines: true, NumFmt: excelize.ChartNumFmt{CustomNumFmt: "#,##0.##"},
			Title: sheet.AxisTitle(b.currency() + " per good piece")},
		Series: []excelize.ChartSeries{{
			Name:       fmt.Sprintf("%s!$%s$%d", b.Quoted(BreakdownSheet), total, first-1),
			Categories: fmt.Sprintf("%s!$A$%d:$A$%d", b.Quoted(BreakdownSheet), first, last),
			Values:     fmt.Sprintf("%s!$%s$%d:$%s$%d", b.Quoted(BreakdownSheet), total, first, total, last),
			Fill:       excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{sheet.Palette[0]}},
		}},
	}
}

// bill writes the indented bill of each scenario with own and cumulated cost of a good piece and what a product needs.
func (b *writer) bill() error {
	p, err := b.Page(BillSheet, fmt.Sprintf("Costed bill of materials, %s", b.currency()))
	if err != nil {
		return err
	}
	row := 5
	for i, s := range b.sheets {
		if i > 0 {
			p.Breaks = append(p.Breaks, row)
		}
		p.Set(row, 1, s.Plan.Scenario.Name, sheet.Look{Kind: "total"})
		p.Heading(row+1, 2, "Part", "Name", "Quantity in parent", "Demand [1/yr]", "This level, per piece", "Including components, per piece",
			"Including components, per product",
			"Net mass [kg]", fmt.Sprintf("%s/kg", b.currency()))
		row = b.billRows(p, row+2, s, s.Detail.Product().Entity(), 0, -1) + 1
	}
	p.Widths[1], p.Widths[2] = 24, 36
	for c := 3; c <= 9; c++ {
		p.Widths[c] = 13
	}
	p.Landscape = true
	p.Titles = 3
	return p.Flush()
}

// billRows writes a part and what joins it, one level further in, and returns the next free row.
func (b *writer) billRows(p *sheet.Page, row int, s *live.Sheet, e int32, level int, link int32) int {
	r := s.Plan.RowRecord(e)
	indent := ""
	for i := 0; i < level; i++ {
		indent += "   "
	}
	p.Set(row, 1, indent+r.Key, sheet.Look{Kind: "label"})
	p.Set(row, 2, nameOf(r), sheet.Look{Kind: "label"})
	p.Set(row, 3, nil, sheet.Look{Kind: "number"})
	volume := scenarioRef(s, "annual_volume")
	cumulated := s.Ref(e, "piece_cost_including_components")
	perProduct := cumulated
	if link >= 0 {
		p.Link(row, 3, s.Ref(link, "quantity"), sheet.Look{Kind: "number", Format: "#,##0.##"})
		perProduct = s.Ref(link, "child_cost").Over(volume)
	}
	p.Link(row, 4, s.Ref(e, "demand"), sheet.Look{Kind: "number", Format: sheet.WholeFormat})
	p.Link(row, 5, s.Ref(e, "piece_cost_of_this_level"), sheet.Look{Kind: "number", Format: b.money()})
	p.Link(row, 6, cumulated, sheet.Look{Kind: "number", Format: b.money()})
	p.Link(row, 7, perProduct, sheet.Look{Kind: "number", Format: b.money()})
	p.Link(row, 8, s.Ref(e, "net_mass"), sheet.Look{Kind: "number", Format: sheet.MassFormat})
	p.Link(row, 9, s.Ref(e, "cost_per_kilogram"), sheet.Look{Kind: "number", Format: sheet.MoneyFormat})
	row++
	for _, l := range s.Plan.Members(e, costmodel.RelationNumber("part", "children")) {
		row = b.billRows(p, row, s, s.Plan.Follow(l, costmodel.RelationNumber("link", "child")), level+1, l)
	}
	return row
}
