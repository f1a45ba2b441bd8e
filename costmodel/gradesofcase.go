package costmodel

import (
	"fmt"
	"strings"

	"piececost/costmodel/formula"
	"piececost/costmodel/table"
)

const (
	gradeScope  = "material" // whose rows grades are
	gradeColumn = "grade"    // in which a designation stands where the key of the row is none
)

// A row of Materials has its grade's values for defaults, as a part has its form's: the grade is the variant of the row. The
// designation stands in the column Grade; where that is empty the key of the row may be one.

// withGradesOf is the library with the grades that a case names, so that no other takes room in its schema.
func (lib *Library) withGradesOf(c *table.Case) *Library {
	if len(lib.Grades) == 0 {
		return lib
	}
	named := map[*Grade]bool{}
	if t := c.Table("Materials"); t != nil {
		for _, row := range t.Rows {
			named[lib.Grade(t.TextAt(row, "material"))] = true
			named[lib.Grade(t.TextAt(row, gradeColumn))] = true
		}
	}
	if t := c.Table("Scenarios"); t != nil {
		for _, row := range t.Rows {
			if name, _, _ := table.SplitHeading(t.TextAt(row, "column")); name == gradeColumn {
				for _, v := range row.Cells {
					named[lib.Grade(cellText(v))] = true
				}
			}
		}
	}
	out := *lib
	out.named = nil
	for _, g := range lib.Grades {
		if named[g] {
			out.named = append(out.named, g)
		}
	}
	return &out
}

// gradeTemplates are the definitions of the grades that are named.
func (lib *Library) gradeTemplates() (out []*Template) {
	for _, g := range lib.named {
		out = append(out, g.Template)
	}
	return out
}

// gradeVariant is the variant of a row of Materials by what stands in its column Grade and by its key; nil where neither is known.
func (m *Model) gradeVariant(designation, key string) *Variant {
	if designation == "" {
		designation = key
	}
	g := m.library.Grade(designation)
	if g == nil {
		return nil
	}
	for _, v := range m.Schema.byName[gradeScope].Variants[1:] {
		if v.Template == g.Template {
			return v
		}
	}
	return nil
}

// checkGrades reports designations in the column Grade that are not known: as a warning where the row has its density, and so does not wait for the
// grade. A key is a name of the user's own and may be anything.
func (m *Model) checkGrades() {
	density, known := m.Schema.byName[gradeScope].index["density"]
	for _, r := range m.records[gradeScope] {
		switch d := m.gradeError(r.Text(gradeColumn)); {
		case d == nil:
		case known && r.field(density) != nil:
			m.Diagnostics.Warn(gradeColumn, r.TextPlace(gradeColumn), d.Summary+", so nothing comes from it", d.Help)
		default:
			m.Diagnostics.Add(gradeColumn, r.TextPlace(gradeColumn), d.Summary, d.Help)
		}
	}
}

func (m *Model) gradeError(text string) *table.Diagnostic {
	if text == "" || m.library.Grade(text) != nil {
		return nil
	}
	d := &table.Diagnostic{Summary: fmt.Sprintf("unknown grade %q", table.Shortened(text)),
		Help: "`piececost grades` lists those that are known; for another leave the cell empty and type its values"}
	if near := m.library.NearGrades(text); len(near) > 0 {
		d.Help = fmt.Sprintf("did you mean %s? For one that `piececost grades` does not list leave the cell empty and type its values",
			strings.Join(near, ", "))
	}
	return d
}

// nearestKey finds the nearest of designations as they are looked up, which may be short: two letters of DC4 are enough for DC04.
func nearestKey(key string, keys []string) string {
	return formula.Nearest(key, keys)
}

// broughtBy tells whether grades bring a quantity of a row of Materials that has no grade, so that a designation would do as well as a
// cell.
func (m *Model) broughtBy(r *row, quantity int32) bool {
	if r.scope.Name != gradeScope || r.variant != nil {
		return false
	}
	name := r.scope.Quantities[quantity].Name
	for _, g := range m.library.Grades {
		for i := range g.Items {
			if g.Items[i].Name == name {
				return true
			}
		}
	}
	return false
}

// GradeOf returns the grade whose values a row of the plan has where its cells are empty, or nil.
func (p *Plan) GradeOf(rec *Record) *Grade {
	text, _ := p.graph.st.text(rec, gradeColumn)
	if v := p.Model.gradeVariant(text, rec.Key); v != nil {
		for _, g := range p.Model.library.Grades {
			if g.Template == v.Template {
				return g
			}
		}
	}
	return nil
}
