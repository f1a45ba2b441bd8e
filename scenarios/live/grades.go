package live

import (
	"slices"
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/plan"
)

// A grade that is known by its designation brings values where cells are empty. They are found at the run: no formula follows the
// designation, so that a change of it asks for a run.

// gradeColumn adds the grades of the rows of Materials that have one.
func (s *Sheet) gradeColumn(b *Block) {
	known := func(e plan.Entity) bool { return s.Plan.RowVariant(e) != nil }
	if !slices.ContainsFunc(b.Rows, known) {
		return
	}
	c := wordColumn(b, "Grade", func(e plan.Entity) string {
		if v := s.Plan.RowVariant(e); v != nil {
			return v.Template.Name
		}
		return ""
	})
	c.Note = "whose values stand, slanted, where cells of Materials are empty; as at the run"
}

// fromGrade tells whether a quantity of a row has the value of its grade.
func (s *Sheet) fromGrade(e plan.Entity, n int32) bool {
	v := s.Plan.RowVariant(e)
	if v == nil || s.Plan.RowScope(e).Name != "material" {
		return false
	}
	o := s.Plan.Origin(e, n)
	return o.Kind == costmodel.FromEquation && o.Definition != nil && v.Definitions[n] == o.Definition
}

// mostSources is how many sources stand above a column.
const mostSources = 3

// ofGrades says above a column that has values of grades, and of the library none else, where they come from; false where it has none.
func (s *Sheet) ofGrades(b *Block, c *Column, n int32) bool {
	var list []string
	for _, e := range b.Rows {
		if s.Plan.Compiled(e, n) && s.fromGrade(e, n) {
			if text := s.Plan.Origin(e, n).Definition.Item.Source; !slices.Contains(list, text) {
				list = append(list, text)
			}
		}
	}
	if len(list) == 0 {
		return false
	}
	if len(list) > mostSources {
		list = append(list[:mostSources], "and others: piececost grades")
	}
	c.Source, c.Note = strings.Join(list, " | "), "of the grade where no cell gives it"
	return true
}
