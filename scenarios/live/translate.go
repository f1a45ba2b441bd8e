package live

import (
	"math"
	"strings"

	"piececost/costmodel/formula"
)

// A term is a piece of spreadsheet formula: its text times factor is the coherent value.
type term struct {
	text   string
	prec   int
	factor float64
}

// The precedence of spreadsheet operators, lowest first. A sign binds tighter than ^ there.
const (
	precCompare = iota
	precSum
	precProduct
	precPower
	precAtom
)

// wrap puts brackets around a term that binds less tightly than wanted.
func wrap(t term, prec int) string {
	if t.prec < prec || prec > precSum && strings.HasPrefix(t.text, "-") {
		return "(" + t.text + ")"
	}
	return t.text
}

// names tells a translator what the names of an equation are in this place.
type names interface {
	// name returns the cell of a name and the factor of its unit.
	name(n *formula.Node) term
	// condition returns the test of a name that is a condition.
	condition(n *formula.Node) string
	// settled tells the value of a condition that follows from the structure, where it is to be decided now.
	settled(n *formula.Node) (value, known bool)
	// curve returns the value of a curve at x, a coherent number.
	curve(name, x string) term
}

// translator turns expressions into spreadsheet formulas.
type translator struct{ names names }

// coherent writes a node as text times factor.
func (t translator) node(n *formula.Node) term {
	switch n.Kind {
	case formula.Number:
		return literal(n)
	case formula.Name, formula.Sum:
		return t.names.name(n)
	case formula.Negate:
		a := t.node(n.Args[0])
		return term{text: "-" + wrap(a, precProduct), prec: precSum, factor: a.factor}
	case formula.Convert:
		a := t.node(n.Args[0])
		if n.Unit.Zero != 0 {
			a = t.settle(a)
			return read(a.text, a.prec, n.Unit)
		}
		a.factor *= n.Value
		return a
	case formula.Cond:
		return t.conditional(n)
	case formula.Binary:
		return t.binary(n)
	}
	return t.call(n)
}

// literal writes a number in the unit in which it was written.
func literal(n *formula.Node) term {
	factor := n.Unit.Factor
	if factor == 0 {
		factor = 1
	}
	if n.Unit.Zero != 0 {
		return term{text: number(n.Value), prec: precAtom, factor: 1}
	}
	v := snap(n.Value / factor)
	if v*factor != n.Value && math.Abs(v*factor-n.Value) > 1e-15*math.Abs(n.Value) {
		v, factor = n.Value, 1
	}
	return term{text: number(v), prec: precAtom, factor: factor}
}

// same brings two terms to the factor of the first, or of the second where the first is a plain 0.
func same(a, b term) (term, term) {
	if a.text == "0" {
		a.factor = b.factor
	}
	if b.text == "0" {
		b.factor = a.factor
	}
	if k := snap(b.factor / a.factor); k != 1 {
		b = scaled(b, k)
	}
	b.factor = a.factor
	return a, b
}

func (t translator) binary(n *formula.Node) term {
	a, b := t.node(n.Args[0]), t.node(n.Args[1])
	switch n.Op {
	case formula.Add, formula.Sub:
		a, b = same(a, b)
		sign, right := "+", wrap(b, precSum)
		if n.Op == formula.Sub {
			sign, right = "-", wrap(b, precProduct)
		}
		if strings.HasPrefix(right, "-") {
			right = "(" + right + ")"
		}
		return term{text: wrap(a, precSum) + sign + right, prec: precSum, factor: a.factor}
	case formula.Mul:
		return term{text: wrap(a, precProduct) + "*" + wrap(b, precProduct), prec: precProduct, factor: a.factor * b.factor}
	case formula.Div:
		return term{text: wrap(a, precProduct) + "/" + wrap(b, precPower), prec: precProduct, factor: a.factor / b.factor}
	}
	if n.Op != formula.Pow {
		panic(n.Op.String() + " stands where a number is wanted")
	}
	// a power: both sides as coherent numbers
	a, b = t.settle(a), t.settle(b)
	return term{text: wrap(a, precAtom) + "^" + wrap(b, precAtom), prec: precPower, factor: 1}
}

