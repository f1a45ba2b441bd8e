package formula

import (
	"fmt"
	"math"
)

// A Curve is a table for interpolate: X rising, values coherent.
type Curve struct {
	X, Y  []float64
	Steps bool // each point's value holds up to the next
}

// At returns the curve's value: straight between points, or in steps, level beyond the ends, NaN at NaN.
func (c *Curve) At(x float64) float64 {
	last := len(c.X) - 1
	switch {
	case math.IsNaN(x):
		return x
	case x <= c.X[0]:
		return c.Y[0]
	}
	for i := 1; i <= last; i++ {
		if c.Steps && x < c.X[i] {
			return c.Y[i-1]
		}
		if !c.Steps && x <= c.X[i] {
			return c.Y[i-1] + (c.Y[i]-c.Y[i-1])*(x-c.X[i-1])/(c.X[i]-c.X[i-1])
		}
	}
	return c.Y[last]
}

// Eval is the plain scalar reading of a checked expression. values holds, for each of Expr.Names, its coherent value
// (the total for a sum); curve finds the curves of interpolate. A condition is 1 or 0. Division by zero gives an infinity
// or NaN, as in IEEE 754.
func Eval(n *Node, values []float64, curve func(string) *Curve) float64 {
	arg := func(i int) float64 { return Eval(n.Args[i], values, curve) }
	switch n.Kind {
	case Number:
		return n.Value
	case Name, Sum:
		return values[n.Ref]
	case Negate:
		return -arg(0)
	case Not:
		return 1 - arg(0)
	case Convert:
		return n.Unit.Coherent(arg(0))
	case Cond:
		if arg(0) != 0 {
			return arg(1)
		}
		return arg(2)
	case Binary:
		a := arg(0)
		if n.Op == And && a == 0 || n.Op == Or && a != 0 {
			return a // as in a plan: the other side may be a name that leads nowhere
		}
		return Apply(n.Op, a, arg(1))
	}
	if n.Fn.Table {
		return curve(n.Name).At(arg(0))
	}
	args := make([]float64, len(n.Args))
	for i := range args {
		args[i] = arg(i)
	}
	return n.Fn.Eval(args)
}

// Apply computes one binary operation; comparisons and logic yield 1 or 0.
func Apply(op Op, a, b float64) float64 {
	switch op {
	case Add:
		return a + b
	case Sub:
		return a - b
	case Mul:
		return a * b
	case Div:
		return a / b
	case Pow:
		return math.Pow(a, b)
	case Less:
		return one(a < b && !SameNumber(a, b))
	case LessEq:
		return one(a < b || SameNumber(a, b))
	case Greater:
		return one(a > b && !SameNumber(a, b))
	case GreaterEq:
		return one(a > b || SameNumber(a, b))
	case Equal:
		return one(SameNumber(a, b))
	case NotEqual:
		return one(!SameNumber(a, b))
	case And:
		return a * b
	case Or:
		return max(a, b)
	}
	panic(fmt.Sprintf("no operation has the number %d", op))
}

func one(b bool) float64 {
	if b {
		return 1
	}
	return 0
}
