package live

import (
	"fmt"

	"piececost/costmodel"
	"piececost/costmodel/plan"
	"piececost/costmodel/table"
)

// A sumForm is the spreadsheet form of a sum over a relation to many rows.
type sumForm uint8

// The forms of sums.
const (
	wholeColumn sumForm = iota // all rows of the block
	ownSteps                   // the steps of a part, the joints of a step, or the lines of a quote, which stand together
	ofMachine                  // the steps whose machine is the row
	ofMaterial                 // the parts whose grade is the row
	ofPool                     // those of them that are pooled
	byParent                   // running sums over links that go on with the parent
	byStep                     // with the joining step
	byChild                    // with the child
)

// sumForms gives every relation to many rows its form.
var sumForms = map[string]sumForm{
	"scenario.operations": wholeColumn, "scenario.parts": wholeColumn, "scenario.machines": wholeColumn,
	"part.operations": ownSteps, "operation.joint_rows": ownSteps, "quote.lines": ownSteps, "machine.operations": ofMachine, "machine.pooled": ofPool,
	"material.parts": ofMaterial,
	"part.children":  byParent, "operation.joined": byParent, "operation.joining": byStep, "part.uses": byChild,
}

// linkGroups are the relations of a link by which running sums are grouped.
var linkGroups = map[sumForm]string{byParent: "parent", byStep: "operation", byChild: "child"}

// sumFormOf returns the form of a relation. A relation without one is a fault of the program: another's would give a sum over
// other rows.
func sumFormOf(hop costmodel.Hop) sumForm {
	f, ok := sumForms[hop.From+"."+hop.Name]
	if !ok {
		panic(fmt.Sprintf("a sum over %s of a %s has no spreadsheet form", hop.Name, hop.From))
	}
	return f
}

// sumColumns adds the running sums of a quantity by parent and by joining step that equations ask for. The formula is
// the same down the block: the sum above where the group goes on, plus the row's own.
func (s *Sheet) sumColumns(b *Block) {
	for _, form := range []sumForm{byParent, byStep} {
		for _, n := range s.summed(form) {
			s.runningSum(b, linkGroups[form], n, b.byQuantity[n])
		}
	}
}

// summed lists the link quantities that some equation in use sums in a form.
func (s *Sheet) summed(form sumForm) []int32 {
	var out []int32
	seen := map[int32]bool{}
	for _, sc := range s.Plan.Model.Schema.Scopes {
		for _, v := range sc.Variants {
			for n := range sc.Quantities {
				d := v.Definitions[int32(n)]
				if d == nil || d.Equation == nil {
					continue
				}
				for _, ref := range d.Equation.Refs {
					if !ref.Many || ref.Fixed {
						continue
					}
					hop := costmodel.Relations[ref.Hops[len(ref.Hops)-1]]
					if sumFormOf(hop) == form && !seen[ref.Quantity] && s.anyCompiled("link", ref.Quantity) {
						seen[ref.Quantity] = true
						out = append(out, ref.Quantity)
					}
				}
			}
		}
	}
	return out
}

func (s *Sheet) anyCompiled(scope string, n int32) bool {
	b := s.main[scope]
	if b == nil {
		return false
	}
	for _, e := range b.Rows {
		if s.Plan.Compiled(e, n) {
			return true
		}
	}
	return false
}

func (s *Sheet) groupOf(link plan.Entity, by string) plan.Entity {
	return s.Plan.Follow(link, costmodel.RelationNumber("link", by))
}

// runningSum adds a column "same group as above" once and the sum of a column beside it.
func (s *Sheet) runningSum(b *Block, by string, n int32, of *Column) {
	flagKey := " same " + by
	same := b.pulled[flagKey]
	if same == nil {
		same = b.add(&Column{Heading: "Same " + by + " as above", Unit: "1 yes, 0 no", Note: "follows from the structure", Kind: Key, Factor: 1, Whole: true})
		same.fill = func(row int, e plan.Entity) Cell {
			v := 0.0
			if row > 0 && s.groupOf(b.Rows[row-1], by) == s.groupOf(e, by) {
				v = 1
			}
			return Cell{Kind: Number, Num: v}
		}
		b.pulled[flagKey] = same
	}
	q := b.Scope.Quantities[n]
	c := s.newColumn(q, Quantity)
	c.Heading = q.Label + ", sum by " + by
	c.Words = "the sum above where the " + by + " goes on, plus the row's own"
	sums := make([]float64, len(b.Rows))
	for i, e := range b.Rows {
		if i > 0 && s.groupOf(b.Rows[i-1], by) == s.groupOf(e, by) {
			sums[i] = sums[i-1]
		}
		if s.Plan.Compiled(e, n) {
			sums[i] += s.Detail.Of(e, n) / c.Factor
		}
	}
	c.fill = func(row int, _ plan.Entity) Cell {
		above := fmt.Sprintf("%s%d", table.ColumnName(c.At), b.First+row-1)
		return Cell{Kind: Number, Num: sums[row], Formula: fmt.Sprintf("%s*N(%s)+%s", b.address(same, row), above, b.address(of, row))}
	}
	b.add(c)
	b.pulled[fmt.Sprintf(" sum %s %d", by, n)] = c
}

