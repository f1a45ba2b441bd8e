package costmodel

import (
	"strings"

	"piececost/costmodel/plan"
)

// union is the graph of a scenario with the rows of all alternatives: every row of a part's key is a part of its own with
// all steps and links of that key. What is there in some combinations only has a column.
type union struct {
	*graph
	columns  int     // input columns: the volume, then presences
	presence []int32 // by entity
	first    []int32 // by step: column of whether it is the first one of its part, or AlwaysThere
	last     []int32
	there    []bool // by column, of the combination that was marked last
	used     []bool // by tag: it brought a row in

	parts  []*unionPart
	byKey  map[string][]*unionPart
	groups []tagGroup
}

// unionPart is a part row with what may belong to it.
type unionPart struct {
	*part
	tags   []int // that bring it in; empty: always
	steps  []unionStep
	links  []*unionLink // by link row
	column int32
	met    bool
}

type unionStep struct {
	*stepRow
	tags   []int
	entity plan.Entity
	column int32
}

// unionLink is a row of the bill of materials below one part row.
type unionLink struct {
	rec      *Record
	tags     []int
	child    string
	number   float64 // of the joining step
	numbered bool
	to       []*link // by row of the child's key
	columns  []int32 // likewise
}

// newUnion collects everything that can be reached from the product. It is nil where there is no product.
func newUnion(m *Model, s *Scenario, tags map[string]int, ds *Diagnostics) *union {
	st := &structure{model: m, scenario: s, ds: ds, byKey: map[string]*part{}, machine: map[machineKey]int{}}
	g := &union{byKey: map[string][]*unionPart{}, columns: 1, graph: &graph{st: st}}
	if len(m.byKey["part"][s.Product]) == 0 {
		g.fault(s.Place, "the product %q is not in the sheet Parts", s.Product)
		return nil
	}
	b := unionBuilder{union: g, model: m, tags: tags, state: map[string]uint8{}}
	b.reach(s.Product)
	if ds.HasErrors() {
		return nil
	}
	// depth first gives children first
	for i := len(g.parts) - 1; i >= 0; i-- {
		st.parts = append(st.parts, g.parts[i].part)
	}
	st.byKey[s.Product] = g.byKey[s.Product][0].part
	st.byKey[s.Product].state = walked
	st.used = len(st.machines)
	st.number()
	g.graph = newGraph(m, st, nil)
	g.graph.columns = 1
	g.number()
	g.used = make([]bool, len(tags))
	b.groupTags()
	return g
}

// unionBuilder reads the rows.
type unionBuilder struct {
	*union
	model *Model
	tags  map[string]int
	state map[string]uint8
}

// tagsOf numbers the tags of a row.
func (b *unionBuilder) tagsOf(r *Record) []int {
	text, _ := b.st.text(r, "alternative")
	var out []int
	for _, t := range splitList(text) {
		if n := b.tags[strings.ToLower(t)]; n > 0 {
			out = append(out, n-1)
		}
	}
	return out
}

// reach makes the part rows of a key and what is below them.
func (b *unionBuilder) reach(key string) {
	switch b.state[key] {
	case walked:
		return
	case walking:
		b.fault(b.model.byKey["part"][key][0].Place, "with all alternatives together the bill of materials runs in a circle through %s", key)
		return
	}
	b.state[key] = walking
	var made []*unionPart
	for _, r := range b.model.byKey["part"][key] {
		made = append(made, b.makePart(r))
	}
	b.byKey[key] = made
	for _, r := range b.model.records["link"] {
		if r.Text("parent") == key {
			b.makeLinks(made, r)
		}
	}
	b.state[key] = walked
	b.parts = append(b.parts, made...)
}

