package formula

import (
	"fmt"
	"math"

	"piececost/costmodel/units"
)

// A Type is what a name or an expression yields: a condition, or a number in a unit.
type Type struct {
	Flag bool
	Unit units.Unit // the unit it is declared or written in; Dim decides, Factor serves bare numbers beside it
	Bare bool       // a constant such as pi: it takes the unit of its context as a bare number does
}

// An Env says what the names of an expression measure.
type Env interface {
	// TypeOf returns the type of a name; many is true inside sum(...). The error is fit to be shown.
	TypeOf(path string, many bool) (Type, error)
	// CurveUnits returns the units of a curve's x and y.
	CurveUnits(name string) (x, y units.Unit, err error)
}

// Rules say how strictly an expression is read.
type Rules struct {
	Want  Type // what it must yield
	Grace bool // a user's cell: a bare number takes the unit of its context
}

// Check finds what does not fit and, with grace, gives bare numbers the unit of their context. It changes the
// expression and must be called once, before Eval. The error is an *Error.
func Check(e *Expr, env Env, rules Rules) error {
	c := checker{env: env, grace: rules.Grace}
	if rules.Want.Unit.Dim.Level {
		c.level = e.Root
	}
	t, bad := c.node(e.Root)
	if bad == nil {
		bad = c.result(e.Root, t, rules.Want)
	}
	if bad != nil {
		return bad
	}
	return nil
}

type checker struct {
	env   Env
	grace bool
	level *Node // the root, where a level of temperature is wanted
}

// inferred is a Type with the memory that only bare numbers went into it.
type inferred struct {
	Type
	bare bool
}

func plain(bare bool) inferred { return inferred{Type: Type{Unit: units.One}, bare: bare} }

func flag() inferred { return inferred{Type: Type{Flag: true}} }

func (c *checker) result(root *Node, t inferred, want Type) *Error {
	switch {
	case t.Flag != want.Flag && want.Flag:
		return fail(root.From, root.To, "a number stands where a condition is wanted", "write a comparison")
	case t.Flag != want.Flag:
		return fail(root.From, root.To, "a condition stands where a number is wanted", "write condition ? value : other value")
	case want.Flag:
		return nil
	case t.bare && c.grace:
		pin(root, want.Unit)
		return nil
	case t.Unit.Dim != want.Unit.Dim:
		return fail(root.From, root.To, fmt.Sprintf("the expression gives %s, wanted is %s", t.Unit.Dim.Describe(), want.Unit.Dim.Describe()),
			units.LevelHelp(t.Unit.Dim, want.Unit.Dim))
	}
	return nil
}

func (c *checker) node(n *Node) (inferred, *Error) {
	switch n.Kind {
	case Number:
		if n.Quoted {
			return inferred{Type: Type{Unit: n.Unit}}, nil
		}
		return plain(true), nil
	case Name, Sum:
		t, err := c.env.TypeOf(n.Name, n.Kind == Sum)
		if err != nil {
			return inferred{}, fail(n.From, n.To, err.Error(), "")
		}
		if t.Flag && n.Kind == Sum {
			return inferred{}, fail(n.From, n.To, fmt.Sprintf("sum adds numbers, but %s is a condition", n.Name), "")
		}
		if t.Unit.Dim.Level && n.Kind == Sum {
			return inferred{}, fail(n.From, n.To, fmt.Sprintf("sum adds what has a total, but %s is %s", n.Name, t.Unit.Dim.Describe()), levelHelp)
		}
		return inferred{Type: t, bare: t.Bare}, nil
	case Negate, Not:
		return c.unary(n)
	case Binary:
		return c.binary(n)
	case Cond:
		return c.conditional(n)
	case Call:
		return c.call(n)
	}
	return inferred{}, fail(n.From, n.To, "an expression is checked once only", "")
}

func (c *checker) unary(n *Node) (inferred, *Error) {
	t, err := c.node(n.Args[0])
	if err != nil {
		return t, err
	}
	if t.Flag != (n.Kind == Not) {
		if t.Flag {
			return t, fail(n.From, n.To, "a condition has no sign", "")
		}
		return t, fail(n.From, n.To, "not stands before a condition", "write not (a < b)")
	}
	if t.Unit.Dim.Level {
		return t, fail(n.From, n.To, "a level of temperature takes no sign before it", `write the sign into the quantity, "-20 degC"`)
	}
	return t, nil
}

