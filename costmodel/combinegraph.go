package costmodel

import "piececost/costmodel/plan"

// Presence implements plan.Choosing.
func (g *union) Presence(e plan.Entity) int32 { return g.presence[e] }

// Define implements plan.Graph: whether a step is the first or last one depends on the combination.
func (g *union) Define(e plan.Entity, quantity int32) (plan.Definition, error) {
	r := &g.rows[e]
	if q := r.scope.Quantities[quantity]; q.Structural && r.scope.Name == "operation" {
		column := g.first[e]
		if q.Name == "last_operation" {
			column = g.last[e]
		}
		if fixed, v := g.settled(e, q.Name); fixed {
			return plan.Definition{Kind: plan.Given, Value: v}, nil
		}
		return plan.Definition{Kind: plan.Varies, Input: column}, nil
	}
	return g.graph.Define(e, quantity)
}

// settled tells whether a step is the first or last one of its part in every combination, or in none.
func (g *union) settled(e plan.Entity, flag string) (bool, float64) {
	s := g.st.steps[e-g.start["operation"]]
	p := g.unionOf(s.part)
	before, sure := false, false
	for i := range p.steps {
		o := &p.steps[i]
		if o.broken {
			continue
		}
		ahead := o.number < s.number
		if flag == "last_operation" {
			ahead = o.number > s.number
		}
		before = before || ahead
		sure = sure || ahead && len(o.tags) == 0
	}
	switch {
	case sure:
		return true, 0
	case !before:
		return true, 1
	}
	return false, 0
}

func (g *union) unionOf(p *part) *unionPart {
	for _, u := range g.byKey[p.rec.Key] {
		if u.part == p {
			return u
		}
	}
	return nil
}

// Candidates implements plan.Choosing.
func (g *union) Candidates(e plan.Entity, r plan.Relation) []plan.Candidate {
	w := places{g: g.graph}
	switch Relations[r].From + "." + Relations[r].Name {
	case "scenario.product":
		var out []plan.Candidate
		for _, p := range g.byKey[g.st.scenario.Product] {
			if !p.broken {
				out = append(out, plan.Candidate{Row: w.part(p.part), Column: p.column})
			}
		}
		return out
	case "part.first":
		return g.stepsFrom(g.partAt(e), func(unionStep) bool { return true }, false)
	case "part.last":
		return g.stepsFrom(g.partAt(e), func(unionStep) bool { return true }, true)
	case "operation.next":
		s := g.st.steps[e-g.start["operation"]]
		return g.stepsFrom(g.unionOf(s.part), func(o unionStep) bool { return o.number > s.number }, false)
	case "operation.previous":
		s := g.st.steps[e-g.start["operation"]]
		return g.stepsFrom(g.unionOf(s.part), func(o unionStep) bool { return o.number < s.number }, true)
	case "link.operation":
		l := g.st.links[e-g.start["link"]]
		return g.stepsFrom(g.unionOf(l.parent), func(o unionStep) bool { return o.number == l.step.number }, false)
	case "part.first_child":
		var out []plan.Candidate
		for _, l := range g.partAt(e).links {
			for i, to := range l.to {
				if to.step != nil && l.numbered {
					out = append(out, plan.Candidate{Row: w.part(to.child), Column: l.columns[i]})
				}
			}
		}
		return out
	}
	return nil
}

func (g *union) partAt(e plan.Entity) *unionPart { return g.unionOf(g.st.parts[e-g.start["part"]]) }

// stepsFrom lists steps of a part as candidates, in the order of the route or backwards.
func (g *union) stepsFrom(p *unionPart, wanted func(unionStep) bool, backwards bool) []plan.Candidate {
	var out []plan.Candidate
	for i := range p.steps {
		s := p.steps[i]
		if backwards {
			s = p.steps[len(p.steps)-1-i]
		}
		if s.broken || !wanted(s) {
			continue
		}
		out = append(out, plan.Candidate{Row: s.entity, Column: s.column})
		if len(s.tags) == 0 { // there wherever its part is
			break
		}
	}
	return out
}

// Members implements plan.Graph: what joins at a step joins at each of its alternatives.
func (g *union) Members(e plan.Entity, r plan.Relation) []plan.Entity {
	if Relations[r].From != "operation" || Relations[r].Name != "joining" {
		return g.graph.Members(e, r)
	}
	s := g.st.steps[e-g.start["operation"]]
	var out []plan.Entity
	for _, l := range s.part.children {
		if l.step.number == s.number {
			out = append(out, places{g: g.graph}.link(l))
		}
	}
	return out
}

var _ plan.Choosing = (*union)(nil)
