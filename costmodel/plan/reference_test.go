package plan_test

import (
	"math"
	"testing"

	"piececost/costmodel/formula"
	"piececost/costmodel/plan"
)

// A reference computes cells the slow and plain way: formula.Eval, name by name, cell by cell, one lane at a time. Beside
// each value it keeps how far another order of the same arithmetic may be from it (bound_test.go), so that a comparison or
// a ceil on the very edge is left out of the test and nothing else is.
type reference struct {
	t      testing.TB
	graph  *memGraph
	inputs []float64
	known  map[plan.Cell]number
}

// A number is a value with what is known of it.
type number struct {
	v      float64
	err    float64 // another order of the arithmetic stays within this
	most   float64 // the largest operand on the way
	doubt  bool    // a condition or a whole number on the way is too close to call
	broken bool    // somewhere, even in a branch not taken, stands a row that is not there or no finite number
}

func exactly(v float64) number { return after(number{v: v}) }

// absent is the value of a name whose relation leads nowhere.
func absent() number { return number{v: math.NaN(), broken: true} }

func newReference(t testing.TB, g *memGraph, inputs []float64) *reference {
	return &reference{t: t, graph: g, inputs: inputs, known: map[plan.Cell]number{}}
}

// cell computes a cell once.
func (r *reference) cell(c plan.Cell) number {
	if n, ok := r.known[c]; ok {
		return n
	}
	e, q := plan.Locate(r.graph, c)
	d, err := r.graph.Define(e, q)
	n := absent()
	if err == nil {
		n = after(r.definition(e, d))
	}
	r.known[c] = n
	return n
}

func (r *reference) definition(e plan.Entity, d plan.Definition) number {
	switch d.Kind {
	case plan.Given:
		return exactly(d.Value)
	case plan.Varies:
		return exactly(r.inputs[d.Input])
	case plan.Scaled:
		return times(r.definition(e, *d.Base), exactly(r.inputs[d.Input]))
	case plan.Shifted:
		return plus(r.definition(e, *d.Base), exactly(r.inputs[d.Input]), 1)
	}
	names := make([]number, len(d.Eq.Refs))
	values := make([]float64, len(d.Eq.Refs))
	for i, ref := range d.Eq.Refs {
		names[i] = r.name(e, d, ref)
		values[i] = names[i].v
	}
	n := bound(d.Eq.Expr.Root, names)
	plain := formula.Eval(d.Eq.Expr.Root, values, func(string) *formula.Curve { return press })
	if plain != n.v && plain == plain {
		r.t.Fatalf("%s: formula.Eval gives %v, the bounded reading %v", d.Eq.Expr.Text, plain, n.v)
	}
	return n
}

// name computes what a name of an equation means for a row.
func (r *reference) name(e plan.Entity, d plan.Definition, ref plan.Ref) number {
	switch {
	case ref.Fixed:
		return exactly(ref.Constant)
	case ref.Base:
		return r.definition(e, *d.Base)
	}
	for i, hop := range ref.Hops {
		if ref.Many && i == len(ref.Hops)-1 {
			return r.sum(e, hop, ref.Quantity)
		}
		if e = r.graph.Follow(e, hop); e < 0 {
			return absent()
		}
	}
	n := r.cell(r.graph.FirstCell(e) + ref.Quantity)
	if ref.Option > 0 {
		is := exactly(truth(n.v == float64(ref.Option-1)))
		is.broken = n.broken
		return is
	}
	return n
}

func (r *reference) sum(e plan.Entity, hop plan.Relation, quantity int32) number {
	total := exactly(0)
	for _, m := range r.graph.Members(e, hop) {
		total = plus(total, r.cell(r.graph.FirstCell(m)+quantity), 1)
	}
	return total
}

func truth(b bool) float64 {
	if b {
		return 1
	}
	return 0
}