func (c *checker) binary(n *Node) (inferred, *Error) {
	a, err := c.node(n.Args[0])
	if err != nil {
		return a, err
	}
	b, err := c.node(n.Args[1])
	if err != nil {
		return b, err
	}
	if n.Op.Joins() {
		if !a.Flag || !b.Flag {
			return a, fail(n.From, n.To, fmt.Sprintf("%s joins two conditions", n.Op), "write a < b "+n.Op.String()+" c < d")
		}
		return flag(), nil
	}
	if a.Flag || b.Flag {
		return a, fail(n.From, n.To, fmt.Sprintf("%s needs numbers, but one side is a condition", n.Op), "write condition ? value : other value")
	}
	if t, done, err := c.levels(n, a, b); done {
		return t, err
	}
	switch n.Op {
	case Mul:
		return c.bounded(n, product(a, b, a.Unit.Dim.Mul(b.Unit.Dim), a.Unit.Factor*b.Unit.Factor))
	case Div:
		return c.bounded(n, product(a, b, a.Unit.Dim.Div(b.Unit.Dim), a.Unit.Factor/b.Unit.Factor))
	case Pow:
		return c.raise(n, a, b)
	}
	t, err := c.unify(n, n.Args[0], a, n.Args[1], b, verbs[n.Op])
	if n.Op.Compares() {
		t = flag()
	}
	return t, err
}

var verbs = map[Op]string{Add: "adds", Sub: "subtracts", Less: "compares", LessEq: "compares", Greater: "compares",
	GreaterEq: "compares", Equal: "compares", NotEqual: "compares"}

// bounded refuses powers of units so high that no one means them, before they could wrap around.
func (c *checker) bounded(n *Node, t inferred) (inferred, *Error) {
	if !t.Unit.Dim.Bounded() {
		return t, fail(n.From, n.To, "it gives a unit with powers that can't be meant", "")
	}
	return t, nil
}

// product keeps the written unit through a multiplication by plain numbers, so that base * 2 + 5 adds 5 of base's unit.
func product(a, b inferred, dim units.Dim, factor float64) inferred {
	u := units.Unit{Dim: dim, Factor: factor, Text: dim.String()}
	switch {
	case a.bare && b.bare:
		return plain(true)
	case b.bare || b.Unit.Dim == units.None && a.Unit.Dim != units.None:
		u = a.Unit
		if dim != a.Unit.Dim {
			u = units.Unit{Dim: dim, Factor: 1, Text: dim.String()}
		}
	case (a.bare || a.Unit.Dim == units.None) && dim == b.Unit.Dim:
		u = b.Unit
	}
	return inferred{Type: Type{Unit: u}}
}

func (c *checker) raise(n *Node, a, b inferred) (inferred, *Error) {
	if b.Unit.Dim != units.None {
		return a, fail(n.From, n.To, fmt.Sprintf("an exponent is a plain number, not %s", b.Unit.Dim.Describe()), "")
	}
	if a.bare && b.bare {
		return plain(true), nil
	}
	if a.Unit.Dim == units.None {
		return plain(false), nil
	}
	exponent, known := constantOf(n.Args[1])
	if !known {
		return a, fail(n.From, n.To, fmt.Sprintf("%s can be raised only to a power written out as numbers", a.Unit.Dim.Describe()),
			`write ^2 or ^(2/3), or divide by a reference first, (x / "1 mm")^y`)
	}
	d, ok := a.Unit.Dim.Raise(exponent)
	switch {
	case math.Abs(exponent) > units.MaxWritten:
		return a, fail(n.From, n.To, fmt.Sprintf("the power %v of %s can't be meant", exponent, a.Unit.Dim.Describe()), "")
	case !ok:
		return a, fail(n.From, n.To, fmt.Sprintf("%s to the power %.4g has no unit", a.Unit.Dim.Describe(), exponent),
			fmt.Sprintf(`divide by a reference first, (x / "1 %s")^%.4g`, a.Unit.Dim, exponent))
	}
	factor := math.Pow(a.Unit.Factor, exponent) // as in a * a: a bare number beside mm^2 is in mm2
	return c.bounded(n, inferred{Type: Type{Unit: units.Unit{Dim: d, Factor: factor, Text: d.String()}}})
}

// constantOf computes an expression of numbers alone, -2 or 2/3.
func constantOf(n *Node) (value float64, known bool) {
	switch n.Kind {
	case Number:
		return n.Value, true
	case Negate:
		v, ok := constantOf(n.Args[0])
		return -v, ok
	case Binary:
		if n.Op > Div {
			return 0, false
		}
		a, first := constantOf(n.Args[0])
		b, second := constantOf(n.Args[1])
		return Apply(n.Op, a, b), first && second
	}
	return 0, false
}

// unify makes two operands agree: a bare number beside a quantity with a dimension takes the quantity's unit. Beside a
// plain number or a share it stays what it is, so 1 - scrap_share means what it says.
func (c *checker) unify(at, x *Node, a inferred, y *Node, b inferred, verb string) (inferred, *Error) {
	switch {
	case a.Unit.Dim == b.Unit.Dim:
		if a.bare {
			return b, nil
		}
		return a, nil
	case a.bare && c.grace:
		pin(x, b.Unit)
		return b, nil
	case b.bare && c.grace:
		pin(y, a.Unit)
		return a, nil
	}
	help := units.LevelHelp(a.Unit.Dim, b.Unit.Dim)
	if a.bare || b.bare {
		help = `give the number a unit, "5 mm"`
	}
	return a, fail(at.From, at.To, fmt.Sprintf("it %s %s and %s", verb, a.Unit.Dim.Describe(), b.Unit.Dim.Describe()), help)
}

