package costmodel

// A tagGroup is rows of which no two may count together: those of one part's key, of one step, or links that compete.
type tagGroup struct {
	rows   [][]int // tags of each row
	parent string  // of a step or link: the key of its part, without which two rows do no harm
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
	always := b.always
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
		if tags := b.tagsOf(r); len(tags) > 0 || len(b.st.scenario.tagsOf(r)) == 0 {
			t.rows = append(t.rows, tags)
		} // else its tags stand on no row below the product, so that it never counts
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
	for _, list := range [][]tagGroup{g.groups, g.choice} {
		for _, group := range list {
			for _, row := range group.rows {
				for _, t := range row {
					add(t)
				}
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
		if g.groups[i].hopeless(in, decided) {
			return false
		}
	}
	for i := range g.choice {
		if g.choice[i].hopeless(in, decided) {
			return false
		}
	}
	return true
}

// hopeless tells whether the tags decided so far doom every combination.
func (t *tagGroup) hopeless(in, decided []bool) bool {
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
	return sure && counts > 1 || t.needed && counts+open == 0
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
