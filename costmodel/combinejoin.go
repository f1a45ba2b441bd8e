package costmodel

import "strings"

// choose finds which links stand for one another, so that one of them is in every combination that has their parent.
func (b *unionBuilder) choose() {
	s := b.st.scenario
	for _, o := range b.model.joinOptions(s) {
		if len(b.byKey[o.Parent]) == 0 {
			continue
		}
		for _, part := range o.split(o.ways(b.model.Scenarios), o.listed(s)) {
			b.joins = append(b.joins, part)
			if part.One {
				b.oneOf(&part)
			}
		}
	}
	for i := range b.choice { // the list grows no more
		for _, p := range b.byKey[b.choice[i].parent] {
			p.choice = append(p.choice, &b.choice[i])
		}
	}
}

func (b *unionBuilder) oneOf(o *JoinOptions) {
	t := tagGroup{parent: o.Parent, needed: b.always[o.Parent]}
	for _, x := range o.Options {
		var row []int
		for _, tag := range x.Tags {
			if n := b.tags[strings.ToLower(tag)]; n > 0 {
				row = append(row, n-1)
			}
		}
		if len(row) > 0 {
			t.rows = append(t.rows, row)
		}
	}
	b.choice = append(b.choice, t)
}

// JoinOptions lists the links below the product that compete, and of which of them one is taken.
func (c *Combiner) JoinOptions() []JoinOptions { return c.union.joins }

// HasAlternatives tells whether a row that the scenario's product can have bears a tag, so that there is something to combine.
func (m *Model) HasAlternatives(s *Scenario) bool { return len(m.tagsBelow(s.Product)) > 0 }
