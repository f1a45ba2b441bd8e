package scenarios

import (
	"fmt"

	"piececost/costmodel"
	"piececost/scenarios/live"
)

// rates writes each machine's hour rate by element, and its load.
func (b *writer) rates() error {
	c := b.currency()
	p, err := b.page(ratesSheet, fmt.Sprintf("Machine-hour rates, %s a required hour", c))
	if err != nil {
		return err
	}
	row := 5
	columns := []struct{ label, quantity, format string }{
		{"Planned load [%]", "", shareFormat}, {"Equipment", "rate_equipment", moneyFormat}, {"Building", "rate_building", moneyFormat}, {"Maintenance", "rate_maintenance", moneyFormat},
		{"Energy", "rate_energy", moneyFormat}, {"Labour", "rate_labour", moneyFormat}, {"Overhead", "rate_overhead", moneyFormat}, {"Hour rate", "hour_rate", moneyFormat},
		{"Hours used [h/yr]", "hours_used", wholeFormat}, {"Load [%]", "load", shareFormat},
	}
	for i, s := range b.sheets {
		if i > 0 {
			p.breaks = append(p.breaks, row)
		}
		p.set(row, 1, s.Plan.Scenario.Name, look{kind: "total"})
		row++
		head := []string{"Machine", "Name", "Plant", "Charging rule"}
		for _, col := range columns {
			head = append(head, col.label)
		}
		p.heading(row, 4, head...)
		for _, e := range s.Main("machine").Rows {
			row++
			plant := s.Plan.Follow(e, costmodel.RelationNumber("machine", "plant"))
			p.set(row, 1, s.Plan.RowRecord(e).Key, look{kind: "label"})
			p.set(row, 2, nameOf(s.Plan.RowRecord(e)), look{kind: "label"})
			p.set(row, 3, s.Plan.RowRecord(plant).Key, look{kind: "label"})
			p.link(row, 4, s.Ref(e, "charging_rule"), look{kind: "label"})
			for i, col := range columns {
				at, quantity := e, col.quantity
				if quantity == "" {
					at, quantity = plant, "planned_load"
				}
				r := s.Ref(at, quantity)
				kind := "number"
				if col.quantity == "hour_rate" {
					kind = "total"
				}
				p.link(row, 5+i, r, look{kind: kind, format: col.format})
			}
		}
		row += 2
	}
	p.widths[1], p.widths[2], p.widths[3], p.widths[4] = 11, 36, 13, 12
	for i := range columns {
		p.widths[5+i] = 11.5
	}
	p.landscape, p.titles = true, 3
	return p.flush()
}

// investment writes the machines and tools that each scenario buys.
func (b *writer) investment() error {
	c := b.currency()
	p, err := b.page(investmentSheet, fmt.Sprintf("Investment: machines, tools, floor space, %s", c))
	if err != nil {
		return err
	}
	row := 5
	for i, s := range b.sheets {
		if i > 0 {
			p.breaks = append(p.breaks, row)
		}
		row = b.machineInvestment(p, row, s)
		row = b.toolInvestment(p, row+1, s) + 1
	}
	p.widths[1], p.widths[2] = 14, 36
	for c := 3; c <= 10; c++ {
		p.widths[c] = 13
	}
	p.landscape, p.titles = true, 3
	return p.flush()
}

// listing is a table of quantities of rows with a total where it makes sense.
type listing struct {
	label, quantity, format string
	total                   string // scenario quantity, or "" for none
}

func (b *writer) machineInvestment(p *page, row int, s *live.Sheet) int {
	p.set(row, 1, s.Plan.Scenario.Name+": machines bought for this product, shared ones by the hour", look{kind: "total"})
	return b.list(p, row+1, s, s.Main("machine").Rows, "Machine", []listing{
		{"Charging rule", "charging_rule", "", ""}, {"Hours used [h/yr]", "hours_used", wholeFormat, ""}, {"Load [%]", "load", shareFormat, ""}, {"Own machines", "own_machines", wholeFormat, ""},
		{"Installed price", "installed_price", wholeFormat, ""}, {"Own investment", "own_investment", wholeFormat, "own_equipment_investment"}, {"Hall area [m2]", "own_floor_area", wholeFormat, "own_floor_area"},
	})
}

func (b *writer) toolInvestment(p *page, row int, s *live.Sheet) int {
	p.set(row, 1, s.Plan.Scenario.Name+": tools", look{kind: "total"})
	var rows []int32
	for _, l := range s.Detail.Lines("operation") {
		if l.Must("tool_price") > 0 {
			rows = append(rows, l.Entity())
		}
	}
	return b.list(p, row+1, s, rows, "Step", []listing{
		{"Price of a set", "tool_price", wholeFormat, ""}, {"Sets", "tool_sets", wholeFormat, ""}, {"for capacity", "parallel_tool_sets", wholeFormat, ""}, {"for life", "sets_for_life", wholeFormat, ""},
		{"Cycles in the programme", "programme_cycles", wholeFormat, ""}, {"Life [cycles]", "tool_life", wholeFormat, ""}, {"Refurbish- ments", "refurbishments", wholeFormat, ""}, {"Investment", "tool_investment", wholeFormat, "tooling_investment"},
	})
}

func (b *writer) list(p *page, row int, s *live.Sheet, rows []int32, what string, columns []listing) int {
	head := []string{what, "Name"}
	for _, c := range columns {
		head = append(head, c.label)
	}
	p.heading(row, 2, head...)
	for _, e := range rows {
		row++
		p.set(row, 1, s.Plan.RowRecord(e).Key, look{kind: "label"})
		p.set(row, 2, nameOf(s.Plan.RowRecord(e)), look{kind: "label"})
		for i, c := range columns {
			p.link(row, 3+i, s.Ref(e, c.quantity), look{kind: "number", format: c.format, right: c.format == ""})
		}
	}
	row++
	p.set(row, 1, "Total", look{kind: "total"})
	p.set(row, 2, nil, look{kind: "total"})
	for i, c := range columns {
		if c.total == "" {
			p.set(row, 3+i, nil, look{kind: "total"})
			continue
		}
		p.link(row, 3+i, scenarioRef(s, c.total), look{kind: "total", format: c.format})
	}
	return row + 1
}
