package plan_test

import (
	"fmt"
	"strings"

	"piececost/costmodel/plan"
)

// about lists cells and all they need, for a person who looks for the reason of a difference.
func (g *memGraph) about(cells ...plan.Cell) string {
	var b strings.Builder
	seen := map[plan.Cell]bool{}
	var show func(c plan.Cell)
	show = func(c plan.Cell) {
		if seen[c] {
			return
		}
		seen[c] = true
		e, q := plan.Locate(g, c)
		d := g.rows[e].defs[q]
		for at := &d.Definition; at != nil; at = at.Base {
			if at.Eq != nil {
				for _, ref := range at.Eq.Refs {
					g.eachCell(e, ref, show)
				}
			}
		}
		fmt.Fprintf(&b, "%s %s\n", g.labels([]plan.Cell{c}), d)
		for i, rel := range g.relations {
			if to, ok := g.rows[e].one[plan.Relation(i)]; ok {
				fmt.Fprintf(&b, "    .%s -> %s\n", rel.name, g.rows[to].name)
			}
			if to := g.rows[e].many[plan.Relation(i)]; len(to) > 0 {
				fmt.Fprintf(&b, "    .%s => %v\n", rel.name, to)
			}
		}
	}
	for _, c := range cells {
		show(c)
	}
	return b.String()
}

// eachCell visits the cells that a name means.
func (g *memGraph) eachCell(e plan.Entity, ref plan.Ref, visit func(plan.Cell)) {
	if ref.Fixed || ref.Base {
		return
	}
	for i, hop := range ref.Hops {
		if ref.Many && i == len(ref.Hops)-1 {
			for _, m := range g.Members(e, hop) {
				visit(g.FirstCell(m) + ref.Quantity)
			}
			return
		}
		if e = g.Follow(e, hop); e < 0 {
			return
		}
	}
	visit(g.FirstCell(e) + ref.Quantity)
}

// String writes a definition as parseGraph reads it.
func (d memDef) String() string {
	switch {
	case d.err != nil:
		return d.err.Error()
	case d.Kind == plan.Given:
		return fmt.Sprint(d.Value)
	case d.Kind == plan.Varies:
		return fmt.Sprint("varies ", d.Input)
	case d.Kind == plan.Scaled:
		return fmt.Sprint("scaled ", d.Input, " | ", memDef{Definition: *d.Base})
	case d.Kind == plan.Shifted:
		return fmt.Sprint("shifted ", d.Input, " | ", memDef{Definition: *d.Base})
	case d.Base != nil:
		return "= " + d.Eq.Expr.Text + " | " + memDef{Definition: *d.Base}.String()
	}
	return "= " + d.Eq.Expr.Text
}
