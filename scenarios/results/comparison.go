package results

import (
	"fmt"
	"math"

	"piececost/costmodel/study"
	"piececost/costmodel/table"
	"piececost/scenarios/live"
	"piececost/scenarios/sheet"
)

// sideBySide writes the comparison: costs by element, part and step as live formulas with their changes to the base, masses
// and investment, and as values of the run capacity, targets and equipment allocations.
func (b *writer) sideBySide() error {
	c := b.result.Compare
	if c == nil {
		return nil
	}
	p, err := b.Page(CompareSheet, "Scenario comparison, with the change to "+b.scenarioName(c.Base))
	if err != nil {
		return err
	}
	s := &sideBySide{b: b, p: p, c: c, n: len(b.sheets)}
	b.staleMark(p)
	followed := "mass saved and parity"
	if len(c.Benchmarks) > 0 {
		followed = "mass saved, parity and benchmarks"
	}
	p.Set(5, 1, "Costs, masses, investment, "+followed+" are live formulas; capacity, targets and equipment allocations are values of the run.",
		sheet.Look{Kind: "faint"})
	row := s.elements(7)
	row = s.measures(row + 1)
	if s.n > 1 {
		row++
		p.Breaks = append(p.Breaks, row)
		p.Charts[fmt.Sprintf("A%d", row+1)] = s.chart(8, 7+len(s.b.elements()))
		row += 1 + chartRows
	}
	p.Breaks = append(p.Breaks, row)
	row = s.verdicts(row)
	p.Breaks = append(p.Breaks, row)
	row = s.benchmarks(row)
	row = s.capacity(row) + 1
	p.Breaks = append(p.Breaks, row)
	row = s.costs(row, "part")
	p.Breaks = append(p.Breaks, row)
	s.costs(row, "operation")
	p.Widths[1], p.Widths[2] = sideKeys, sideNames
	for i := range max(2*s.n-1, s.measuredColumns()) {
		p.Widths[3+i] = sideWidth
	}
	p.Landscape, p.Titles = true, 4
	return p.Flush()
}

// heading writes the heading of a block.
func (s *sideBySide) heading(row int, first, second string) {
	texts := s.titles(first, second)
	for _, i := range s.others() {
		texts = append(texts, "change with "+s.b.scenarioName(i))
	}
	s.wordHeading(row, texts...)
}

// line writes a row of references, one a scenario, and the changes; what a scenario does not have is empty and counts as 0.
func (s *sideBySide) line(row int, key, name, kind, format string, refs []live.Ref) {
	words := "label"
	if kind == "total" {
		words = kind
	}
	s.rowWords(row, key, name, words)
	nums := make([]float64, s.n)
	for i, r := range refs {
		s.p.Link(row, 3+i, r, sheet.Look{Kind: kind, Format: format})
		nums[i] = math.NaN()
		if r.OK {
			nums[i] = r.Num
		}
	}
	s.changes(row, kind, format, nums)
}

// each makes a reference for every scenario.
func (s *sideBySide) each(quantity string) []live.Ref {
	var out []live.Ref
	for _, sheet := range s.b.sheets {
		out = append(out, scenarioRef(sheet, quantity))
	}
	return out
}

// elements writes the piece cost by element; it returns the row below.
func (s *sideBySide) elements(row int) int {
	s.heading(row, s.b.currency()+" per good piece", "")
	row++
	for _, e := range s.b.elements() {
		s.line(row, e.Label, "", "number", s.b.money(), s.each(e.PieceName()))
		row++
	}
	s.costRow = row
	s.line(row, "Piece cost", "", "total", s.b.money(), s.each("piece_cost"))
	s.line(row+1, "Annual volume", "", "number", sheet.WholeFormat, s.each("annual_volume"))
	return row + 2
}

