package formula

import (
	"errors"
	"maps"
	"math"
	"slices"
)

// An Affine is a number that may rest on unknowns: a constant, and for each unknown, by its number, what multiplies it.
type Affine struct {
	Const float64
	Of    map[int]float64
}

// Unknown is the unknown of a number itself.
func Unknown(number int) Affine { return Affine{Of: map[int]float64{number: 1}} }

// Known tells whether it rests on no unknown.
func (a Affine) Known() bool { return len(a.Of) == 0 }

// A NotLinear says in which part of an expression unknowns stand otherwise than as multiples in a sum.
type NotLinear struct {
	Unknowns []int // by number, ascending
	Why      string
}

// Error names the reason alone; whoever knows the unknowns' names puts them before it.
func (e *NotLinear) Error() string { return e.Why }

// AffineOf reads an expression as a sum of a constant and multiples of unknowns. name gives each of Expr.Names as one, by its
// index; its errors are returned as they are. Where the expression is no such sum in the unknowns, the error is a *NotLinear. A
// condition without unknowns is decided, and the branch that is not taken is not looked at.
func AffineOf(n *Node, name func(ref int) (Affine, error), curve func(string) *Curve) (Affine, error) {
	if n.Kind == Name || n.Kind == Sum {
		return name(n.Ref)
	}
	if n.Kind == Cond {
		return affineCond(n, name, curve)
	}
	args := make([]Affine, len(n.Args))
	known := true
	for i, a := range n.Args {
		var err error
		if args[i], err = AffineOf(a, name, curve); err != nil {
			return Affine{}, err
		}
		known = known && args[i].Known()
		if i == 0 && known && n.Kind == Binary && (n.Op == And && args[0].Const == 0 || n.Op == Or && args[0].Const != 0) {
			return args[0], nil
		}
	}
	if known {
		return Affine{Const: evalKnown(n, args, curve)}, nil
	}
	switch n.Kind {
	case Negate:
		return args[0].times(-1), nil
	case Convert:
		zero := n.Unit.Coherent(0)
		out := args[0].times(n.Unit.Coherent(1) - zero)
		out.Const += zero
		return out, nil
	case Binary:
		return affineBinary(n, args[0], args[1])
	case Call:
		return Affine{}, notLinear("stands within "+n.Fn.Name+"()", args...)
	}
	return Affine{}, notLinear("stands within a condition", args...)
}

func affineCond(n *Node, name func(int) (Affine, error), curve func(string) *Curve) (Affine, error) {
	q, err := AffineOf(n.Args[0], name, curve)
	switch {
	case err != nil:
		return Affine{}, err
	case !q.Known():
		return Affine{}, notLinear("decides a condition", q)
	case q.Const != 0:
		return AffineOf(n.Args[1], name, curve)
	}
	return AffineOf(n.Args[2], name, curve)
}

func affineBinary(n *Node, a, b Affine) (Affine, error) {
	switch {
	case n.Op == Add:
		return a.plus(b, 1), nil
	case n.Op == Sub:
		return a.plus(b, -1), nil
	case n.Op == Mul && a.Known():
		return b.times(a.Const), nil
	case n.Op == Mul && b.Known():
		return a.times(b.Const), nil
	case n.Op == Mul:
		return Affine{}, notLinear("multiply each other", a, b)
	case n.Op == Div && b.Known():
		return a.times(1 / b.Const), nil
	case n.Op == Div:
		return Affine{}, notLinear("stands below a division", b)
	case n.Op == Pow:
		return Affine{}, notLinear("stands in a power", a, b)
	}
	return Affine{}, notLinear("decides a condition", a, b)
}

// evalKnown computes a node whose operands are known.
func evalKnown(n *Node, args []Affine, curve func(string) *Curve) float64 {
	flat := *n
	flat.Args = make([]*Node, len(args))
	for i, a := range args {
		flat.Args[i] = &Node{Kind: Number, Value: a.Const}
	}
	return Eval(&flat, nil, curve)
}

func (a Affine) times(k float64) Affine {
	out := Affine{Const: a.Const * k, Of: map[int]float64{}}
	for _, i := range a.unknowns() {
		out.Of[i] = a.Of[i] * k
	}
	return out
}

// plus is a + k*b.
func (a Affine) plus(b Affine, k float64) Affine {
	out := Affine{Const: a.Const + k*b.Const, Of: maps.Clone(a.Of)}
	if out.Of == nil {
		out.Of = map[int]float64{}
	}
	for _, i := range b.unknowns() {
		out.Of[i] += k * b.Of[i]
	}
	return out
}

func notLinear(why string, of ...Affine) *NotLinear {
	var all []int
	for _, a := range of {
		all = append(all, a.unknowns()...)
	}
	slices.Sort(all)
	return &NotLinear{slices.Compact(all), why}
}

// unknowns lists those that it rests on, ascending.
func (a Affine) unknowns() []int { return slices.Sorted(maps.Keys(a.Of)) }

// Finite tells whether every number of it is one.
func (a Affine) Finite() error {
	sum := a.Const
	for _, i := range a.unknowns() {
		sum += math.Abs(a.Of[i])
	}
	if math.IsNaN(sum) || math.IsInf(sum, 0) {
		return errors.New("gives no number")
	}
	return nil
}
