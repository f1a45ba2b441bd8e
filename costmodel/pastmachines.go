package costmodel

import (
	"fmt"

	"piececost/costmodel/plan"
	"piececost/costmodel/table"
)

const pastMachines = "Past machines"

// A PastMachine is a row of the sheet Past machines: what a machine has cost, and its size.
type PastMachine struct {
	PastTool         // its name, price, date and place; Kind is the key of the row of Machines whose relation it tells of
	Size     float64 // in the unit in which the size is shown
	Count    float64 // how many were bought at the price
	Machine  *Record
}

// PastMachines lists the rows of the sheet Past machines that can be used; what is wrong with others is among the model's findings.
func (m *Model) PastMachines() []*PastMachine { return m.pastMachines }

// readPastMachines reads the sheet Past machines.
func (m *Model) readPastMachines() {
	t, l := m.Case.Table(pastMachines), table.LayoutOf(pastMachines)
	if t == nil || len(t.Rows) == 0 {
		return
	}
	sc := m.Schema.byName[machineScope]
	uses := m.columnUses(l, sc, t)
	if !m.requireColumns(l, t, uses) {
		return
	}
	for _, row := range t.Rows {
		if p := m.pastMachineRow(sc, t, row, uses); p != nil {
			m.pastMachines = append(m.pastMachines, p)
		}
	}
}

// pastMachineRow takes a row; nil where it is empty or something is wrong.
func (m *Model) pastMachineRow(sc *Scope, t *table.Table, row table.Row, uses []columnUse) *PastMachine {
	name, key := t.ValueAt(row, "past_machine"), t.ValueAt(row, "machine")
	fields, sound := m.pastFields(sc, row, uses)
	if len(fields) == 0 && sound && cellText(name) == "" && cellText(key) == "" {
		return nil
	}
	p := &PastMachine{PastTool: PastTool{Name: cellText(name), Date: cellText(t.ValueAt(row, "date")), Place: name.Place}, Count: 1}
	if p.Name == "" {
		p.Name = fmt.Sprintf("row %d", row.Number)
	}
	if p.Machine = m.relationMachine(key); p.Machine == nil || !sound {
		return nil
	}
	p.Kind = p.Machine.Key
	if v := t.ValueAt(row, "count"); v.Kind != table.Empty {
		if v.Kind != table.Number || v.Number < 1 || v.Number > 1e6 || v.Number != float64(int(v.Number)) {
			m.Diagnostics.Add("past machine", v.Place, fmt.Sprintf("Count of past machine %s is no whole number of 1 or more", p.Name),
				"write how many were bought at the price")
			return nil
		}
		p.Count = v.Number
	}
	rated := sc.MustQuantity(m.sizeOf(p.Machine).Template.size.rated)
	price, hasPrice := fields[sc.MustQuantity("price")]
	size, hasSize := fields[rated]
	switch q := sc.Quantities[rated]; {
	case !hasPrice || price <= 0:
		m.Diagnostics.Add("past machine", p.Place, fmt.Sprintf("past machine %s has no price above 0", p.Name), "fill its cell under Price, or clear the row")
	case !hasSize || size <= 0:
		m.Diagnostics.Add("past machine", p.Place, fmt.Sprintf("past machine %s has no %s above 0", p.Name, q.Label),
			fmt.Sprintf("give it in a column %s [%s], or clear the row", q.Label, m.ShownUnit(q.Unit)))
	default:
		p.Price, p.Size = price, q.Unit.Shown(size)
		return p
	}
	return nil
}

// pastFields are the numbers of a row by quantity, coherent; sound is false where something of them is wrong.
func (m *Model) pastFields(sc *Scope, row table.Row, uses []columnUse) (fields map[int32]float64, sound bool) {
	fields, sound = map[int32]float64{}, true
	for i, u := range uses {
		v := row.Cells[i]
		if u.quantity < 0 || v.Kind == table.Empty {
			continue
		}
		switch def := m.readField(sc, u.quantity, v, u.unit, nil); {
		case def.failed:
			sound = false
		case def.Kind != plan.Given:
			m.Diagnostics.Add("past machine", v.Place, fmt.Sprintf("%s of a past machine is an expression", sc.Quantities[u.quantity].Label), "write a number")
			sound = false
		default:
			fields[u.quantity] = def.Value
		}
	}
	return fields, sound
}

// OfMachineFits keeps the findings that stand in the way of a fit of machine prices: those of the sheets that it reads.
func OfMachineFits(ds table.Diagnostics) (out table.Diagnostics) {
	for _, d := range ds {
		if s := d.Place.Sheet; d.Severity == table.Error && (s == pastMachines || s == machineRelations || s == "Machines" || s == "Currencies") {
			out = append(out, d)
		}
	}
	return out
}
