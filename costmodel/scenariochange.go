package costmodel

import (
	"fmt"

	"piececost/costmodel/formula"
	"piececost/costmodel/table"
)

// applyChange notes a change for the rows it aims at; the more specific wins, a tie is an error.
func (m *Model) applyChange(s *Scenario, t target, v table.Value) {
	sc := m.Schema.byName[t.layout.Scope]
	ch := change{value: v, unit: t.unit, rank: t.rank}
	if t.text == "" {
		base := formula.Type{Flag: sc.Quantities[t.quantity].Flag, Unit: t.unit}
		if ch.def = m.readField(sc, t.quantity, v, t.unit, &base); ch.def.failed {
			return
		}
		m.changed = append(m.changed, changedCell{scope: sc, record: t.records[0],
			field: givenField{quantity: m.ownQuantity(sc, t.records[0], t.quantity), value: v, unit: t.unit, def: ch.def}})
	} else if !m.textChangeOK(t, v) {
		return
	}
	for _, r := range t.records {
		c := s.changes[r]
		if c == nil {
			c = &changed{fields: map[int32]change{}, texts: map[string]change{}}
			s.changes[r] = c
		}
		old, exists := c.texts[t.text]
		quantity := m.ownQuantity(sc, r, t.quantity)
		if t.text == "" {
			old, exists = c.fields[quantity]
		}
		if exists && old.rank == ch.rank {
			m.Diagnostics.Add("selector", v.Place, fmt.Sprintf("two changes of %s are equally specific", r.Key),
				"delete one or name the row alone in one of them", table.Related{Place: old.value.Place, Note: "the other at"})
			continue
		}
		if exists && old.rank > ch.rank {
			continue
		}
		if t.text == "" {
			c.fields[quantity] = ch
		} else {
			c.texts[t.text] = ch
		}
	}
}
