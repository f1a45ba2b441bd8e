package costmodel

import (
	"fmt"
	"sort"
	"strconv"
	"strings"

	"piececost/costmodel/table"
)

// A structure is what one scenario makes: the rows that count and how they hang together.
type structure struct {
	model    *Model
	scenario *Scenario
	ds       *table.Diagnostics

	parts  []*part // parents before children
	byKey  map[string]*part
	links  []*link
	steps  []*stepRow
	joints []*jointRow

	toolKinds []toolKind // of the operations whose tool price is built up

	machine  map[machineKey]int // index into machines
	machines []machineKey       // those in use first
	used     int                // number of machines in use
}

type machineKey struct{ machine, plant *Record }

type part struct {
	rec      *Record
	variant  *Variant
	material *Record
	steps    []*stepRow // in order
	children []*link
	uses     []*link
	state    uint8
	index    int
}

type link struct {
	rec           *Record
	parent, child *part
	step          *stepRow
	index         int
}

type stepRow struct {
	rec     *Record
	part    *part
	number  float64
	variant *Variant
	machine int
	plant   *Record
	index   int
	joints  []int // rows of the sheet Joints, by their place among all

	toolKind int // of structure.toolKinds, the first is 1; 0 for none
}

// resolve builds the structure of a scenario. Everything wrong goes into ds with the scenario's name.
func (m *Model) resolve(s *Scenario, ds *table.Diagnostics) *structure {
	st := &structure{model: m, scenario: s, ds: ds, byKey: map[string]*part{}, machine: map[machineKey]int{}}
	st.activeParts()
	st.activeSteps()
	st.activeLinks()
	root := st.byKey[s.Product]
	if root == nil {
		if len(m.byKey["part"][s.Product]) > 0 {
			st.add("scenario", s.record.TextPlace("product"), fmt.Sprintf("product %s does not count in this scenario", s.Product),
				"list its alternative in the row Alternatives")
		}
		return st
	}
	if root.variant != nil && root.variant.Template.noRoute {
		st.add("scenario", s.record.TextPlace("product"), fmt.Sprintf("product %s is a %s, so there is nothing to cost", s.Product,
			root.variant.Template.Name), "name a part or assembly that is made")
	}
	st.reach(root, nil)
	// depth first gives children first; what needs them comes before
	for i, j := 0, len(st.parts)-1; i < j; i, j = i+1, j-1 {
		st.parts[i], st.parts[j] = st.parts[j], st.parts[i]
	}
	st.used = len(st.machines)
	st.addUnused()
	st.number()
	st.leftOut()
	return st
}

// addUnused lists the other machines in the plants in use too: a result workbook lets a step be moved to them.
func (st *structure) addUnused() {
	plants := map[*Record]bool{}
	for _, k := range st.machines {
		plants[k.plant] = true
	}
	for _, p := range st.model.records["plant"] {
		if !plants[p] {
			continue
		}
		for _, m := range st.model.records["machine"] {
			if st.model.sizeOf(m) != nil {
				continue // a relation is no machine until an operation needs one
			}
			key := machineKey{m, p}
			if _, ok := st.machine[key]; !ok {
				st.machine[key] = len(st.machines)
				st.machines = append(st.machines, key)
			}
		}
	}
}

func (st *structure) add(code string, at table.Place, summary, help string, related ...table.Related) {
	*st.ds = append(*st.ds, table.Diagnostic{Code: code, Severity: table.Error, Summary: summary, Help: help, Place: at, Related: related,
		Scenario: st.scenario.Name})
}

// text reads a word column as the scenario has it, with its cell.
func (st *structure) text(r *Record, column string) (string, table.Place) {
	return st.scenario.text(r, column)
}

func (s *Scenario) text(r *Record, column string) (string, table.Place) {
	if c := s.changesOf(r); c != nil {
		if ch, ok := c.texts[column]; ok {
			return cellText(ch.value), ch.value.Place
		}
	}
	return r.Text(column), r.TextPlace(column)
}

func (st *structure) active(r *Record) bool { return st.scenario.counts(r) }

// counts tells whether a row counts: without a tag always, else where the scenario lists one of its tags.
func (s *Scenario) counts(r *Record) bool {
	tags := s.tagsOf(r)
	for _, t := range tags {
		if s.lists(t) {
			return true
		}
	}
	return len(tags) == 0
}

// tagsOf lists the tags of a row as the scenario has it.
func (s *Scenario) tagsOf(r *Record) []string {
	text, _ := s.text(r, "alternative")
	return splitList(text)
}

// lists tells whether a tag is among the scenario's alternatives.
func (s *Scenario) lists(tag string) bool {
	for _, a := range s.Alternatives {
		if strings.EqualFold(tag, a) {
			return true
		}
	}
	return false
}

func (st *structure) activeParts() {
	sc := st.model.Schema.byName["part"]
	for _, r := range st.model.records["part"] {
		if !st.active(r) {
			continue
		}
		if other := st.byKey[r.Key]; other != nil {
			if !st.model.unread["part"] {
				st.add("alternative", r.Place, fmt.Sprintf("part %s counts twice", r.Key),
					"give each of the two an Alternative and let the scenario list one", table.Related{Place: other.rec.Place, Note: "also at"})
			}
			continue
		}
		form, _ := st.text(r, "form")
		p := &part{rec: r, variant: sc.variant(form)}
		if material, at := st.text(r, "material"); material != "" {
			if recs := st.model.byKey["material"][material]; len(recs) > 0 {
				p.material = recs[0]
			}
		} else if p.variant != nil && !p.variant.Template.noMaterial {
			p.state = missingMaterial
			_ = at
		}
		st.byKey[r.Key] = p
	}
}

