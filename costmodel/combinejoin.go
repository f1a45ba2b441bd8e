package costmodel

import (
	"fmt"
	"slices"
	"strings"

	"piececost/costmodel/table"
)

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
func (m *Model) HasAlternatives(s *Scenario) bool { return len(m.tagsBelow(s)) > 0 }

// unplaced finds tagged links that join at no step of their parent, so that no combination has them; one that a scenario
// counts is an error of that.
func (g *union) unplaced() []LeftOut {
	var out []LeftOut
	seen := map[string]bool{}
	for _, p := range g.parts {
		if seen[p.rec.Key] {
			continue // the rows of a key have the same steps and links
		}
		seen[p.rec.Key] = true
		for _, l := range p.links {
			joins := slices.ContainsFunc(p.steps, func(s unionStep) bool { return l.numbered && s.number == l.number })
			if joins || l.broken || len(l.tags) == 0 || len(p.steps) == 0 {
				continue
			}
			_, at := g.st.text(l.rec, "joined_at_operation")
			out = append(out, LeftOut{l.rec, "link " + l.rec.Key, g.st.scenario.tagsOf(l.rec),
				table.Diagnostic{Code: "operation", Severity: table.Warning, Place: at, Scenario: g.st.scenario.Name,
					Summary: fmt.Sprintf("%s joins at no operation that %s has", l.child, p.rec.Key),
					Help:    "write one of its operations; until then no combination has the link"}})
		}
	}
	return out
}