// useColumns fills the block in which demand runs down: the demanded quantity of each link, and its sum by child.
func (s *Sheet) useColumns(b *Block) {
	for _, n := range s.summed(byChild) {
		q := b.Scope.Quantities[n]
		c := s.newColumn(q, Link)
		c.fill = func(_ int, e plan.Entity) Cell {
			home := s.main["link"]
			return Cell{Kind: Number, Num: c.shown(s.Detail.Of(e, n)), Formula: home.address(home.byQuantity[n], home.rowOf[e])}
		}
		b.add(c)
		b.byQuantity[n] = c
		s.runningSum(b, linkGroups[byChild], n, c)
	}
}

// linkSumText is the cell that holds the sum over a relation to links, or 0 where there are none.
func (s *Sheet) linkSumText(e plan.Entity, form sumForm, ref *plan.Ref) string {
	members := s.Plan.Members(e, ref.Hops[len(ref.Hops)-1])
	if len(members) == 0 {
		return "0"
	}
	b := s.main["link"]
	if form == byChild {
		b = s.uses
	}
	last := -1
	for _, m := range members {
		last = max(last, b.rowOf[m])
	}
	return b.address(b.pulled[fmt.Sprintf(" sum %s %d", linkGroups[form], ref.Quantity)], last)
}

// sumText writes a sum over a relation to many rows.
func (s *Sheet) sumText(e plan.Entity, ref *plan.Ref, own func() string) string {
	hop := costmodel.Relations[ref.Hops[len(ref.Hops)-1]]
	form := sumFormOf(hop)
	if linkGroups[form] != "" {
		return s.linkSumText(e, form, ref)
	}
	b := s.main[hop.To]
	if b == nil || b.byQuantity[ref.Quantity] == nil {
		return "0" // there are no such rows, or the quantity is computed in none of them
	}
	column := b.Range(b.byQuantity[ref.Quantity])
	switch form {
	case wholeColumn:
		return "SUM(" + column + ")"
	case ownSteps:
		return s.stepsSum(e, ref, b)
	case ofMachine:
		return fmt.Sprintf("SUMIF(%s,%s,%s)", b.Range(b.pulled[machineRowCol]), own(), column)
	case ofMaterial:
		if b.pulled[materialRowCol] == nil {
			return "0"
		}
		return fmt.Sprintf("SUMIF(%s,%s,%s)", b.Range(b.pulled[materialRowCol]), own(), column)
	case ofPool:
		rule := b.columnOf("equipment_allocation")
		return fmt.Sprintf(`SUMIFS(%s,%s,%s,%s,"pooled")`, column, b.Range(b.pulled[machineRowCol]), own(), b.Range(rule))
	}
	panic(fmt.Sprintf("the form %d of sums is not written", form))
}

// stepsSum adds a quantity over the steps of a part, the joints of a step or the lines of a quote, which stand next to each other. A search by the
// part's key would take
// keys such as P* or 007 for conditions.
func (s *Sheet) stepsSum(e plan.Entity, ref *plan.Ref, b *Block) string {
	members := s.Plan.Members(e, ref.Hops[len(ref.Hops)-1])
	if len(members) == 0 {
		return "0"
	}
	first, last := b.rowOf[members[0]], b.rowOf[members[0]]
	for _, m := range members {
		first, last = min(first, b.rowOf[m]), max(last, b.rowOf[m])
	}
	if last-first+1 != len(members) {
		panic("the operations of a part, the joints of an operation or the lines of a quote do not stand together")
	}
	c := b.byQuantity[ref.Quantity]
	return fmt.Sprintf("SUM(%s:%s)", b.address(c, first), b.address(c, last))
}