// pin gives a bare subtree a unit.
func pin(n *Node, u units.Unit) {
	switch {
	case u.Factor == 1 && u.Dim == units.None:
	case n.Kind == Number:
		n.Value = u.Coherent(n.Value)
		n.Unit = u
	case n.Kind == Negate && u.Zero == 0:
		pin(n.Args[0], u)
	case n.Kind == Cond:
		pin(n.Args[1], u)
		pin(n.Args[2], u)
	default:
		inner := *n
		*n = Node{Kind: Convert, Value: u.Factor, Unit: u, Args: []*Node{&inner}, From: inner.From, To: inner.To}
	}
}

func (c *checker) conditional(n *Node) (inferred, *Error) {
	q, err := c.node(n.Args[0])
	if err != nil {
		return q, err
	}
	if !q.Flag {
		return q, fail(n.Args[0].From, n.Args[0].To, "a number stands before the ?", "write a comparison, a > 0 ? b : c")
	}
	a, err := c.node(n.Args[1])
	if err != nil {
		return a, err
	}
	b, err := c.node(n.Args[2])
	if err != nil {
		return b, err
	}
	if a.Flag || b.Flag {
		if a.Flag && b.Flag {
			return flag(), nil
		}
		return a, fail(n.From, n.To, "one branch is a condition, the other a number", "")
	}
	t, err := c.unify(n, n.Args[1], a, n.Args[2], b, "chooses between")
	t.bare = a.bare && b.bare
	return t, err
}

func (c *checker) call(n *Node) (inferred, *Error) {
	args := make([]inferred, len(n.Args))
	for i, a := range n.Args {
		t, err := c.node(a)
		if err != nil {
			return t, err
		}
		if t.Flag {
			return t, fail(a.From, a.To, fmt.Sprintf("an argument of %s is a condition", n.Fn.Name), "write condition ? value : other value")
		}
		args[i] = t
	}
	if n.Fn.Table {
		return c.interpolation(n, args[0])
	}
	if n.Fn.Name == "min" || n.Fn.Name == "max" {
		return c.extreme(n, args)
	}
	for i, t := range args {
		if t.Unit.Dim.Level {
			return inferred{}, fail(n.Args[i].From, n.Args[i].To, fmt.Sprintf("%s takes no level of temperature", n.Fn.Name), levelHelp)
		}
	}
	switch {
	case n.Fn.Name == "power" && args[0].Unit.Dim != units.None:
		return c.raise(n, args[0], args[1])
	case n.Fn.Angle && isBareNumber(n.Args[0]):
		return inferred{}, fail(n.From, n.To, fmt.Sprintf("the angle of %s has no unit", n.Fn.Name),
			fmt.Sprintf(`write %s("30 deg") or %[1]s("0.5 rad")`, n.Fn.Name))
	}
	dims := make([]units.Dim, len(args))
	for i, a := range args {
		dims[i] = a.Unit.Dim
	}
	d, bad := n.Fn.Dim(dims)
	if bad != "" {
		return inferred{}, fail(n.From, n.To, n.Fn.Name+": "+bad, "")
	}
	if n.Fn.Name == "abs" {
		return args[0], nil
	}
	return inferred{Type: Type{Unit: units.Unit{Dim: d, Factor: 1, Text: d.String()}}}, nil
}

// extreme lets each bare argument of min or max take the unit of the first that has one.
func (c *checker) extreme(n *Node, args []inferred) (inferred, *Error) {
	lead := 0
	for i, a := range args {
		if !a.bare && a.Unit.Dim != units.None {
			lead = i
			break
		}
	}
	allBare := true
	for i, a := range args {
		allBare = allBare && a.bare
		if _, err := c.unify(n, n.Args[lead], args[lead], n.Args[i], a, "compares"); err != nil {
			return a, err
		}
	}
	t := args[lead]
	t.bare = allBare
	return t, nil
}

func (c *checker) interpolation(n *Node, x inferred) (inferred, *Error) {
	xu, yu, err := c.env.CurveUnits(n.Name)
	if err != nil {
		return x, fail(n.From, n.To, err.Error(), "")
	}
	if _, bad := c.unify(n, n.Args[0], x, n.Args[0], inferred{Type: Type{Unit: xu}}, "looks up"); bad != nil {
		return x, fail(n.From, n.To, fmt.Sprintf("curve %s goes over %s, but x is %s", n.Name, xu.Dim.Describe(), x.Unit.Dim.Describe()), "")
	}
	return inferred{Type: Type{Unit: units.Unit{Dim: yu.Dim, Factor: yu.Factor, Text: yu.Text}}}, nil
}