// measures writes what formulas can say beside the cost.
func (s *sideBySide) measures(row int) int {
	s.heading(row, "Price, mass, investment, counts", "")
	c := s.b.currency()
	for _, m := range []struct{ label, unit, quantity, format string }{
		{"Price", c, "price", s.b.money()}, {"Of which set-up", c, "setup_cost", s.b.money()},
		{"Net mass", "kg", "net_mass", sheet.MassFormat}, {"Gross mass", "kg", "gross_mass", sheet.MassFormat}, {"Scrap mass", "kg", "scrap_mass",
			sheet.MassFormat},
		{"Tooling", c, "tooling_investment", sheet.WholeFormat}, {"Product-specific equipment", c, "product_specific_equipment_investment", sheet.WholeFormat},
		{"Direct workers, paid", "", "direct_workers", "#,##0.0"}, {"Floor space", "m2, charged", "floor_space", sheet.WholeFormat},
		{"Floor space of product-specific lines", "m2", "product_specific_floor_space", sheet.WholeFormat},
		{"Parts, distinct", "", "part_count", sheet.WholeFormat}, {"Pieces in a product", "", "piece_count", "#,##0.##"},
		{"Joints in a product", "", "joint_count", "#,##0.##"}, {"Operations", "", "operation_count", sheet.WholeFormat},
		{"Operations with a tool", "", "tool_count", sheet.WholeFormat},
	} {
		row++
		if m.quantity == "net_mass" {
			s.massRow = row
		}
		s.line(row, m.label, m.unit, "number", m.format, s.each(m.quantity))
	}
	return row + 1
}

// values writes a row of numbers of the run.
func (s *sideBySide) values(row int, r study.Row, key, name, format string) {
	s.rowWords(row, key, name, "label")
	for i, v := range r.Values {
		if r.Absent(i) {
			s.p.Set(row, 3+i, nil, sheet.Look{Kind: "number"})
			continue
		}
		s.p.Set(row, 3+i, v, sheet.Look{Kind: "number", Format: format})
	}
	for n, i := range s.others() {
		k := sheet.Look{Kind: "number", Format: signedFormat(format)}
		if r.Absent(i) && r.Absent(s.c.Base) {
			s.p.Set(row, 3+s.n+n, nil, k)
			continue
		}
		s.p.Set(row, 3+s.n+n, shownChange(r.Change(i, s.c.Base), decimalsOf(format)), k)
	}
}

// capacity writes lines and tool sets.
func (s *sideBySide) capacity(row int) int {
	s.heading(row, "Capacity", "shared machines by the share charged")
	for _, m := range s.c.Measures {
		switch m.Key {
		case "tool_sets", "product_specific_lines":
			row++
			s.values(row, m, m.Name, "", "#,##0")
		case "shared_lines":
			row++
			s.values(row, m, m.Name, "", "#,##0.00")
		}
	}
	for _, l := range s.c.Lines {
		row++
		s.values(row, l, l.Key, l.Name, "#,##0.00")
	}
	return row + 1
}

// costs writes the rows of a scope with their live cost per good piece, matched by key.
func (s *sideBySide) costs(row int, scope string) int {
	what := map[string]string{"part": "part", "operation": "operation"}[scope]
	s.heading(row, fmt.Sprintf("%s per good piece", s.b.currency()), "by "+what+map[bool]string{true: ", this level"}[scope == "part"])
	first := row + 1
	for _, r := range s.keyed(scope) {
		row++
		s.line(row, r.key, r.name, "number", s.b.money(), r.refs)
	}
	row++
	s.p.Set(row, 1, "Piece cost", sheet.Look{Kind: "total"})
	s.p.Set(row, 2, nil, sheet.Look{Kind: "total"})
	nums := make([]float64, s.n)
	for i := range s.b.sheets {
		nums[i] = s.b.sheets[i].Detail.Scenario().Must("piece_cost")
		col := table.ColumnName(3 + i)
		s.p.Formula(row, 3+i, fmt.Sprintf("SUM(%s%d:%s%d)", col, first, col, row-1), nums[i], sheet.Look{Kind: "total", Format: s.b.money()})
	}
	s.changes(row, "total", s.b.money(), nums)
	return row + 2
}

// keyedRow is a row of the scenarios that have it.
type keyedRow struct {
	key, name string
	refs      []live.Ref
}

// keyed matches the rows of the scenarios by key, in the order of the first that has them.
func (s *sideBySide) keyed(scope string) []*keyedRow {
	var out []*keyedRow
	at := map[string]*keyedRow{}
	for i, sheet := range s.b.sheets {
		volume := scenarioRef(sheet, "annual_volume")
		for _, l := range sheet.Detail.Entries(scope) {
			if scope == "part" && l.Must("has_route") != 1 { // a purchased part is in the step that it joins at
				continue
			}
			var ref live.Ref
			if scope == "part" {
				ref = sheet.Ref(l.Entity(), "annual_cost").Over(volume)
			} else {
				ref = sheet.Ref(l.Entity(), "piece_cost")
			}
			key := l.Record().Key
			if at[key] == nil {
				at[key] = &keyedRow{key: key, name: nameOf(l.Record()), refs: make([]live.Ref, s.n)}
				out = append(out, at[key])
			}
			at[key].refs[i] = ref
		}
	}
	return out
}
