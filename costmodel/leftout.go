package costmodel

import (
	"fmt"
	"slices"
	"strings"
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
	st.leftOutLinks()
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
		n, ok := stepNumber(r.Text("step"))
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
			st.warnLeftOut("step "+g.rows[0].Key, "the step", g.rows)
		}
	}
}

// leftOutLinks looks at the links of each pair of parent and child. A single link counts as several alternatives where its
// child stands in several and it bears their tags.
func (st *structure) leftOutLinks() {
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
		if st.silentlyOff(g) {
			l := st.model.byKey["link"][k][0]
			st.warnLeftOut(fmt.Sprintf("child %s of %s", l.Text("child"), l.Text("parent")), "the child", g.rows)
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

// warnLeftOut says it at the scenario's list of alternatives, where a word is missing.
func (st *structure) warnLeftOut(what, short string, rows []*Record) {
	var tags []string
	d := Diagnostic{Code: "left out", Severity: Warning, Place: st.scenario.record.TextPlace("alternatives"), Scenario: st.scenario.Name}
	for _, r := range rows {
		for _, t := range st.scenario.tagsOf(r) {
			if !slices.ContainsFunc(tags, func(x string) bool { return strings.EqualFold(x, t) }) {
				tags = append(tags, t)
			}
		}
		if _, at := st.text(r, "alternative"); len(d.Related) < mostRelated {
			d.Related = append(d.Related, Related{at, "alternative at"})
		}
	}
	d.Summary = fmt.Sprintf("%s is left out: none of its %d alternatives counts", what, len(rows))
	d.Help = fmt.Sprintf("list %s, unless %s is not wanted", strings.Join(tags, " or "), short)
	if len(*st.ds) < mostKept {
		*st.ds = append(*st.ds, d)
	}
}
