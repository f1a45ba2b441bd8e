package formula

import (
	"fmt"

	"piececost/costmodel/units"
)

// levelHelp says what a level of temperature can be used for.
const levelHelp = `take the difference to another level first, (t - "20 degC"), which is in K`

// levels checks an operation with a level of temperature: two of them have a difference, a level and a difference give a level,
// levels are compared with each other, and there is no more. done is false where neither side is one, and for a comparison.
func (c *checker) levels(n *Node, a, b inferred) (t inferred, done bool, err *Error) {
	if !a.Unit.Dim.Level && !b.Unit.Dim.Level || n.Op.Compares() {
		return t, false, nil
	}
	switch n.Op {
	case Add:
		t, err = c.moved(n, a, b)
	case Sub:
		t, err = c.fromLevel(n, a, b)
	default:
		err = fail(n.From, n.To, fmt.Sprintf("a level of temperature can't be part of %s", levelWords[n.Op]), levelHelp)
	}
	return t, true, err
}

var levelWords = map[Op]string{Mul: "a product", Div: "a quotient", Pow: "a power"}

// moved is a level and a difference, in either order. With grace a bare number is a difference in the level's own degrees.
func (c *checker) moved(n *Node, a, b inferred) (inferred, *Error) {
	level, other, at := a, b, n.Args[1]
	if !a.Unit.Dim.Level {
		level, other, at = b, a, n.Args[0]
	}
	switch {
	case other.Unit.Dim.Level:
		return a, fail(n.From, n.To, "two levels of temperature can't be added", `add a difference, t + "20 K"`)
	case other.bare && c.grace:
		pin(at, level.Unit.Difference())
	case other.Unit.Dim != units.Temperature:
		return a, fail(n.From, n.To, fmt.Sprintf("it adds %s and %s", a.Unit.Dim.Describe(), b.Unit.Dim.Describe()), `add a difference, t + "20 K"`)
	}
	return inferred{Type: Type{Unit: level.Unit}}, nil
}

// fromLevel is a difference of two levels, or a level less a difference. A bare number could be either; where a level is wanted
// it is a difference, and before the minus it is a level.
func (c *checker) fromLevel(n *Node, a, b inferred) (inferred, *Error) {
	switch {
	case a.Unit.Dim.Level && b.Unit.Dim.Level:
		return inferred{Type: Type{Unit: a.Unit.Difference()}}, nil
	case a.Unit.Dim.Level && b.bare && c.grace && c.level == n:
		pin(n.Args[1], a.Unit.Difference())
		return inferred{Type: Type{Unit: a.Unit}}, nil
	case a.Unit.Dim.Level && b.bare:
		return a, fail(n.Args[1].From, n.Args[1].To, "the number could be a level of temperature or a difference", `write "20 degC" or "20 K"`)
	case a.Unit.Dim.Level && b.Unit.Dim == units.Temperature:
		return inferred{Type: Type{Unit: a.Unit}}, nil
	case a.bare && c.grace:
		pin(n.Args[0], b.Unit)
		return inferred{Type: Type{Unit: b.Unit.Difference()}}, nil
	}
	return a, fail(n.From, n.To, fmt.Sprintf("it subtracts %s and %s", a.Unit.Dim.Describe(), b.Unit.Dim.Describe()),
		`from a level of temperature take a level or a difference, t - "20 K"`)
}

// isBareNumber tells whether an argument is made of numbers without a unit alone.
func isBareNumber(n *Node) bool {
	_, known := constantOf(n)
	return known && !quoted(n)
}

func quoted(n *Node) bool {
	for _, a := range n.Args {
		if quoted(a) {
			return true
		}
	}
	return n.Quoted
}
