package results

import (
	"fmt"
	"strings"

	"piececost/costmodel"
	"piececost/scenarios/live"
	"piececost/scenarios/sheet"
)

// partPages writes a printed page for each made part of each scenario: mass, route, tools, cost by element and step.
func (b *writer) partPages() error {
	p, err := b.Page(PartSheet, "Part cost sheets")
	if err != nil {
		return err
	}
	row := 5
	first := true
	for _, s := range b.sheets {
		for _, l := range s.Detail.Entries("part") {
			if l.Must("has_route") == 0 {
				continue
			}
			if !first {
				p.Breaks = append(p.Breaks, row)
			}
			first = false
			row = b.partPage(p, row, s, l) + 1
		}
	}
	p.Widths[1], p.Widths[2] = 13, 34
	for c := 3; c <= 3+len(b.elements()); c++ {
		p.Widths[c] = 11.5
	}
	p.Landscape, p.Titles = true, 3
	return p.Flush()
}

func (b *writer) partPage(p *sheet.Page, row int, s *live.Sheet, l costmodel.Entry) int {
	r := l.Record()
	form := ""
	if t := l.Process(); t != nil {
		form = t.Name
	}
	p.Set(row, 1, fmt.Sprintf("%s  %s", r.Key, nameOf(r)), sheet.Look{Kind: "title"})
	p.Heights[row] = 22
	p.Set(row+1, 1, fmt.Sprintf("%s, %s of %s", s.Plan.Scenario.Name, form, s.Plan.Scenario.Product), sheet.Look{Kind: "faint"})
	row = b.partFacts(p, row+2, s, l)
	row = b.partRoute(p, row+1, s, l)
	return b.partCosts(p, row+1, s, l)
}

// fact is a labelled quantity of a part page.
type fact struct{ label, quantity, format string }

// partFacts writes mass, material and cost of a piece in three groups side by side.
func (b *writer) partFacts(p *sheet.Page, row int, s *live.Sheet, l costmodel.Entry) int {
	c := b.currency()
	e := l.Entity()
	groups := []struct {
		title        string
		label, value int // columns
		facts        []fact
	}{
		{"Quantity and mass", 1, 3, []fact{{"Demand [1/yr]", "demand", sheet.WholeFormat}, {"Input quantity [1/yr]", "input_quantity", sheet.WholeFormat},
			{"Gross mass [kg]", "gross_mass", sheet.MassFormat}, {"Blank mass [kg]", "blank_mass", sheet.MassFormat},
			{"Net mass of this level [kg]", "net_mass_of_this_level", sheet.MassFormat}, {"Net mass including components [kg]", "net_mass", sheet.MassFormat}}},
		{"Material", 5, 8, []fact{{"Gauge [mm]", "gauge", "0.00"}, {"Material utilisation", "material_utilisation", sheet.ShareFormat},
			{"Material per piece [" + c + "]", "material_per_piece", b.money()}, {"Scrap price [" + c + "/kg]", "scrap_price", sheet.MoneyFormat}}},
		{"Cost per good piece", 10, 13, []fact{{"This level [" + c + "]", "piece_cost_of_this_level", b.money()},
			{"Including components [" + c + "]", "piece_cost_including_components", b.money()}, {"Target [" + c + "]", "target_cost", b.money()},
			{"Above target [" + c + "]", "target_gap", b.money()}, {c + "/kg", "cost_per_kilogram", sheet.MoneyFormat}}},
	}
	p.Heights[row] = 30
	for _, g := range groups {
		for col := g.label; col <= g.value; col++ {
			p.Set(row, col, nil, sheet.Look{Kind: "heading"})
		}
		p.Set(row, g.label, g.title, sheet.Look{Kind: "heading"})
		for j, f := range g.facts {
			for col := g.label; col < g.value; col++ {
				p.Set(row+1+j, col, nil, sheet.Look{Kind: "label"})
			}
			p.Set(row+1+j, g.label, f.label, sheet.Look{Kind: "label"})
			p.Link(row+1+j, g.value, b.partRef(s, e, f.quantity), sheet.Look{Kind: "number", Format: f.format})
		}
	}
	p.Set(row+5, 5, "Grade", sheet.Look{Kind: "label"})
	if m := s.Plan.Follow(e, costmodel.RelationNumber("part", "material")); m >= 0 {
		p.Set(row+5, 6, s.Plan.RowRecord(m).Key+"  "+nameOf(s.Plan.RowRecord(m)), sheet.Look{Kind: "text"})
	}
	p.Set(row+6, 5, "Inputs", sheet.Look{Kind: "label"})
	p.Set(row+6, 6, provenanceOf(l.Record()), sheet.Look{Kind: "text"})
	return row + 7
}

