package results

import (
	"fmt"

	"piececost/costmodel"
	"piececost/scenarios/live"
	"piececost/scenarios/sheet"
)

// rates writes each machine's hour rate by element, and its load.
func (b *writer) rates() error {
	c := b.currency()
	p, err := b.Page(RatesSheet, fmt.Sprintf("Hourly rates, %s per required hour", c))
	if err != nil {
		return err
	}
	row := 5
	columns := []struct{ label, quantity, format string }{
		{"Planned capacity utilisation [%]", "", sheet.ShareFormat}, {"Equipment", "rate_equipment", sheet.MoneyFormat},
		{"Building", "rate_building", sheet.MoneyFormat}, {"Energy", "rate_energy", sheet.MoneyFormat},
		{"Maintenance", "rate_maintenance", sheet.MoneyFormat}, {"Machine-hour rate", "machine_hour_rate", sheet.MoneyFormat},
		{"Labour", "rate_labour", sheet.MoneyFormat}, {"Overhead", "rate_overhead", sheet.MoneyFormat},
		{"Work-centre hourly rate", "work_centre_hourly_rate", sheet.MoneyFormat},
		{"Machine hours required [h/yr]", "machine_hours_required", sheet.WholeFormat}, {"Capacity utilisation [%]", "capacity_utilisation", sheet.ShareFormat},
	}
	for i, s := range b.sheets {
		if i > 0 {
			p.Breaks = append(p.Breaks, row)
		}
		p.Set(row, 1, s.Plan.Scenario.Name, sheet.Look{Kind: "total"})
		row++
		head := []string{"Machine", "Name", "Plant", "Equipment allocation"}
		for _, col := range columns {
			head = append(head, col.label)
		}
		p.Heading(row, 4, head...)
		for _, e := range s.Main("machine").Rows {
			row++
			plant := s.Plan.Follow(e, costmodel.RelationNumber("machine", "plant"))
			p.Set(row, 1, s.Plan.RowRecord(e).Key, sheet.Look{Kind: "label"})
			p.Set(row, 2, nameOf(s.Plan.RowRecord(e)), sheet.Look{Kind: "label"})
			p.Set(row, 3, s.Plan.RowRecord(plant).Key, sheet.Look{Kind: "label"})
			p.Link(row, 4, s.Ref(e, "equipment_allocation"), sheet.Look{Kind: "label"})
			for i, col := range columns {
				at, quantity := e, col.quantity
				if quantity == "" {
					at, quantity = plant, "planned_capacity_utilisation"
				}
				r := s.Ref(at, quantity)
				kind := "number"
				if col.quantity == "machine_hour_rate" || col.quantity == "work_centre_hourly_rate" {
					kind = "total"
				}
				p.Link(row, 5+i, r, sheet.Look{Kind: kind, Format: col.format})
			}
		}
		row += 2
	}
	p.Widths[1], p.Widths[2], p.Widths[3], p.Widths[4] = 11, 36, 13, 12
	for i := range columns {
		p.Widths[5+i] = 11.5
	}
	p.Landscape, p.Titles = true, 3
	return p.Flush()
}

// investment writes the machines and tools that each scenario buys.
func (b *writer) investment() error {
	c := b.currency()
	p, err := b.Page(InvestmentSheet, fmt.Sprintf("Investment: machines, tools, floor space, %s", c))
	if err != nil {
		return err
	}
	row := 5
	for i, s := range b.sheets {
		if i > 0 {
			p.Breaks = append(p.Breaks, row)
		}
		row = b.machineInvestment(p, row, s)
		row = b.toolInvestment(p, row+1, s) + 1
	}
	p.Widths[1], p.Widths[2] = 14, 36
	for c := 3; c <= 10; c++ {
		p.Widths[c] = 13
	}
	p.Landscape, p.Titles = true, 3
	return p.Flush()
}

// listing is a table of quantities of rows with a total where it makes sense.
type listing struct {
	label, quantity, format string
	total                   string // scenario quantity, or "" for none
}

func (b *writer) machineInvestment(p *sheet.Page, row int, s *live.Sheet) int {
	p.Set(row, 1, s.Plan.Scenario.Name+": machines bought for this product, shared ones by the hour", sheet.Look{Kind: "total"})
	return b.list(p, row+1, s, s.Main("machine").Rows, "Machine", []listing{
		{"Equipment allocation", "equipment_allocation", "", ""}, {"Machine hours required [h/yr]", "machine_hours_required", sheet.WholeFormat, ""},
		{"Capacity utilisation [%]", "capacity_utilisation", sheet.ShareFormat, ""},
		{"Product-specific machines", "product_specific_machines", sheet.WholeFormat, ""},
		{"Installed price", "installed_price", sheet.WholeFormat, ""},
		{"Product-specific investment", "product_specific_investment", sheet.WholeFormat, "product_specific_equipment_investment"},
		{"Floor space [m2]", "product_specific_floor_space", sheet.WholeFormat, "product_specific_floor_space"},
	})
}

func (b *writer) toolInvestment(p *sheet.Page, row int, s *live.Sheet) int {
	p.Set(row, 1, s.Plan.Scenario.Name+": tools", sheet.Look{Kind: "total"})
	var rows []int32
	for _, l := range s.Detail.Entries("operation") {
		if l.Must("tool_price") > 0 {
			rows = append(rows, l.Entity())
		}
	}
	return b.list(p, row+1, s, rows, "Operation", []listing{
		{"Price of a set", "tool_price", sheet.WholeFormat, ""}, {"Sets", "tool_sets", sheet.WholeFormat, ""},
		{"for capacity", "parallel_tool_sets", sheet.WholeFormat, ""}, {"for tool life", "sets_for_life", sheet.WholeFormat, ""},
		{"Cycles in the programme", "programme_cycles", sheet.WholeFormat, ""}, {"Tool life [cycles]", "tool_life", sheet.WholeFormat, ""},
		{"Refurbish- ments", "refurbishments", sheet.WholeFormat, ""}, {"Investment", "tool_investment", sheet.WholeFormat, "tooling_investment"},
	})
}

func (b *writer) list(p *sheet.Page, row int, s *live.Sheet, rows []int32, what string, columns []listing) int {
	head := []string{what, "Name"}
	for _, c := range columns {
		head = append(head, c.label)
	}
	p.Heading(row, 2, head...)
	for _, e := range rows {
		row++
		p.Set(row, 1, s.Plan.RowRecord(e).Key, sheet.Look{Kind: "label"})
		p.Set(row, 2, nameOf(s.Plan.RowRecord(e)), sheet.Look{Kind: "label"})
		for i, c := range columns {
			p.Link(row, 3+i, s.Ref(e, c.quantity), sheet.Look{Kind: "number", Format: c.format, Right: c.format == ""})
		}
	}
	row++
	p.Set(row, 1, "Total", sheet.Look{Kind: "total"})
	p.Set(row, 2, nil, sheet.Look{Kind: "total"})
	for i, c := range columns {
		if c.total == "" {
			p.Set(row, 3+i, nil, sheet.Look{Kind: "total"})
			continue
		}
		p.Link(row, 3+i, scenarioRef(s, c.total), sheet.Look{Kind: "total", Format: c.format})
	}
	return row + 1
}
