package results

import (
	"fmt"

	"piececost/scenarios/sheet"
)

// machineSizes lists the machines that are as large as their operation needs, below a row, and returns the last. The numbers lead to the
// calculation.
func (b *writer) machineSizes(p *sheet.Page, row int) int {
	headed := false
	for _, s := range b.sheets {
		for _, m := range s.Detail.Sized() {
			if !headed {
				row += 2
				p.Heading(row, 2, "Machines of an operation's own size", "Scenario", "Wanted", "Size", "Price ["+b.currency()+"]")
				headed = true
			}
			row++
			_, unit, _ := m.Machine.In(m.Rated)
			text := fmt.Sprintf("%s: %s, sized by %s [%s]", m.Operation.Key, m.Machine.Record().Source().Key, m.Size, unit)
			p.Set(row, 1, text, sheet.Look{Kind: "label", Wrap: true})
			p.Grow(row, text, checkLetters)
			p.Set(row, 2, s.Plan.Scenario.Name, sheet.Look{Kind: "label"})
			e := m.Machine.Entity()
			p.Link(row, 3, s.Ref(e, m.Wanted), sheet.Look{Kind: "number", Format: "#,##0.0"})
			p.Link(row, 4, s.Ref(e, m.Rated), sheet.Look{Kind: "number", Format: "#,##0.0"})
			p.Link(row, 5, s.Ref(e, "price"), sheet.Look{Kind: "number", Format: sheet.WholeFormat})
		}
	}
	return row
}