// provenanceOf says where the inputs of a row come from.
func provenanceOf(r *costmodel.Record) string {
	var out []string
	for _, name := range []string{"source", "date", "owner", "confidence", "note"} {
		if text := r.Text(name); text != "" {
			out = append(out, name+" "+text)
		}
	}
	return strings.Join(out, ", ")
}

// partRef finds a quantity in the part's own block or in that of its form.
func (b *writer) partRef(s *live.Sheet, e int32, name string) live.Ref {
	if r := s.Ref(e, name); r.OK {
		return r
	}
	return s.VariantRef(e, name)
}

// partRoute writes the steps with times, machines and tools.
func (b *writer) partRoute(p *sheet.Page, row int, s *live.Sheet, l costmodel.Entry) int {
	p.Heading(row, 3, "Operation", "Name", "Process", "Machine", "Good quantity [1/yr]", "Reject rate", "Cycle time [s]", "Pieces per cycle",
		"Required hours [h/yr]",
		"Machines", "Crew", "Tool sets", "Tool price", "Tool life [cycles]", "  Source")
	for _, step := range stepsOf(s, l) {
		row++
		e := step.Entity()
		r := step.Record()
		p.Set(row, 1, r.Text("operation"), sheet.Look{Kind: "label"})
		p.Set(row, 2, nameOf(r), sheet.Look{Kind: "label"})
		if t := step.Process(); t != nil {
			p.Set(row, 3, t.Name, sheet.Look{Kind: "label"})
		}
		if machine, ok := step.Follow("machine"); ok {
			p.Set(row, 4, machine.Record().Key, sheet.Look{Kind: "label", Right: true})
		}
		for i, f := range []fact{{"", "good_quantity", sheet.WholeFormat}, {"", "reject_rate", "0.0%"}, {"", "cycle_time", "#,##0.00"},
			{"", "pieces_per_cycle", "0.##"}, {"", "required_hours", "#,##0.0"}, {"", "machines_charged", "0.000"}, {"", "crew", "0.##"},
			{"", "tool_sets", "0"}, {"", "tool_price", sheet.WholeFormat}, {"", "tool_life", sheet.WholeFormat}} {
			p.Link(row, 5+i, s.Ref(e, f.quantity), sheet.Look{Kind: "number", Format: f.format})
		}
		p.Set(row, 15, "  "+r.Text("source"), sheet.Look{Kind: "label"})
	}
	return row + 1
}

// partCosts writes the cost of a good piece of the part by step and element.
func (b *writer) partCosts(p *sheet.Page, row int, s *live.Sheet, l costmodel.Entry) int {
	head := []string{"Operation", fmt.Sprintf("%s per good piece of this part", b.currency())}
	for _, e := range b.elements() {
		head = append(head, e.Label)
	}
	p.Heading(row, 2, append(head, "Total")...)
	return b.costRows(p, row+1, s, stepsOf(s, l), "operation", s.Ref(l.Entity(), "good_quantity")) + 1
}

// stepsOf lists the steps of a part.
func stepsOf(s *live.Sheet, l costmodel.Entry) []costmodel.Entry {
	var out []costmodel.Entry
	for _, e := range s.Plan.Members(l.Entity(), costmodel.RelationNumber("part", "operations")) {
		out = append(out, s.Detail.Entry(e))
	}
	return out
}
