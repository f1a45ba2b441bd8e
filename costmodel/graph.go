package costmodel

import (
	"piececost/costmodel/plan"
	"piececost/costmodel/table"
)

// graph is a scenario's rows as package plan sees them. Rows are numbered: case, scenario, plants, materials,
// machines, parts, links, operations.
type graph struct {
	model *Model
	st    *structure
	rows  []row
	one   [][]plan.Entity   // by relation, then by row within its scope's block
	many  [][][]plan.Entity // likewise
	start map[string]int32  // first row of a scope
	cells int32
	quiet bool // errors need no words

	impossible map[table.Place]bool // cells whose expression gives what can't be, reported
	fixed      map[plan.Cell]Fixed

	columns   int                   // input columns: the annual volume, then what is varied
	inputs    map[plan.Cell]moved   // the varied cells
	baseValue map[plan.Cell]float64 // what it would be
	before    *plan.Compiled        // of the varied cells as they stand, by volume
}

// row is an entity.
type row struct {
	scope   *Scope
	rec     *Record
	variant *Variant
	first   plan.Cell
	flags   []int32 // structural quantities that hold
	volume  bool    // its annual_volume is the input column
}

func newGraph(m *Model, st *structure, fix []Fixed) *graph {
	g := &graph{model: m, st: st, start: map[string]int32{}}
	g.addRow("case", m.caseRecord(), nil)
	g.addRow("scenario", st.scenario.record, nil)
	g.rows[1].volume = true
	plants, materials := st.plantsAndMaterials()
	for _, r := range plants {
		g.addRow("plant", r, nil)
	}
	for _, r := range materials {
		designation, _ := st.text(r, gradeColumn)
		g.addRow("material", r, m.gradeVariant(designation, r.Key))
	}
	for _, k := range st.machines {
		g.addRow(machineScope, k.machine, m.sizeOf(k.machine))
	}
	for _, p := range st.parts {
		g.addRow("part", p.rec, p.variant)
		g.flag("product", p.rec.Key == st.scenario.Product)
		g.flag("has_route", len(p.steps) > 0)
	}
	for _, l := range st.links {
		g.addRow("link", l.rec, nil)
	}
	for _, j := range st.joints {
		g.addRow("joint", j.rec, nil)
	}
	for _, k := range st.toolKinds {
		g.addRow(toolKindScope, k.rec, k.variant)
	}
	for _, s := range st.steps {
		g.addRow("operation", s.rec, s.variant)
		g.flag("first_operation", s == s.part.steps[0])
		g.flag("last_operation", s == s.part.steps[len(s.part.steps)-1])
	}
	g.fix(fix)
	g.relate(plants, materials)
	return g
}

func (m *Model) caseRecord() *Record {
	if recs := m.records["case"]; len(recs) > 0 {
		return recs[0]
	}
	return &Record{Scope: "case", Sheet: "Case", Place: table.Place{File: m.Case.File, Sheet: "Case"}}
}

// plantsAndMaterials lists the plants in use and all grades, in the order of their sheets.
func (st *structure) plantsAndMaterials() (plants, materials []*Record) {
	used := map[*Record]bool{}
	for _, k := range st.machines {
		used[k.plant] = true
	}
	for _, s := range st.steps {
		used[s.plant] = true // of one without a machine
	}
	for _, r := range st.model.records["plant"] {
		if used[r] || r.Key == st.scenario.plant {
			plants = append(plants, r)
		}
	}
	return plants, st.model.records["material"]
}

func (g *graph) addRow(scope string, rec *Record, v *Variant) {
	if _, ok := g.start[scope]; !ok {
		g.start[scope] = int32(len(g.rows))
	}
	sc := g.model.Schema.byName[scope]
	g.rows = append(g.rows, row{scope: sc, rec: rec, variant: v, first: g.cells})
	g.cells += int32(len(sc.Quantities))
}

func (g *graph) flag(name string, holds bool) {
	if holds {
		r := &g.rows[len(g.rows)-1]
		r.flags = append(r.flags, r.scope.MustQuantity(name))
	}
}

// places numbers the rows that relations lead to.
type places struct {
	g                 *graph
	plants, materials map[*Record]plan.Entity
	home              plan.Entity // the scenario's plant
}

func (w places) part(p *part) plan.Entity    { return w.g.start["part"] + int32(p.index) }
func (w places) step(s *stepRow) plan.Entity { return w.g.start["operation"] + int32(s.index) }
func (w places) link(l *link) plan.Entity    { return w.g.start["link"] + int32(l.index) }
func (w places) machine(i int) plan.Entity {
	if i < 0 {
		return -1
	}
	return w.g.start["machine"] + int32(i)
}

