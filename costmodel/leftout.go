package costmodel

import (
	"fmt"
	"slices"
	"strings"

	"piececost/costmodel/table"
)

// alternatives are the rows of one step of a part, or of one link: no two of them may count together, or they join at
// different steps.
type alternatives struct {
	rows   []*Record
	counts bool // one of them does in the scenario
}

// leftOut warns of what the scenario lacks though it stands in several alternatives: its list of alternatives names none of
// them, so that a step is not on the route, or a child is not joined. Something that has a single alternative may be meant
// to be left out, and so may what no scenario has (unlistedTags says that), so nothing is said of these.
func (st *structure) leftOut() {
	st.leftOutSteps()
	st.leftOutLinks(st.leftOutOptions())
}

// leftOutOptions looks at links of a parent that join at one step under different tags, of which another scenario takes one
// instead of another. It returns the links of which it warned.
func (st *structure) leftOutOptions() map[*Record]bool {
	said := map[*Record]bool{}
	for _, o := range st.model.competing(st.scenario, true, nil) {
		p, w := st.byKey[o.Parent], o.ways(st.model.Scenarios)
		if p == nil || p.state != walked || w == nil {
			continue
		}
		for _, g := range w.leftOutBy(o.listed(st.scenario)) {
			var rows []*Record
			for _, x := range g.Options {
				for _, r := range x.Links {
					if !said[r] {
						rows, said[r] = append(rows, r), true
					}
				}
			}
			st.warnLeftOut(fmt.Sprintf("none of %s counts", g.Names()), "none of them is", rows)
		}
	}
	return said
}

func (st *structure) leftOutSteps() {
	type key struct {
		part   *part
		number float64
	}
	var order []key
	groups := map[key]*alternatives{}
	for _, r := range st.model.records["operation"] {
		p := st.byKey[r.Text("part")]
		n, ok := stepNumber(r.Text("operation"))
		if p == nil || p.state != walked || !ok || len(st.scenario.tagsOf(r)) == 0 {
			continue
		}
		k := key{p, n}
		if groups[k] == nil {
			groups[k] = &alternatives{}
			order = append(order, k)
		}
		groups[k].add(r, st.active(r))
	}
	for _, k := range order {
		for _, s := range k.part.steps {
			groups[k].counts = groups[k].counts || s.number == k.number
		}
		if g := groups[k]; st.silentlyOff(g) {
			st.warnLeftOut(leftOutOf("operation "+g.rows[0].Key, g.rows), "the operation is not", g.rows)
		}
	}
}

// leftOutLinks looks at the links of each pair of parent and child. A single link counts as several alternatives where its
// child stands in several and it bears their tags. Nothing is said of links of which it was said before.
func (st *structure) leftOutLinks(said map[*Record]bool) {
	var order []string
	groups := map[string]*alternatives{}
	for _, r := range st.model.records["link"] {
		if p := st.byKey[r.Text("parent")]; p == nil || p.state != walked {
			continue
		}
		if groups[r.Key] == nil {
			groups[r.Key] = &alternatives{}
			order = append(order, r.Key)
		}
		groups[r.Key].add(r, st.active(r))
	}
	for _, k := range order {
		g := groups[k]
		if child := st.alternativesOf(g); len(child) > 0 {
			g.rows = child
		}
		if st.silentlyOff(g) && !said[g.rows[0]] {
			l := st.model.byKey["link"][k][0]
			st.warnLeftOut(leftOutOf(fmt.Sprintf("child %s of %s", l.Text("child"), l.Text("parent")), g.rows), "the child is not", g.rows)
		}
	}
}

// alternativesOf lists the part rows of the child of a single link that is off, where the link only bears tags of theirs
// and none of them counts.
func (st *structure) alternativesOf(g *alternatives) []*Record {
	if g.counts || len(g.rows) != 1 {
		return nil
	}
	child := st.model.byKey["part"][g.rows[0].Text("child")]
	var tags []string
	for _, r := range child {
		if st.active(r) {
			return nil
		}
		tags = append(tags, lowered(st.scenario.tagsOf(r))...)
	}
	for _, t := range lowered(st.scenario.tagsOf(g.rows[0])) {
		if !slices.Contains(tags, t) {
			return nil
		}
	}
	return child
}

func (g *alternatives) add(r *Record, counts bool) {
	g.rows = append(g.rows, r)
	g.counts = g.counts || counts
}

// silentlyOff tells whether none of several alternatives counts here, while one does in another scenario.
func (st *structure) silentlyOff(g *alternatives) bool {
	if g.counts || len(g.rows) < 2 {
		return false
	}
	first, several, elsewhere := lowered(st.scenario.tagsOf(g.rows[0])), false, false
	for _, r := range g.rows {
		several = several || !slices.Equal(first, lowered(st.scenario.tagsOf(r)))
		elsewhere = elsewhere || st.model.countsSomewhere(r)
	}
	return several && elsewhere
}

func lowered(tags []string) []string {
	out := make([]string, len(tags))
	for i, t := range tags {
		out[i] = strings.ToLower(t)
	}
	return out
}

// mostRelated bounds the rows that a finding names beside its own cell.
const mostRelated = 4

func leftOutOf(what string, rows []*Record) string {
	return fmt.Sprintf("%s is left out: none of its %d alternatives counts", what, len(rows))
}

// warnLeftOut says it at the scenario's list of alternatives, where a word is missing.
func (st *structure) warnLeftOut(what, unless string, rows []*Record) {
	var tags []string
	d := table.Diagnostic{Code: "left out", Severity: table.Warning, Place: st.scenario.record.TextPlace("alternatives"), Scenario: st.scenario.Name}
	for _, r := range rows {
		for _, t := range st.scenario.tagsOf(r) {
			if !slices.ContainsFunc(tags, func(x string) bool { return strings.EqualFold(x, t) }) {
				tags = append(tags, t)
			}
		}
		if _, at := st.text(r, "alternative"); len(d.Related) < mostRelated {
			d.Related = append(d.Related, table.Related{Place: at, Note: "alternative at"})
		}
	}
	d.Summary = what
	d.Help = fmt.Sprintf("list %s, unless %s wanted", strings.Join(tags, " or "), unless)
	st.ds.Keep(d)
}
