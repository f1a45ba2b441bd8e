package plan

import (
	"math"

	"piececost/costmodel/formula"
	"piececost/costmodel/kernel"
)

// lower turns a node of an equation into a linear sum. It walks the branches that can be reached only: behind a condition that
// does not vary, the other branch is never looked at, so that it may name a row that is not there.
func (c *compiler) lower(n *formula.Node, at place) linear {
	switch n.Kind {
	case formula.Number:
		return constant(n.Value)
	case formula.Name, formula.Sum:
		return c.name(n, at)
	case formula.Negate:
		return c.regs.mul(c.lower(n.Args[0], at), constant(-1))
	case formula.Not:
		return c.regs.add(constant(1), c.lower(n.Args[0], at), -1)
	case formula.Convert:
		return c.convert(n, at)
	case formula.Cond:
		return c.conditional(n, at)
	case formula.Binary:
		return c.binary(n, at)
	}
	return c.call(n, at)
}

// convert makes a number in a unit coherent.
func (c *compiler) convert(n *formula.Node, at place) linear {
	number := c.lower(n.Args[0], at)
	if n.Unit.Zero != 0 {
		number = c.regs.add(number, constant(n.Unit.Zero), -1)
	}
	return c.regs.mul(number, constant(n.Value))
}

func (c *compiler) conditional(n *formula.Node, at place) linear {
	q := c.lower(n.Args[0], at)
	if q.isConst() {
		if q.Const != 0 {
			return c.lower(n.Args[1], at)
		}
		return c.lower(n.Args[2], at)
	}
	a, b := c.lower(n.Args[1], at), c.lower(n.Args[2], at)
	return c.regs.emit(kernel.Op{Code: kernel.Select, A: c.regs.settle(q), B: c.regs.settle(a), C: c.regs.settle(b)})
}

func (c *compiler) binary(n *formula.Node, at place) linear {
	a := c.lower(n.Args[0], at)
	if a.isConst() && (n.Op == formula.And && a.Const == 0 || n.Op == formula.Or && a.Const != 0) {
		return a
	}
	b := c.lower(n.Args[1], at)
	if a.isConst() && b.isConst() {
		return constant(formula.Apply(n.Op, a.Const, b.Const))
	}
	switch n.Op {
	case formula.Add:
		return c.regs.add(a, b, 1)
	case formula.Sub:
		return c.regs.add(a, b, -1)
	case formula.Mul, formula.And:
		return c.regs.mul(a, b)
	case formula.Div:
		return c.regs.div(a, b)
	case formula.Pow:
		return c.regs.call(func(v []float64) float64 { return math.Pow(v[0], v[1]) }, []linear{a, b})
	case formula.Or:
		return c.regs.extreme(a, b, true)
	}
	return c.compare(n.Op, a, b)
}

func (c *compiler) compare(op formula.Op, a, b linear) linear {
	if op == formula.Greater || op == formula.GreaterEq {
		a, b = b, a
	}
	var code kernel.Code
	switch op {
	case formula.Less, formula.Greater:
		code = kernel.Less
	case formula.LessEq, formula.GreaterEq:
		code = kernel.LessEq
	case formula.Equal, formula.NotEqual:
		code = kernel.Equal
	default:
		panic(op.String() + " is no comparison")
	}
	out := c.regs.emit(kernel.Op{Code: code, A: c.regs.settle(a), B: c.regs.settle(b)})
	if op == formula.NotEqual {
		return c.regs.add(constant(1), out, -1)
	}
	return out
}