// relate fills the relations.
func (g *graph) relate(plants, materials []*Record) {
	g.one = make([][]plan.Entity, len(Relations))
	g.many = make([][][]plan.Entity, len(Relations))
	w := places{g: g, plants: map[*Record]plan.Entity{nil: -1}, materials: map[*Record]plan.Entity{nil: -1}, home: -1}
	for i, r := range plants {
		w.plants[r] = g.start["plant"] + int32(i)
		if r.Key == g.st.scenario.plant {
			w.home = w.plants[r]
		}
	}
	for i, r := range materials {
		w.materials[r] = g.start["material"] + int32(i)
	}
	g.relateScenario(w)
	g.relateMachines(w)
	g.relateMaterials(w, materials)
	for _, p := range g.st.parts {
		g.relatePart(w, p)
	}
	for _, l := range g.st.links {
		g.follow("link", "parent", w.part(l.parent))
		g.follow("link", "child", w.part(l.child))
		g.follow("link", "operation", w.step(l.step))
	}
	for _, j := range g.st.joints {
		g.follow("joint", "operation", w.step(j.step))
	}
	for _, s := range g.st.steps {
		g.relateStep(w, s)
	}
}

func (g *graph) relateScenario(w places) {
	g.follow("scenario", "plant", w.home)
	product := plan.Entity(-1)
	if p := g.st.byKey[g.st.scenario.Product]; p != nil && p.state == walked {
		product = w.part(p)
	}
	g.follow("scenario", "product", product)
	g.members("scenario", "parts", span(g.start["part"], len(g.st.parts)))
	g.members("scenario", "operations", span(g.start["operation"], len(g.st.steps)))
	g.members("scenario", "machines", span(g.start["machine"], g.st.used))
}

func (g *graph) relateMachines(w places) {
	steps := make([][]plan.Entity, len(g.st.machines))
	pooled := make([][]plan.Entity, len(g.st.machines))
	for _, s := range g.st.steps {
		if s.machine < 0 {
			continue
		}
		steps[s.machine] = append(steps[s.machine], w.step(s))
		if g.isPooled(w.step(s), w.machine(s.machine)) {
			pooled[s.machine] = append(pooled[s.machine], w.step(s))
		}
	}
	for i, k := range g.st.machines {
		g.follow("machine", "plant", w.plants[k.plant])
		g.members("machine", "operations", steps[i])
		g.members("machine", "pooled", pooled[i])
	}
}

func (g *graph) relateMaterials(w places, materials []*Record) {
	made := map[*Record][]plan.Entity{}
	for _, p := range g.st.parts {
		made[p.material] = append(made[p.material], w.part(p))
	}
	for _, r := range materials {
		g.members("material", "parts", made[r])
	}
}

func (g *graph) relatePart(w places, p *part) {
	g.follow("part", "plant", w.home)
	g.follow("part", "material", w.materials[p.material])
	first, last, child := plan.Entity(-1), plan.Entity(-1), plan.Entity(-1)
	var ops, children, uses []plan.Entity
	for i, s := range p.steps {
		if i == 0 {
			first = w.step(s)
		}
		last = w.step(s)
		ops = append(ops, last)
	}
	for _, l := range p.children {
		if l.child == nil || l.step == nil {
			continue
		}
		if child < 0 {
			child = w.part(l.child)
		}
		children = append(children, w.link(l))
	}
	for _, l := range p.uses {
		uses = append(uses, w.link(l))
	}
	g.follow("part", "first", first)
	g.follow("part", "last", last)
	g.follow("part", "first_child", child)
	g.members("part", "operations", ops)
	g.members("part", "children", children)
	g.members("part", "uses", uses)
}

func (g *graph) relateStep(w places, s *stepRow) {
	g.follow("operation", "part", w.part(s.part))
	g.follow("operation", "machine", w.machine(s.machine))
	g.follow("operation", "plant", w.plants[s.plant])
	g.follow("operation", "material", w.materials[s.part.material])
	kind := plan.Entity(-1)
	if s.toolKind > 0 {
		kind = g.start[toolKindScope] + int32(s.toolKind-1)
	}
	g.follow("operation", "tool_kind", kind)
	next := plan.Entity(-1)
	if s != s.part.steps[len(s.part.steps)-1] {
		next = w.step(s) + 1
	}
	g.follow("operation", "next", next)
	previous := plan.Entity(-1)
	if s != s.part.steps[0] {
		previous = w.step(s) - 1
	}
	g.follow("operation", "previous", previous)
	var joining, joined []plan.Entity
	for _, l := range s.part.children {
		if l.step == nil || l.child == nil {
			continue
		}
		if l.step == s {
			joining = append(joining, w.link(l))
		}
		if l.step.number <= s.number {
			joined = append(joined, w.link(l))
		}
	}
	first := plan.Entity(-1)
	var joints []plan.Entity
	for _, j := range s.joints {
		joints = append(joints, g.start["joint"]+int32(j))
	}
	if len(joints) > 0 {
		first = joints[0]
	}
	g.members("operation", "joint_rows", joints)
	g.follow("operation", "first_joint", first)
	g.members("operation", "joining", joining)
	g.members("operation", "joined", joined)
}

func span(from int32, n int) []plan.Entity {
	out := make([]plan.Entity, n)
	for i := range out {
		out[i] = from + int32(i)
	}
	return out
}

// follow and members append the target of the next row of a scope.
func (g *graph) follow(scope, name string, to plan.Entity) {
	r := relationNamed(scope, name)
	g.one[r] = append(g.one[r], to)
}

func (g *graph) members(scope, name string, to []plan.Entity) {
	r := relationNamed(scope, name)
	g.many[r] = append(g.many[r], to)
}
