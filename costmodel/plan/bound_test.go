package plan_test

import (
	"math"

	"piececost/costmodel/formula"
)

// ulp is four times the rounding of one operation.
const ulp = 0x1p-51

// bound reads a node as formula.Eval does and keeps, beside the value, how far another order of the same sums and products
// may be from it.
func bound(n *formula.Node, names []number) number {
	args := make([]number, len(n.Args))
	for i, a := range n.Args {
		args[i] = bound(a, names)
	}
	switch n.Kind {
	case formula.Number:
		return exactly(n.Value)
	case formula.Name, formula.Sum:
		return names[n.Ref]
	case formula.Negate:
		return after(number{v: -args[0].v, err: args[0].err}, args...)
	case formula.Not:
		return after(number{v: 1 - args[0].v}, args...)
	case formula.Convert:
		return times(args[0], exactly(n.Value))
	case formula.Cond:
		return choose(args[0], args[1], args[2])
	case formula.Binary:
		return binary(n.Op, args[0], args[1])
	}
	if n.Fn.Table {
		return called(func(v []float64) float64 { return press.At(v[0]) }, args)
	}
	switch n.Fn.Name {
	case "ceil":
		return whole(args[0], formula.Ceil, -formula.WholeTolerance)
	case "floor":
		return whole(args[0], formula.Floor, formula.WholeTolerance)
	case "round":
		return whole(args[0], math.Round, 0.5)
	}
	return called(n.Fn.Eval, args)
}

// after gives a result what its operands hand on.
func after(n number, operands ...number) number {
	for _, o := range operands {
		n.most = max(n.most, o.most)
		n.doubt = n.doubt || o.doubt
		n.broken = n.broken || o.broken
	}
	if finite(n.v) {
		n.most = max(n.most, math.Abs(n.v))
	} else {
		n.broken = true
	}
	if !(n.err < math.Inf(1)) { // it stems from an infinity
		n.err, n.doubt = 0, true
	}
	return n
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

func plus(a, b number, sign float64) number {
	return after(number{v: a.v + sign*b.v, err: a.err + b.err + ulp*(math.Abs(a.v)+math.Abs(b.v))}, a, b)
}

func times(a, b number) number {
	v := a.v * b.v
	return after(number{v: v, err: math.Abs(a.v)*b.err + math.Abs(b.v)*a.err + a.err*b.err + ulp*math.Abs(v)}, a, b)
}

func over(a, b number) number {
	v := a.v / b.v
	n := after(number{v: v, err: (a.err+math.Abs(v)*b.err)/(math.Abs(b.v)-b.err) + ulp*math.Abs(v)}, a, b)
	n.doubt = n.doubt || b.err >= math.Abs(b.v)/2
	return n
}

func binary(op formula.Op, a, b number) number {
	switch op {
	case formula.Add:
		return plus(a, b, 1)
	case formula.Sub:
		return plus(a, b, -1)
	case formula.Mul:
		return times(a, b)
	case formula.Div:
		return over(a, b)
	case formula.Pow:
		return called(func(v []float64) float64 { return math.Pow(v[0], v[1]) }, []number{a, b})
	}
	n := after(number{v: formula.Apply(op, a.v, b.v)}, a, b)
	if op.Compares() {
		n.doubt = n.doubt || tooClose(a, b)
	}
	return n
}

// tooClose tells whether the two may be the same number in one order of the arithmetic and differ in another.
func tooClose(a, b number) bool {
	far, err := math.Abs(a.v-b.v), a.err+b.err
	same := math.Min(math.Abs(a.v), math.Abs(b.v)) * 0x1p-48
	return err > 0 && far+err >= 0.99*same && far-err <= 1.01*same
}

// choose is a conditional: the branch not taken matters only for what may keep the cell from being compiled.
func choose(q, a, b number) number {
	taken := b
	if q.v != 0 {
		taken = a
	}
	taken.doubt = taken.doubt || q.doubt
	taken.broken = q.broken || a.broken || b.broken
	return taken
}

// whole is a rounding with its jump where v + shift is whole.
func whole(a number, f func(float64) float64, shift float64) number {
	n := after(number{v: f(a.v)}, a)
	jump := a.v + shift
	n.doubt = n.doubt || a.err > 0 && math.Abs(jump-math.Round(jump)) <= 4*a.err
	return n
}

// called moves each argument by its bound, up and down, and takes the largest change of the result.
func called(f func([]float64) float64, args []number) number {
	at := make([]float64, len(args))
	for i, a := range args {
		at[i] = a.v
	}
	v := f(at)
	n := number{v: v, err: 4 * ulp * math.Abs(v)}
	for i, a := range args {
		worst := 0.0
		for _, sign := range []float64{-1, 1} {
			at[i] = a.v + sign*a.err
			change := math.Abs(f(at) - v)
			if !(change < math.Inf(1)) && a.err > 0 {
				n.doubt = true
			}
			worst = max(worst, change)
		}
		at[i] = a.v
		n.err += 2 * worst
	}
	return after(n, args...)
}