// settle takes the factor into the text.
func (t translator) settle(a term) term {
	out := scaled(a, a.factor)
	out.factor = 1
	return out
}

func (t translator) conditional(n *formula.Node) term {
	if v, known := t.names.settled(n.Args[0]); known {
		if v {
			return t.node(n.Args[1])
		}
		return t.node(n.Args[2])
	}
	a, b := same(t.node(n.Args[1]), t.node(n.Args[2]))
	return term{text: "IF(" + t.condition(n.Args[0]) + "," + a.text + "," + b.text + ")", prec: precAtom, factor: a.factor}
}

// condition writes a test.
func (t translator) condition(n *formula.Node) string {
	switch n.Kind {
	case formula.Name, formula.Sum:
		return t.names.condition(n)
	case formula.Not:
		return "NOT(" + t.condition(n.Args[0]) + ")"
	case formula.Cond:
		return "IF(" + t.condition(n.Args[0]) + "," + t.condition(n.Args[1]) + "," + t.condition(n.Args[2]) + ")"
	}
	if n.Op == formula.And || n.Op == formula.Or {
		return t.both(n)
	}
	a, b := same(t.node(n.Args[0]), t.node(n.Args[1]))
	sign := n.Op.String()
	switch n.Op {
	case formula.Equal:
		sign = "="
	case formula.NotEqual:
		sign = "<>"
	}
	return wrap(a, precSum) + sign + wrap(b, precSum)
}

// both writes two conditions joined by and, or. AND and OR ask both, so that a side that leads nowhere at the base values goes behind an IF.
func (t translator) both(n *formula.Node) string {
	first, second := t.condition(n.Args[0]), t.condition(n.Args[1])
	behind := strings.Contains(second, nowhere)
	switch {
	case n.Op == formula.And && behind:
		return "IF(" + first + "," + second + ",1=0)"
	case n.Op == formula.And:
		return "AND(" + first + "," + second + ")"
	case behind:
		return "IF(" + first + ",1=1," + second + ")"
	}
	return "OR(" + first + "," + second + ")"
}

// call writes a function in its spreadsheet form.
func (t translator) call(n *formula.Node) term {
	args := make([]term, len(n.Args))
	for i, a := range n.Args {
		args[i] = t.node(a)
	}
	if n.Fn.Table {
		return t.names.curve(n.Name, t.settle(args[0]).text)
	}
	factor := 1.0
	switch n.Fn.Name {
	case "min", "max", "abs":
		lead := args[0]
		for _, a := range args {
			if a.text != "0" {
				lead = a
				break
			}
		}
		for i := range args {
			_, args[i] = same(lead, args[i])
		}
		factor = lead.factor
	default:
		for i := range args {
			args[i] = t.settle(args[i])
		}
	}
	texts := make([]string, len(args))
	for i, a := range args {
		texts[i] = a.text
	}
	if n.Fn.Sheet == "" {
		panic(n.Fn.Name + " has no spreadsheet form")
	}
	out := strings.ReplaceAll(n.Fn.Sheet, "*", strings.Join(texts, ","))
	if !strings.Contains(n.Fn.Sheet, "{") {
		return term{text: out, prec: precAtom, factor: factor}
	}
	out = n.Fn.Sheet
	for i, x := range []string{"{1}", "{2}"} {
		if i < len(texts) {
			out = strings.ReplaceAll(out, x, texts[i])
		}
	}
	prec := precAtom
	if strings.HasPrefix(out, "-") || strings.Contains(out, "^") {
		prec = precSum
	}
	return term{text: simplify(out), prec: prec, factor: factor}
}

// simplify drops brackets around a single cell or number: ceil's form brackets its argument.
func simplify(text string) string {
	for _, open := range []string{"-(", "+(", "(("} {
		i := strings.Index(text, open)
		if i < 0 {
			continue
		}
		from := i + len(open)
		to := strings.IndexByte(text[from:], ')')
		if to < 0 {
			continue
		}
		inner := text[from : from+to]
		if strings.ContainsAny(inner, "+-*/^(,<>=") {
			continue
		}
		text = text[:from-1] + inner + text[from+to+1:]
	}
	return text
}
