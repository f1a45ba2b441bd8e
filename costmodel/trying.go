package costmodel

import (
	"fmt"
	"maps"
	"strings"

	"piececost/costmodel/plan"
	"piececost/costmodel/table"
)

// Trying is a scenario in which a part has another grade and gauge: a key of the sheet Materials, and metres. What operations or machines follow
// from them is found anew. The error says which of the two the part can't have.
func (m *Model) Trying(s *Scenario, part, material string, gauge float64) (*Scenario, error) {
	if len(m.byKey["material"][material]) == 0 {
		return nil, fmt.Errorf("grade %q is not in the sheet Materials", table.Shortened(material))
	}
	sc := m.Schema.byName["part"]
	n := sc.MustQuantity("gauge")
	out := *s
	out.changes = maps.Clone(s.changes)
	for _, r := range m.byKey["part"][part] {
		c := &changed{fields: map[int32]change{}, texts: map[string]change{}}
		if old := s.changes[r]; old != nil {
			c.fields, c.texts = maps.Clone(old.fields), maps.Clone(old.texts)
		}
		at := table.Value{Kind: table.Number, Number: sc.Quantities[n].Unit.Shown(gauge), Place: r.Place}
		c.fields[m.ownQuantity(sc, r, n)] = change{value: at, unit: sc.Quantities[n].Unit,
			def: fieldDefinition{Definition: plan.Definition{Kind: plan.Given, Value: gauge}}}
		c.texts["material"] = change{value: table.Value{Kind: table.Text, Text: material, Place: r.TextPlace("material")}}
		out.changes[r] = c
	}
	return &out, nil
}

// Failing lists what does not hold for a part and its operations: the words of checks, each once, in the order of the rows.
func (d *Detail) Failing(part string) (out []string) {
	g := d.Plan.graph
	for e := range g.rows {
		r := &g.rows[e]
		own := r.scope.Name == "part" && r.rec.Key == part || r.scope.Name == "operation" && r.rec.Text("part") == part
		if !own {
			continue
		}
		for _, n := range r.scope.checks {
			if c := r.first + n; r.scope.definition(r.variant, n) != nil && d.Plan.plan.Has(c) && d.values[c] == 0 {
				if say := r.scope.Quantities[n].Check.Say; !contains(out, say) {
					out = append(out, say)
				}
			}
		}
	}
	return out
}

// FormOf is the form of a grade in the words of the sheet Materials, for grades that a part of one form may be made of.
func (m *Model) FormOf(material string) string {
	for _, r := range m.byKey["material"][material] {
		return strings.ToLower(r.Text("form"))
	}
	return ""
}

// MaterialsOfForm lists the keys of grades of a form, in the order of their sheet.
func (m *Model) MaterialsOfForm(form string) (out []string) {
	for _, r := range m.records["material"] {
		if strings.ToLower(r.Text("form")) == form && !contains(out, r.Key) {
			out = append(out, r.Key)
		}
	}
	return out
}

// MaterialName is what a person calls a grade, its key where it has no name.
func (m *Model) MaterialName(key string) string {
	for _, r := range m.byKey["material"][key] {
		if name := strings.TrimSpace(r.Name()); name != "" {
			return name
		}
	}
	return key
}
