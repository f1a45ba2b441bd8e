package costmodel

import (
	"strings"

	"piececost/costmodel/plan"
	"piececost/costmodel/table"
)

// union is the graph of a scenario with the rows of all alternatives: every row of a part's key is a part of its own with
// all steps and links of that key. What is there in some combinations only has a column.
type union struct {
	*graph
	columns  int     // input columns: the volume, then presences
	presence []int32 // by entity
	first    []int32 // by step: column of whether it is the first one of its part, or AlwaysThere
	last     []int32
	broken   map[*Record]bool // rows with an error: no combination may have them, and nothing is computed of them
	there    []bool           // by column, of the combination that was marked last
	used     []bool           // by tag: it brought a row in
	barred   []bool           // by tag: it stands on a broken row that belongs nowhere

	parts  []*unionPart
	byKey  map[string][]*unionPart
	groups []tagGroup
	choice []tagGroup    // of each of them one row counts wherever its parent is
	joins  []JoinOptions // what was found of links that compete
}

// unionPart is a part row with what may belong to it.
type unionPart struct {
	*part
	tags   []int // that bring it in; empty: always
	steps  []unionStep
	links  []*unionLink // by link row
	choice []*tagGroup  // one of each must count
	column int32
	met    bool
	broken bool
}

type unionStep struct {
	*stepRow
	tags   []int
	entity plan.Entity
	column int32
	broken bool
}

// unionLink is a row of the bill of materials below one part row.
type unionLink struct {
	rec      *Record
	tags     []int
	child    string
	number   float64 // of the joining step
	numbered bool
	broken   bool
	to       []*link // by row of the child's key
	columns  []int32 // likewise
}

// newUnion collects everything that can be reached from the product. It is nil where there is no product.
// Broken rows are known to it for the rules only.
func newUnion(m *Model, s *Scenario, tags map[string]int, broken map[*Record]bool, ds *table.Diagnostics) *union {
	st := &structure{model: m, scenario: s, ds: ds, byKey: map[string]*part{}, machine: map[machineKey]int{}}
	g := &union{byKey: map[string][]*unionPart{}, broken: broken, columns: 1, graph: &graph{st: st}}
	if len(m.byKey["part"][s.Product]) == 0 {
		g.fault(s.Place, "the product %q is not in the sheet Parts", s.Product)
		return nil
	}
	b := unionBuilder{union: g, model: m, tags: tags, state: map[string]uint8{}, always: map[string]bool{}}
	b.reach(s.Product)
	if ds.HasErrors() {
		return nil
	}
	// depth first gives children first
	for i := len(g.parts) - 1; i >= 0; i-- {
		if !g.parts[i].broken {
			st.parts = append(st.parts, g.parts[i].part)
		}
	}
	for _, p := range g.byKey[s.Product] {
		if st.byKey[s.Product] == nil && !p.broken {
			st.byKey[s.Product] = p.part
		}
	}
	if st.byKey[s.Product] == nil {
		g.fault(s.Place, "each row of the product %s has an error", s.Product)
		return nil
	}
	st.byKey[s.Product].state = walked
	st.used = len(st.machines)
	st.number()
	g.graph = newGraph(m, st, nil)
	g.graph.columns = 1
	g.number()
	g.used, g.barred = make([]bool, len(tags)), make([]bool, len(tags))
	b.groupTags()
	b.choose()
	b.bar()
	return g
}

// unionBuilder reads the rows.
type unionBuilder struct {
	*union
	model *Model
	tags  map[string]int
	state map[string]uint8
	// always holds the keys that are there in every combination.
	always map[string]bool
}

// tagsOf numbers the tags of a row.
func (b *unionBuilder) tagsOf(r *Record) []int {
	var out []int
	for _, t := range b.st.scenario.tagsOf(r) {
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
	p := &unionPart{part: &part{rec: r, variant: b.model.Schema.byName["part"].variant(form)}, tags: b.tagsOf(r), broken: b.broken[r]}
	if material, _ := b.st.text(r, "material"); material != "" {
		if recs := b.model.byKey["material"][material]; len(recs) > 0 {
			p.material = recs[0]
		}
	}
	for _, o := range b.model.records["operation"] {
		if n, ok := stepNumber(o.Text("operation")); ok && o.Text("part") == r.Key {
			p.part.steps = append(p.part.steps, &stepRow{rec: o, part: p.part, number: n})
		}
	}
	sortedSteps(p.part.steps)
	var sound []*stepRow
	for _, s := range p.part.steps {
		u := unionStep{stepRow: s, tags: b.tagsOf(s.rec), broken: b.broken[s.rec] || p.broken}
		p.steps = append(p.steps, u)
		if !u.broken {
			b.st.place(s)
			sound = append(sound, s)
		}
	}
	p.part.steps = sound
	return p
}

// makeLinks puts a row of the bill below every row of its parent, to every row of its child.
func (b *unionBuilder) makeLinks(parents []*unionPart, r *Record) {
	child := r.Text("child")
	if len(b.model.byKey["part"][child]) == 0 && !b.broken[r] {
		return // reported with the tables
	}
	if len(b.model.byKey["part"][child]) > 0 {
		b.reach(child)
	}
	text, _ := b.st.text(r, "joined_at_operation")
	number, ok := stepNumber(text)
	for _, p := range parents {
		l := &unionLink{rec: r, tags: b.tagsOf(r), child: child, number: number, numbered: ok, broken: b.broken[r]}
		p.links = append(p.links, l)
		at := firstAt(p.part.steps, number)
		for _, c := range b.byKey[child] {
			if l.broken || p.broken || c.broken {
				continue
			}
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
		if p.broken {
			continue
		}
		p.column = g.newColumn(w.part(p.part))
		for i := range p.steps {
			s := &p.steps[i]
			if s.broken {
				continue
			}
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
