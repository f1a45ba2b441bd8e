package costmodel

import (
	"fmt"
	"math"
	"sort"
	"strings"
	"sync"

	"piececost/costmodel/formula"
	"piececost/costmodel/plan"
)

// A Cause is a quantity of a row that jumps between two volumes and by that the piece cost: a whole count, or a condition
// that takes another branch. Before and After are in Unit.
type Cause struct {
	Row, Quantity string // "machine E12 in Van plant", "pool machines"
	Before, After float64
	Unit          string
	cell          plan.Cell
}

// String words the cause: "machine E12 in Van plant: pool machines 2 -> 3".
func (c Cause) String() string {
	unit := unitSuffix(c.Unit)
	if strings.TrimSpace(unit) == "1/yr" {
		unit = " per year"
	}
	return fmt.Sprintf("%s: %s %s -> %s%s", c.Row, c.Quantity, ShownNumber(c.Before), ShownNumber(c.After), unit)
}

// Causes finds what jumps in the piece cost of a scenario from one volume to another. It asks the plan's own equations,
// from the piece cost down: only what went into the result counts, so a tool that wears out is no cause where more sets
// are at work anyway. Neighbouring volumes give jumps alone; between distant ones a count may have jumped often.
func (p *Plan) Causes(before, after float64) []Cause {
	m := moves.Get().(*plan.Move)
	defer moves.Put(m)
	return p.tracer(m, before, after).causes()
}

// moves keeps what a move takes, which is a number for each quantity of each row, from one to the next.
var moves = sync.Pool{New: func() any { return &plan.Move{} }}

// tracer is at work only as long as nothing else takes the move.
func (p *Plan) tracer(m *plan.Move, before, after float64) *tracer {
	p.plan.Move(m, p.inputsAt(before), p.inputsAt(after))
	return &tracer{seen: map[plan.Cell]bool{}, noted: map[plan.Cell]bool{}, jumped: m.Jumped,
		before: &Detail{Plan: p, Volume: before, values: m.Before}, after: &Detail{Plan: p, Volume: after, values: m.After}}
}

// causes follows the piece cost down.
func (t *tracer) causes() []Cause {
	t.cell(1, t.after.Plan.graph.rows[1].scope.MustQuantity("piece_cost"))
	sort.Slice(t.out, func(i, j int) bool { return t.out[i].cell < t.out[j].cell })
	return t.out
}

// tracer follows what differs between two details.
type tracer struct {
	before, after *Detail
	seen, noted   map[plan.Cell]bool
	jumped        []bool // by cell: a jump went into it; the others are not looked at
	out           []Cause
}

// A use is an equation at work for a cell, with the values of its names at both volumes.
type use struct {
	entity        plan.Entity
	quantity      int32
	def           plan.Definition
	before, after []float64
	fractions     bool
}

func (t *tracer) cell(e plan.Entity, n int32) {
	c := t.after.Plan.graph.rows[e].first + n
	if t.seen[c] || !t.jumped[c] || t.before.Of(e, n) == t.after.Of(e, n) {
		return
	}
	t.seen[c] = true
	if def, err := t.after.Plan.plan.Graph().Define(e, n); err == nil && def.Kind == plan.Computed {
		u := t.use(e, n, def, def.Fractions)
		t.walk(&u, def.Eq.Expr.Root)
	}
}

func (t *tracer) use(e plan.Entity, n int32, def plan.Definition, fractions bool) use {
	names := len(def.Eq.Refs)
	u := use{entity: e, quantity: n, def: def, fractions: fractions, before: make([]float64, 0, names), after: make([]float64, 0, names)}
	for i := range def.Eq.Refs {
		ref := &def.Eq.Refs[i]
		if ref.Base {
			b, a := def.Base.Value, def.Base.Value
			if def.Base.Kind == plan.Computed {
				base := t.use(e, n, *def.Base, fractions)
				b, a = t.values(&base, def.Base.Eq.Expr.Root)
			}
			u.before, u.after = append(u.before, b), append(u.after, a)
			continue
		}
		b, _ := (&explainer{d: t.before}).value(e, ref)
		a, _ := (&explainer{d: t.after}).value(e, ref)
		u.before, u.after = append(u.before, b), append(u.after, a)
	}
	return u
}

