package costmodel

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
// resolved, and three more: a step that stands in several alternatives is done in one of them, of links that stand for one
// another one counts, and each tag brings a row in.
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
		if yes && (!g.used[t] || g.barred[t]) {
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
	if p == nil || p.broken {
		return false
	}
	if p.met {
		return true
	}
	p.met = true
	g.set(p.column)
	g.use(p.tags, in)
	if t := p.variant; t != nil && p.material == nil && !t.Template.noMaterial {
		return false
	}
	steps := g.markSteps(p, in)
	if steps < 0 {
		return false
	}
	for _, c := range p.choice {
		if c.count(in) != 1 {
			return false
		}
	}
	links := 0
	for _, l := range p.links {
		if !brings(l.tags, in) {
			continue
		}
		links++
		g.use(l.tags, in)
		child := g.active(l.child, in)
		if child == nil || l.broken || !g.hasStep(p, l, in) || !g.markKey(l.child, in) {
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
	if p.variant.Template.noRoute {
		return steps == 0 && links == 0
	}
	return steps > 0
}

// markSteps marks the steps that count, and the first and last of them, and returns their number; below 0 where none of
// several alternatives of a step counts, or one with an error.
func (g *union) markSteps(p *unionPart, in []bool) int {
	first, last, count := -1, -1, 0
	for i := range p.steps {
		if !brings(p.steps[i].tags, in) {
			if p.leftOut(i, in) {
				return -1
			}
			continue
		}
		if p.steps[i].broken {
			return -1
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
