package costmodel

import (
	"piececost/costmodel/plan"
)

// brings tells whether a row with these tags counts.
func brings(tags []int, in []bool) bool {
	for _, t := range tags {
		if in[t] {
			return true
		}
	}
	return len(tags) == 0
}

// mark fills the columns for a combination and tells whether it is valid. The rules are those by which a scenario is
// resolved, and two more: a step that stands in several alternatives is done in one of them, and each tag brings a row in.
func (g *union) mark(in []bool) bool {
	clear(g.there)
	for i := range g.groups {
		if t := &g.groups[i]; (t.parent == "" || g.active(t.parent, in) != nil) && t.doubled(in) {
			return false
		}
	}
	for _, p := range g.parts {
		p.met = false
	}
	clear(g.used)
	if !g.markKey(g.st.scenario.Product, in) {
		return false
	}
	for t, yes := range in {
		if yes && !g.used[t] {
			return false
		}
	}
	return true
}

// use notes the tags that brought a row in.
func (g *union) use(tags []int, in []bool) {
	for _, t := range tags {
		g.used[t] = g.used[t] || in[t]
	}
}

// active finds the row of a part's key that counts.
func (g *union) active(key string, in []bool) *unionPart {
	for _, p := range g.byKey[key] {
		if brings(p.tags, in) {
			return p
		}
	}
	return nil
}

func (g *union) markKey(key string, in []bool) bool {
	p := g.active(key, in)
	if p == nil {
		return false
	}
	if p.met {
		return true
	}
	p.met = true
	g.set(p.column)
	g.use(p.tags, in)
	if t := p.variant; t != nil && p.material == nil && !t.Template.NoMaterial {
		return false
	}
	steps := g.markSteps(p, in)
	if steps < 0 {
		return false
	}
	links := 0
	for _, l := range p.links {
		if !brings(l.tags, in) {
			continue
		}
		links++
		g.use(l.tags, in)
		child := g.active(l.child, in)
		if child == nil || !g.hasStep(p, l, in) || !g.markKey(l.child, in) {
			return false
		}
		for i, to := range l.to {
			if to.child == child.part {
				g.set(l.columns[i])
			}
		}
	}
	if p.variant == nil {
		return true
	}
	if p.variant.Template.NoRoute {
		return steps == 0 && links == 0
	}
	return steps > 0
}

// markSteps marks the steps that count, and the first and last of them, and returns their number; below 0 where none of
// several alternatives of a step counts.
func (g *union) markSteps(p *unionPart, in []bool) int {
	first, last, count := -1, -1, 0
	for i := range p.steps {
		if !brings(p.steps[i].tags, in) {
			if p.leftOut(i, in) {
				return -1
			}
			continue
		}
		if first < 0 {
			first = i
		}
		last = i
		count++
		g.set(p.steps[i].column)
		g.use(p.steps[i].tags, in)
	}
	if count > 0 {
		g.set(g.first[p.steps[first].entity])
		g.set(g.last[p.steps[last].entity])
	}
	return count
}

// leftOut tells whether a step stands in several alternatives of which none counts.
func (p *unionPart) leftOut(i int, in []bool) bool {
	several := false
	for k := range p.steps {
		if k == i || p.steps[k].number != p.steps[i].number {
			continue
		}
		several = true
		if brings(p.steps[k].tags, in) {
			return false
		}
	}
	return several
}

func (g *union) hasStep(p *unionPart, l *unionLink, in []bool) bool {
	for i := range p.steps {
		if l.numbered && p.steps[i].number == l.number && brings(p.steps[i].tags, in) {
			return true
		}
	}
	return false
}

func (g *union) set(column int32) {
	if column > 0 {
		g.there[column] = true
	}
}

// A tagGroup is rows of which no two may count together: those of one part's key, or of one step.
type tagGroup struct {
	rows   [][]int // tags of each row
	parent string  // of a step: the key of its part, without which two rows do no harm
	needed bool    // one of them must count in every combination
}

// count returns the number of rows that count.
func (t *tagGroup) count(in []bool) int {
	n := 0
	for _, tags := range t.rows {
		if brings(tags, in) {
			n++
		}
	}
	return n
}

// doubled tells whether two rows count, or none where one must.
func (t *tagGroup) doubled(in []bool) bool {
	n := t.count(in)
	return n > 1 || t.needed && n == 0
}

// groupTags finds the groups, of all rows of the sheets, and which are needed in every combination.
func (b *unionBuilder) groupTags() {
	always := map[string]bool{}
	b.need(b.st.scenario.Product, always)
	seen := map[string]bool{}
	for _, key := range b.model.keys("part") {
		if recs := b.model.byKey["part"][key]; len(recs) > 1 && !seen[key] {
			seen[key] = true
			b.group(recs, "", always[key])
		}
	}
	steps := map[string][]*Record{}
	var order []string
	for _, r := range b.model.records["operation"] {
		if _, ok := b.byKey[r.Text("part")]; !ok {
			continue
		}
		if len(steps[r.Key]) == 0 {
			order = append(order, r.Key)
		}
		steps[r.Key] = append(steps[r.Key], r)
	}
	for _, key := range order {
		if recs := steps[key]; len(recs) > 1 {
			b.group(recs, recs[0].Text("part"), always[recs[0].Text("part")])
		}
	}
}

func (b *unionBuilder) group(recs []*Record, parent string, needed bool) {
	t := tagGroup{parent: parent, needed: needed}
	for _, r := range recs {
		t.rows = append(t.rows, b.tagsOf(r))
	}
	b.groups = append(b.groups, t)
}

// need notes the keys that are there in every combination.
func (b *unionBuilder) need(key string, always map[string]bool) {
	if always[key] {
		return
	}
	always[key] = true
	for _, p := range b.byKey[key] {
		for _, l := range p.links {
			if len(l.tags) == 0 {
				b.need(l.child, always)
			}
		}
	}
}

// order lists the tags group by group, so that a group is settled as early as can be.
func (g *union) order(tags int) []int {
	seen := make([]bool, tags)
	var out []int
	add := func(t int) {
		if !seen[t] {
			seen[t] = true
			out = append(out, t)
		}
	}
	for _, group := range g.groups {
		for _, row := range group.rows {
			for _, t := range row {
				add(t)
			}
		}
	}
	for t := range tags {
		add(t)
	}
	return out
}

// possible tells whether the tags decided so far, order[:at+1], leave a valid combination possible.
func (g *union) possible(in []bool, order []int, at int) bool {
	decided := make([]bool, len(in))
	for _, t := range order[:at+1] {
		decided[t] = true
	}
	for i := range g.groups {
		t := &g.groups[i]
		counts, open := 0, 0
		for _, row := range t.rows {
			switch {
			case len(row) == 0 || anyOf(row, in, decided):
				counts++
			case !allOf(row, decided):
				open++
			}
		}
		sure := t.parent == "" || t.needed
		if sure && counts > 1 || t.needed && counts+open == 0 {
			return false
		}
	}
	return true
}

func anyOf(row []int, in, decided []bool) bool {
	for _, t := range row {
		if decided[t] && in[t] {
			return true
		}
	}
	return false
}

func allOf(row []int, decided []bool) bool {
	for _, t := range row {
		if !decided[t] {
			return false
		}
	}
	return true
}

var _ plan.Choosing = (*union)(nil)