// values evaluates a part of an equation at both volumes.
func (t *tracer) values(u *use, n *formula.Node) (before, after float64) {
	curve := t.after.Plan.graph.Curve
	return formula.Eval(n, u.before, curve), formula.Eval(n, u.after, curve)
}

// walk goes down an equation along what differs and went into the result.
func (t *tracer) walk(u *use, n *formula.Node) {
	before, after := t.values(u, n)
	if before == after || math.IsNaN(before) && math.IsNaN(after) {
		return
	}
	switch {
	case n.Kind == formula.Name || n.Kind == formula.Sum:
		t.name(u, &u.def.Eq.Refs[n.Ref])
		return
	case n.Kind == formula.Cond:
		t.condition(u, n)
		return
	case n.Kind == formula.Binary && n.Op.Compares():
		t.note(u, before, after)
	case n.Kind == formula.Call && n.Fn.Table && t.after.Plan.graph.Curve(n.Name).Steps:
		t.note(u, before, after)
	case n.Kind == formula.Call && n.Fn.Name == "ceil" && u.fractions:
	case n.Kind == formula.Call && (n.Fn.Name == "ceil" || n.Fn.Name == "floor" || n.Fn.Name == "round"):
		t.note(u, before, after)
	case n.Kind == formula.Call && (n.Fn.Name == "min" || n.Fn.Name == "max"):
		for _, a := range n.Args {
			if b, c := t.values(u, a); b == before || c == after {
				t.walk(u, a)
			}
		}
		return
	}
	for _, a := range n.Args {
		t.walk(u, a)
	}
}

func (t *tracer) name(u *use, ref *plan.Ref) {
	if ref.Base {
		if u.def.Base.Kind == plan.Computed {
			base := t.use(u.entity, u.quantity, *u.def.Base, u.fractions)
			t.walk(&base, u.def.Base.Eq.Expr.Root)
		}
		return
	}
	targets, _ := (&explainer{d: t.after}).targets(u.entity, ref)
	for _, e := range targets {
		if t.after.Plan.Compiled(e, ref.Quantity) {
			t.cell(e, ref.Quantity)
		}
	}
}

func (t *tracer) condition(u *use, n *formula.Node) {
	before, after := t.values(u, n.Args[0])
	branch := map[bool]*formula.Node{true: n.Args[1], false: n.Args[2]}
	if (before != 0) != (after != 0) {
		b, a := t.values(u, n)
		t.note(u, b, a)
		t.walk(u, n.Args[0])
		t.walk(u, branch[before != 0])
	}
	t.walk(u, branch[after != 0])
}

// note notes a cell as a cause, once: with its own values, or where it is not whole but counts something within, with the
// counts.
func (t *tracer) note(u *use, before, after float64) {
	r := &t.after.Plan.graph.rows[u.entity]
	c := r.first + u.quantity
	if t.noted[c] {
		return
	}
	t.noted[c] = true
	q := r.scope.Quantities[u.quantity]
	out := Cause{Row: t.after.Plan.RowLabel(u.entity), Quantity: strings.ToLower(q.Label[:1]) + q.Label[1:], cell: c}
	b, a := t.before.Of(u.entity, u.quantity), t.after.Of(u.entity, u.quantity)
	if whole(before) && whole(after) && !(whole(b) && whole(a)) {
		out.Quantity, out.Before, out.After = "a count in "+out.Quantity, before, after
	} else {
		out.Before, out.After, out.Unit = q.Unit.Shown(b), q.Unit.Shown(a), t.after.Plan.Model.ShownUnit(q.Unit)
	}
	t.out = append(t.out, out)
}

func whole(v float64) bool { return v == math.Trunc(v) }