// The states of a part while the structure is walked.
const (
	fresh uint8 = iota
	missingMaterial
	walking
	walked
)

func (st *structure) activeSteps() {
	for _, r := range st.model.records["operation"] {
		p := st.byKey[r.Text("part")]
		if p == nil || !st.active(r) {
			continue
		}
		n, ok := stepNumber(r.Text("operation"))
		if !ok {
			continue
		}
		s := &stepRow{rec: r, part: p, number: n}
		for _, other := range p.steps {
			if other.number == n {
				if !st.model.unread["operation"] {
					st.add("alternative", r.Place, fmt.Sprintf("operation %s counts twice", r.Key),
						"give each of the two an Alternative and let the scenario list one", table.Related{Place: other.rec.Place, Note: "also at"})
				}
			}
		}
		p.steps = append(p.steps, s)
	}
	for _, p := range st.byKey {
		sort.SliceStable(p.steps, func(i, j int) bool { return p.steps[i].number < p.steps[j].number })
	}
}

func stepNumber(text string) (float64, bool) {
	n, err := strconv.ParseFloat(text, 64)
	return n, err == nil && n == n && n < 1e9 && n > -1e9
}

// activeLinks attaches links to parents. Whether a child is there and where it joins is checked when it is reached.
func (st *structure) activeLinks() {
	for _, r := range st.model.records["link"] {
		p := st.byKey[r.Text("parent")]
		if p == nil || !st.active(r) {
			continue
		}
		p.children = append(p.children, &link{rec: r, parent: p})
	}
}

// reach walks from a part to its children, reports cycles, and keeps what is met. path holds the links walked.
func (st *structure) reach(p *part, path []*link) {
	switch p.state {
	case walked:
		return
	case walking:
		st.bomCycle(p, path)
		return
	case missingMaterial:
		_, at := st.text(p.rec, "material")
		st.add("material", at, fmt.Sprintf("part %s has no material", p.rec.Key), fmt.Sprintf("write a key of the sheet Materials, or another Form than %s",
			p.variant.Template.Name))
	}
	p.state = walking
	st.checkMake(p)
	for _, s := range p.steps {
		st.place(s)
	}
	for _, l := range p.children {
		child := st.byKey[l.rec.Text("child")]
		if child == nil {
			if len(st.model.byKey["part"][l.rec.Text("child")]) > 0 {
				st.add("alternative", l.rec.TextPlace("child"), fmt.Sprintf("child %s does not count in this scenario, but its link does",
					l.rec.Text("child")), "give the link the same Alternative as the part")
			}
			continue
		}
		l.child = child
		l.step = st.joiningStep(l)
		if l.step == nil {
			continue
		}
		child.uses = append(child.uses, l)
		st.reach(child, append(path, l))
	}
	p.state = walked
	st.parts = append(st.parts, p)
}

// checkMake reports a part that is bought and made, or neither.
func (st *structure) checkMake(p *part) {
	if p.variant == nil {
		return
	}
	t := p.variant.Template
	switch {
	case t.noRoute && len(p.steps) > 0:
		st.add("route", p.steps[0].rec.Place, fmt.Sprintf("%s is a %s, yet it has operations", p.rec.Key, t.Name), "delete its operations or change its Form")
	case t.noRoute && len(p.children) > 0:
		st.add("route", p.children[0].rec.Place, fmt.Sprintf("%s is a %s, yet it has children", p.rec.Key, t.Name),
			"delete the links below it or change its Form; else they are paid twice")
	case !t.noRoute && len(p.steps) == 0 && !st.model.unread["operation"]:
		st.add("route", p.rec.Place, fmt.Sprintf("part %s has no operations", p.rec.Key),
			"add its operations to the sheet Operations, or make its Form purchased part")
	}
}

func (st *structure) joiningStep(l *link) *stepRow {
	text, at := st.text(l.rec, "joined_at_operation")
	if len(l.parent.steps) == 0 {
		return nil // reported as a part without operations
	}
	var have []string
	for _, s := range l.parent.steps {
		have = append(have, s.rec.Text("operation"))
	}
	n, ok := stepNumber(text)
	for _, s := range l.parent.steps {
		if ok && s.number == n {
			return s
		}
	}
	steps := "its operations are " + strings.Join(have, ", ")
	if text == "" {
		st.add("operation", at, fmt.Sprintf("%s joins %s at no operation", l.rec.Text("child"), l.parent.rec.Key), "write the operation; "+steps)
	} else {
		st.add("operation", at, fmt.Sprintf("%s joined at operation %s, which %s does not have", l.rec.Text("child"), text, l.parent.rec.Key), steps)
	}
	return nil
}

func (st *structure) bomCycle(p *part, path []*link) {
	from := len(path) - 1
	for from > 0 && path[from].parent != p {
		from--
	}
	names := []string{p.rec.Key}
	var related []table.Related
	for _, l := range path[from:] {
		names = append(names, l.child.rec.Key)
		related = append(related, table.Related{Place: l.rec.Place, Note: l.rec.Key})
	}
	st.add("cycle", path[from].rec.Place, "the bill of materials runs in a circle: "+strings.Join(names, " - "), "delete one of the links", related...)
}

// number numbers parts, links and steps in their final order.
func (st *structure) number() {
	for i, p := range st.parts {
		p.index = i
		for _, s := range p.steps {
			s.index = len(st.steps)
			st.steps = append(st.steps, s)
		}
		for _, l := range p.children {
			if l.child != nil && l.step != nil {
				l.index = len(st.links)
				st.links = append(st.links, l)
			}
		}
	}
	st.placeJoints()
}