func (c *compiler) call(n *formula.Node, at place) linear {
	args := make([]linear, len(n.Args))
	varies := false
	for i, a := range n.Args {
		args[i] = c.lower(a, at)
		varies = varies || !args[i].isConst()
	}
	if n.Fn.Table {
		curve := c.graph.Curve(n.Name)
		if curve.Steps {
			return c.steps(curve, args[0])
		}
		return c.regs.call(func(v []float64) float64 { return curve.At(v[0]) }, args)
	}
	if n.Fn.Name == "ceil" && at.fraction {
		return args[0]
	}
	if !varies {
		vals := make([]float64, len(args))
		for i, a := range args {
			vals[i] = a.Const
		}
		return constant(n.Fn.Eval(vals))
	}
	switch n.Fn.Name {
	case "ceil":
		return c.regs.ceil(args[0])
	case "min", "max":
		out := args[0]
		for _, a := range args[1:] {
			if out.isConst() && a.isConst() {
				out = constant(n.Fn.Eval([]float64{out.Const, a.Const}))
				continue
			}
			out = c.regs.extreme(out, a, n.Fn.Name == "max")
		}
		return out
	}
	return c.regs.call(n.Fn.Eval, args)
}

// steps is a curve that goes in steps: conditions, so that where it jumps can be reckoned.
func (c *compiler) steps(curve *formula.Curve, x linear) linear {
	if x.isConst() {
		return constant(curve.At(x.Const))
	}
	out, at := constant(curve.Y[0]), c.regs.settle(x)
	for i := 1; i < len(curve.X); i++ {
		reached := c.regs.emit(kernel.Op{Code: kernel.LessEq, A: c.regs.settle(constant(curve.X[i])), B: at})
		out = c.regs.emit(kernel.Op{Code: kernel.Select, A: c.regs.settle(reached), B: c.regs.settle(constant(curve.Y[i])), C: c.regs.settle(out)})
	}
	return out
}

// name finds what a name means for this row and compiles it.
func (c *compiler) name(n *formula.Node, at place) linear {
	ref := &at.eq.Refs[n.Ref]
	if ref.Fixed {
		return constant(ref.Constant)
	}
	if ref.Base {
		return c.definition(*at.base, at)
	}
	hops := ref.Hops
	if ref.Many {
		hops = hops[:len(hops)-1]
	}
	return c.along(at.entity, hops, n, at)
}

// along follows the hops that are left from a row and compiles what they lead to.
func (c *compiler) along(e Entity, hops []Relation, n *formula.Node, at place) linear {
	ref := &at.eq.Refs[n.Ref]
	if len(hops) > 0 {
		if list := c.candidates(e, hops[0]); len(list) > 0 {
			return c.first(list, hops[1:], n, at)
		}
		to := c.graph.Follow(e, hops[0])
		if to < 0 {
			c.report(at, c.graph.Absent(at.entity, at.quantity, n.Name))
			return poison()
		}
		return c.along(to, hops[1:], n, at)
	}
	if ref.Many {
		return c.sum(e, ref, at)
	}
	f := c.need(c.graph.FirstCell(e)+ref.Quantity, at)
	if ref.Option > 0 {
		return option(f, ref.Option-1, n.Name)
	}
	return f
}

// option is the condition that a choice has one of its options. Choices decide what rows there are, so none varies: the owner of
// the graph sees to that, and where it did not, no condition would be right.
func option(choice linear, number int, name string) linear {
	switch {
	case !choice.isConst():
		panic("the choice that " + name + " asks for varies")
	case choice.Const == float64(number):
		return constant(1)
	}
	return constant(0)
}

// need compiles a cell that another names; where it fails, the other fails with it, without a word of its own.
func (c *compiler) need(id Cell, at place) linear {
	f := c.cell(id)
	if c.state[id] == failed {
		c.state[at.cell] = failed
	}
	return f
}

func (c *compiler) sum(e Entity, ref *Ref, at place) linear {
	members := c.graph.Members(e, ref.Hops[len(ref.Hops)-1])
	sums := make([]linear, len(members))
	for i, m := range members {
		sums[i] = c.where(m, c.need(c.graph.FirstCell(m)+ref.Quantity, at))
	}
	if !c.regs.fold {
		out := linear{}
		for _, f := range sums {
			out = c.regs.add(out, f, 1)
		}
		return out
	}
	return addAll(sums)
}
