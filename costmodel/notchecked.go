package costmodel

import (
	"fmt"
	"slices"
	"strings"

	"piececost/costmodel/plan"
	"piececost/costmodel/table"
)

// A NotChecked is a condition of the library that could not be looked at in some rows of a scenario, since an input that it
// needs is not given.
type NotChecked struct {
	check   *Check
	of      string   // the form or process, or the title of the scope
	missing []string // labels of what is not given, in the order met
	Rows    []*Record
}

// Says words it on one line: what was not looked at, and in how many rows.
func (n *NotChecked) Says() string {
	return fmt.Sprintf("%s: %q was not checked", n.of, n.check.Say)
}

// Why says what to give, and where.
func (n *NotChecked) Why() string {
	var keys []string
	for _, r := range n.Rows[:min(len(n.Rows), mostKeys)] {
		keys = append(keys, r.Key)
	}
	where := strings.Join(keys, ", ")
	if more := len(n.Rows) - len(keys); more > 0 {
		where += fmt.Sprintf(" and %d more", more)
	}
	return fmt.Sprintf("it needs %s for %s", joinWords(n.missing), where)
}

// joinWords writes "a", "a and b", "a, b and c".
func joinWords(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// NotChecked lists the conditions of the library that were not looked at in a scenario, in the order of its rows.
func (p *Plan) NotChecked() []*NotChecked {
	var out []*NotChecked
	by := map[string]*NotChecked{}
	g := p.graph
	for e := range g.rows {
		r := &g.rows[e]
		for _, n := range r.scope.checks {
			if r.scope.definition(r.variant, n) == nil || p.plan.Has(r.first+n) {
				continue
			}
			missing := g.missingFor(p.plan, r.first+n)
			if len(missing) == 0 {
				continue
			}
			key := fmt.Sprint(n, missing)
			if by[key] == nil {
				by[key] = &NotChecked{check: r.scope.Quantities[n].Check, of: checkOwner(r, n), missing: missing}
				out = append(out, by[key])
			}
			by[key].Rows = append(by[key].Rows, r.rec)
		}
	}
	return out
}

// checkOwner names what a check belongs to: the form or process of the row where it has one of its own, else the sheet.
func checkOwner(r *row, n int32) string {
	if r.variant != nil && r.variant.Definitions[n] != nil {
		return r.variant.Template.Name
	}
	return r.scope.Title
}

// missingFor names what a cell lacks, directly or through what it names: inputs that are not given, and rows that its names
// lead to and that are not there.
func (g *graph) missingFor(p *plan.Compiled, c plan.Cell) []string {
	var out []string
	add := func(name string) {
		if !contains(out, name) {
			out = append(out, name)
		}
	}
	from, _ := plan.Locate(g, c)
	seen := map[plan.Cell]bool{}
	var walk func(c plan.Cell)
	walk = func(c plan.Cell) {
		if seen[c] || p.Has(c) {
			return
		}
		seen[c] = true
		e, n := plan.Locate(g, c)
		def, err := g.Define(e, n)
		if err != nil {
			add(g.lacking(from, e, n))
			return
		}
		for at := &def; at != nil; at = at.Base {
			if at.Kind != plan.Computed {
				continue
			}
			for i, ref := range at.Eq.Refs {
				if to, ok := g.ends(e, ref); ok {
					for _, t := range to {
						walk(g.rows[t].first + ref.Quantity)
					}
				} else {
					add(lackedBy(at.Eq.Expr.Names[i].Path))
				}
			}
		}
	}
	walk(c)
	return out
}

// lacking is the label of a quantity, with whose it is where that is another row than the one that is checked.
func (g *graph) lacking(from, e plan.Entity, n int32) string {
	label := g.rows[e].scope.Quantities[n].Label
	if scope := g.rows[e].scope; scope != g.rows[from].scope {
		label += " of the " + scope.Name
	}
	return label
}

// ends lists the rows that a reference leads to; ok is false where it leads nowhere.
func (g *graph) ends(e plan.Entity, ref plan.Ref) (to []plan.Entity, ok bool) {
	if ref.Fixed || ref.Base {
		return nil, true
	}
	for i, hop := range ref.Hops {
		if ref.Many && i == len(ref.Hops)-1 {
			return g.Members(e, hop), true
		}
		if e = g.Follow(e, hop); e < 0 {
			return nil, false
		}
	}
	return []plan.Entity{e}, true
}

// NotCheckedNotes words the conditions that were not looked at in any of the scenarios, each once for all of them, at the
// first row concerned.
func NotCheckedNotes(plans []*Plan) table.Diagnostics {
	var all []*NotChecked
	by := map[string]*NotChecked{}
	for _, p := range plans {
		for _, n := range p.NotChecked() {
			key := n.Says() + joinWords(n.missing)
			if by[key] == nil {
				by[key] = &NotChecked{check: n.check, of: n.of, missing: n.missing}
				all = append(all, by[key])
			}
			by[key].join(n.Rows)
		}
	}
	var ds table.Diagnostics
	for _, n := range all {
		ds = append(ds, table.Diagnostic{Code: "not checked", Severity: table.Note, Place: n.Rows[0].Place, Summary: n.Says(), Help: n.Why()})
	}
	return ds
}

func (n *NotChecked) join(rows []*Record) {
	have := map[*Record]bool{}
	for _, r := range n.Rows {
		have[r] = true
	}
	for _, r := range rows {
		if !have[r] {
			n.Rows = append(n.Rows, r)
		}
	}
	slices.SortStableFunc(n.Rows, func(a, b *Record) int { return a.Row - b.Row })
}
