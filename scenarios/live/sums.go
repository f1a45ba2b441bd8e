package live

import (
	"fmt"

	"piececost/costmodel"
	"piececost/costmodel/plan"
)

// sumColumns adds the running sums of a quantity by parent and by joining step that equations ask for. The formula is
// the same down the block: the sum above where the group goes on, plus the row's own.
func (s *Sheet) sumColumns(b *Block) {
	for _, by := range []string{"parent", "step"} {
		for _, n := range s.summed(by) {
			s.runningSum(b, by, n, b.byQuantity[n])
		}
	}
}

// summed lists the link quantities that some equation in use sums over a relation.
func (s *Sheet) summed(by string) []int32 {
	relationsOf := map[string][]string{"parent": {"part.children", "operation.joined"}, "step": {"operation.joining"}, "child": {"part.uses"}}[by]
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
					hop := costmodel.RelationInfo(ref.Hops[len(ref.Hops)-1])
					for _, r := range relationsOf {
						if hop.From+"."+hop.Name == r && !seen[ref.Quantity] && s.anyCompiled("link", ref.Quantity) {
							seen[ref.Quantity] = true
							out = append(out, ref.Quantity)
						}
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
		above := fmt.Sprintf("%s%d", costmodel.ColumnName(c.At), b.First+row-1)
		return Cell{Kind: Number, Num: sums[row], Formula: fmt.Sprintf("%s*N(%s)+%s", b.Address(same, row), above, b.Address(of, row))}
	}
	b.add(c)
	b.pulled[fmt.Sprintf(" sum %s %d", by, n)] = c
}

// useColumns fills the block in which demand runs down: the demanded quantity of each link, and its sum by child.
func (s *Sheet) useColumns(b *Block) {
	for _, n := range s.summed("child") {
		q := b.Scope.Quantities[n]
		c := s.newColumn(q, Link)
		c.fill = func(_ int, e plan.Entity) Cell {
			home := s.main["link"]
			return Cell{Kind: Number, Num: s.Detail.Of(e, n) / c.Factor, Formula: home.Address(home.byQuantity[n], home.rowOf[e])}
		}
		b.add(c)
		b.byQuantity[n] = c
		s.runningSum(b, "child", n, c)
	}
}

// linkSumText is the cell that holds the sum over a relation to links, or 0 where there are none.
func (s *Sheet) linkSumText(e plan.Entity, hop costmodel.Hop, ref *plan.Ref) string {
	members := s.Plan.Members(e, ref.Hops[len(ref.Hops)-1])
	if len(members) == 0 {
		return "0"
	}
	by := map[string]string{"children": "parent", "joined": "parent", "joining": "step", "uses": "child"}[hop.Name]
	b := s.main["link"]
	if by == "child" {
		b = s.uses
	}
	last := -1
	for _, m := range members {
		last = max(last, b.rowOf[m])
	}
	return b.Address(b.pulled[fmt.Sprintf(" sum %s %d", by, ref.Quantity)], last)
}

// sumText writes a sum over a relation to many rows.
func (s *Sheet) sumText(e plan.Entity, ref *plan.Ref, own func() string) string {
	hop := costmodel.RelationInfo(ref.Hops[len(ref.Hops)-1])
	if hop.To == "link" {
		return s.linkSumText(e, hop, ref)
	}
	b := s.main[hop.To]
	if b == nil || b.byQuantity[ref.Quantity] == nil {
		return "0"
	}
	column := b.Range(b.byQuantity[ref.Quantity])
	if hop.From+"."+hop.Name == "part.operations" {
		return s.stepsSum(e, ref, b)
	}
	switch hop.From + "." + hop.Name {
	case "scenario.operations", "scenario.parts", "scenario.machines":
		return "SUM(" + column + ")"
	case "machine.steps":
		return fmt.Sprintf("SUMIF(%s,%s,%s)", b.Range(b.pulled[machineRowCol]), own(), column)
	}
	rule := b.ColumnOf("charging_rule")
	return fmt.Sprintf(`SUMIFS(%s,%s,%s,%s,"pooled")`, column, b.Range(b.pulled[machineRowCol]), own(), b.Range(rule))
}

// stepsSum adds a quantity over the steps of a part, which stand next to each other. A search by the part's key would take
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
		panic("the steps of a part do not stand together")
	}
	c := b.byQuantity[ref.Quantity]
	return fmt.Sprintf("SUM(%s:%s)", b.Address(c, first), b.Address(c, last))
}
