package costmodel

import (
	"fmt"
	"strings"

	"piececost/costmodel/plan"
	"piececost/costmodel/table"
)

// unreadCode is the code of the warning that nothing reads what a cell gives.
const unreadCode = "unread"

// usedCells collects over the scenarios which given cells something reads.
type usedCells struct {
	m       *Model
	read    map[*Record]map[int32]bool // by quantity
	counts  map[*Record]bool           // the row is part of a scenario
	variant map[*Record]*Variant       // its form or process in the first of them
	named   map[*Scope]map[int32]bool  // quantities that an equation of the library names
}

// Unread warns of what is given and read by nothing in any of the compiled scenarios, such as a length on a purchased part: each
// cell of a part, a link or a step; and once of the parts that no product reaches. Rows that count nowhere are not judged
// further.
func (m *Model) Unread(plans []*Plan) table.Diagnostics {
	if len(plans) == 0 || len(plans) < len(m.Scenarios) {
		return nil // what is wrong with the others comes first
	}
	u := usedCells{m: m, read: map[*Record]map[int32]bool{}, counts: map[*Record]bool{}, variant: map[*Record]*Variant{}, named: m.Schema.namedSomewhere()}
	for _, p := range plans {
		u.look(p)
	}
	var ds table.Diagnostics
	for _, scope := range []string{"part", "link", "joint", "operation"} {
		for _, r := range m.records[scope] {
			if u.counts[r] {
				u.row(r, &ds)
			}
		}
	}
	u.unreached(&ds)
	return ds
}

// look notes what the cells of a scenario read.
func (u *usedCells) look(p *Plan) {
	g := p.graph
	for e := range g.rows {
		r := &g.rows[e]
		u.counts[r.rec] = true
		if _, ok := u.variant[r.rec]; !ok {
			u.variant[r.rec] = r.variant
		}
	}
	note := func(c plan.Cell) {
		e, n := plan.Locate(g, c)
		rec := g.rows[e].rec
		if rec.field(n) == nil {
			return
		}
		if u.read[rec] == nil {
			u.read[rec] = map[int32]bool{}
		}
		u.read[rec][n] = true
	}
	seen := make([]bool, g.cells)
	for _, c := range p.plan.Order() {
		p.plan.Needs(c, func(n plan.Cell) {
			if !seen[n] {
				seen[n] = true
				note(n)
			}
		})
	}
	for rec, c := range g.st.scenario.changes { // a change takes the place of the cell: what reads it would read the cell
		for n := range c.fields {
			if u.read[rec] == nil {
				u.read[rec] = map[int32]bool{}
			}
			u.read[rec][n] = true
		}
	}
}

// row warns of the cells of a row that nothing reads. A result that no equation names is shown, so it is not unread.
func (u *usedCells) row(r *Record, ds *table.Diagnostics) {
	sc := u.m.Schema.byName[r.Scope]
	for i := range r.fields {
		f := &r.fields[i]
		if f.def.failed || u.read[r][f.quantity] || !u.named[sc][f.quantity] && !isInput(sc, u.variant[r], f.quantity) {
			continue
		}
		ds.Warn(unreadCode, f.value.Place, fmt.Sprintf("%s of %s is given, but nothing reads it", sc.Quantities[f.quantity].Label, u.who(r)),
			u.reason(sc, r, f))
	}
}

func isInput(sc *Scope, v *Variant, n int32) bool {
	d := sc.definition(v, n)
	return d == nil || d.Item.Input
}

// who names a row with its form or process.
func (u *usedCells) who(r *Record) string {
	switch v := u.variant[r]; {
	case v == nil:
		return r.Scope + " " + r.Key
	case r.Scope == "operation":
		return fmt.Sprintf("operation %s (%s)", r.Key, v.Template.Name)
	default:
		return fmt.Sprintf("%s %s (%s)", r.Scope, r.Key, v.Template.Name)
	}
}

// reason says why a cell is not read: another cell of the row takes the place of the equation that would, or it stands in
// the wrong place.
func (u *usedCells) reason(sc *Scope, r *Record, f *givenField) string {
	for i := range r.fields {
		other := &r.fields[i]
		d := sc.definition(u.variant[r], other.quantity)
		if d == nil || d.Equation == nil || other == f {
			continue
		}
		for _, ref := range d.Equation.Refs {
			if len(ref.Hops) == 0 && !ref.Fixed && !ref.Base && ref.Quantity == f.quantity {
				return fmt.Sprintf("%s is given too and takes its place; clear one of the two", sc.Quantities[other.quantity].Label)
			}
		}
	}
	return "clear the cell, or move it to where it belongs"
}

// unreached lists the parts that are in no product, once; those whose alternative no scenario lists are said elsewhere.
func (u *usedCells) unreached(ds *table.Diagnostics) {
	var rows []*Record
	for _, r := range u.m.records["part"] {
		if !u.counts[r] && u.m.countsSomewhere(r) {
			rows = append(rows, r)
		}
	}
	if len(rows) == 0 {
		return
	}
	var keys []string
	for _, r := range rows[:min(len(rows), mostKeys)] {
		keys = append(keys, r.Key)
	}
	what := fmt.Sprintf("part %s is in no scenario's product", keys[0])
	if len(rows) > 1 {
		what = fmt.Sprintf("%d parts are in no scenario's product: %s", len(rows), strings.Join(keys, ", "))
	}
	if more := len(rows) - len(keys); more > 0 {
		what += fmt.Sprintf(" and %d more", more)
	}
	ds.Warn(unreadCode, rows[0].Place, what, "join them in the sheet Bill of materials, unless they are kept for later")
}

// mostKeys bounds the keys that one finding lists.
const mostKeys = 10

// namedSomewhere finds the quantities of each scope that an equation of the library names.
func (s *Schema) namedSomewhere() map[*Scope]map[int32]bool {
	out := map[*Scope]map[int32]bool{}
	for _, sc := range s.Scopes {
		out[sc] = map[int32]bool{}
	}
	s.eachReference(func(*Scope, *Variant) bool { return true }, func(_ *Scope, _ int32, to *Scope, quantity int32) { out[to][quantity] = true })
	return out
}

// eachReference calls visit for every quantity that a definition of the library names: from is the scope and quantity that
// is defined. Only forms and processes that of lets through count, and what all rows of a scope share as the first of its variants.
func (s *Schema) eachReference(of func(*Scope, *Variant) bool, visit func(from *Scope, defined int32, to *Scope, quantity int32)) {
	for _, sc := range s.Scopes {
		for _, v := range sc.Variants {
			for defined, d := range v.Definitions {
				if !of(sc, v) {
					continue
				}
				for ; d != nil && d.Equation != nil; d = d.Otherwise {
					s.references(sc, d.Equation, func(to *Scope, quantity int32) { visit(sc, defined, to, quantity) })
				}
			}
		}
	}
}

// references calls visit for every quantity of a row that an equation names.
func (s *Schema) references(from *Scope, eq *plan.Equation, visit func(to *Scope, quantity int32)) {
	for _, ref := range eq.Refs {
		if !ref.Fixed && !ref.Base {
			visit(s.target(from, ref), ref.Quantity)
		}
	}
}

// target is the scope that a reference ends in.
func (s *Schema) target(from *Scope, ref plan.Ref) *Scope {
	if len(ref.Hops) == 0 {
		return from
	}
	return s.byName[Relations[ref.Hops[len(ref.Hops)-1]].To]
}