func (b *unionBuilder) makePart(r *Record) *unionPart {
	form, _ := b.st.text(r, "form")
	p := &unionPart{part: &part{rec: r, variant: b.model.Schema.byName["part"].variant(form)}, tags: b.tagsOf(r)}
	if material, _ := b.st.text(r, "material"); material != "" {
		if recs := b.model.byKey["material"][material]; len(recs) > 0 {
			p.material = recs[0]
		}
	}
	for _, o := range b.model.records["operation"] {
		if n, ok := stepNumber(o.Text("step")); ok && o.Text("part") == r.Key {
			s := &stepRow{rec: o, part: p.part, number: n}
			b.st.place(s)
			p.part.steps = append(p.part.steps, s)
		}
	}
	sortedSteps(p.part.steps)
	for _, s := range p.part.steps {
		p.steps = append(p.steps, unionStep{stepRow: s, tags: b.tagsOf(s.rec)})
	}
	return p
}

// makeLinks puts a row of the bill below every row of its parent, to every row of its child.
func (b *unionBuilder) makeLinks(parents []*unionPart, r *Record) {
	child := r.Text("child")
	if len(b.model.byKey["part"][child]) == 0 {
		return // reported with the tables
	}
	b.reach(child)
	text, _ := b.st.text(r, "joins_at_step")
	number, ok := stepNumber(text)
	for _, p := range parents {
		l := &unionLink{rec: r, tags: b.tagsOf(r), child: child, number: number, numbered: ok}
		p.links = append(p.links, l)
		at := firstAt(p.part.steps, number)
		for _, c := range b.byKey[child] {
			to := &link{rec: r, parent: p.part, child: c.part, step: at}
			l.to = append(l.to, to)
			if at != nil && ok {
				p.part.children = append(p.part.children, to)
				c.part.uses = append(c.part.uses, to)
			}
		}
	}
}

func firstAt(steps []*stepRow, number float64) *stepRow {
	for _, s := range steps {
		if s.number == number {
			return s
		}
	}
	return nil
}

// number gives columns to what is there in some combinations only.
func (g *union) number() {
	g.presence = make([]int32, len(g.rows))
	for i := range g.presence {
		g.presence[i] = plan.AlwaysThere
	}
	g.first, g.last = append([]int32(nil), g.presence...), append([]int32(nil), g.presence...)
	w := places{g: g.graph}
	for _, p := range g.parts {
		p.column = g.newColumn(w.part(p.part))
		for i := range p.steps {
			s := &p.steps[i]
			s.entity = w.step(s.stepRow)
			s.column = g.newColumn(s.entity)
			g.first[s.entity], g.last[s.entity] = int32(g.columns), int32(g.columns+1)
			g.columns += 2
		}
		for _, l := range p.links {
			for _, to := range l.to {
				column := int32(0)
				if to.step != nil && l.numbered {
					column = g.newColumn(w.link(to))
				}
				l.columns = append(l.columns, column)
			}
		}
	}
	g.there = make([]bool, g.columns)
}

func (g *union) newColumn(e plan.Entity) int32 {
	g.presence[e] = int32(g.columns)
	g.columns++
	return g.presence[e]
}

// Presence implements plan.Choosing.
func (g *union) Presence(e plan.Entity) int32 { return g.presence[e] }

// Define implements plan.Graph: whether a step is the first or last one depends on the combination.
func (g *union) Define(e plan.Entity, quantity int32) (plan.Definition, error) {
	r := &g.rows[e]
	if q := r.scope.Quantities[quantity]; q.Structural && r.scope.Name == "operation" {
		column := g.first[e]
		if q.Name == "last_step" {
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
		ahead := o.number < s.number
		if flag == "last_step" {
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
	switch relations[r].from + "." + relations[r].name {
	case "scenario.product":
		var out []plan.Candidate
		for _, p := range g.byKey[g.st.scenario.Product] {
			out = append(out, plan.Candidate{Row: w.part(p.part), Column: p.column})
		}
		return out
	case "part.first":
		return g.stepsFrom(g.partAt(e), func(unionStep) bool { return true }, false)
	case "part.last":
		return g.stepsFrom(g.partAt(e), func(unionStep) bool { return true }, true)
	case "operation.next":
		s := g.st.steps[e-g.start["operation"]]
		return g.stepsFrom(g.unionOf(s.part), func(o unionStep) bool { return o.number > s.number }, false)
	case "link.step":
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
		if !wanted(s) {
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
	if relations[r].from != "operation" || relations[r].name != "joining" {
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
