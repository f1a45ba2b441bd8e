package formula

import (
	"strconv"
	"strings"
)

// Print writes an expression with the fewest brackets, each name as name says.
func Print(n *Node, name func(*Node) string) string {
	text, _ := printNode(n, name)
	return text
}

// The strength with which operators bind, weakest first.
const (
	bindCond = iota
	bindOr
	bindAnd
	bindCompare
	bindSum
	bindProduct
	bindSign
	bindPower
	bindAtom
)

var binding = map[Op]int{Add: bindSum, Sub: bindSum, Mul: bindProduct, Div: bindProduct, Pow: bindPower, And: bindAnd, Or: bindOr}

func printNode(n *Node, name func(*Node) string) (string, int) {
	sub := func(i, least int) string {
		text, b := printNode(n.Args[i], name)
		if b < least {
			return "(" + text + ")"
		}
		return text
	}
	switch n.Kind {
	case Number:
		return printNumber(n), bindAtom
	case Name, Sum:
		return name(n), bindAtom
	case Negate:
		return "-" + sub(0, bindAtom), bindSign // -(a^b): without brackets the language refuses it
	case Not:
		return "not " + sub(0, bindAtom), bindSign
	case Convert:
		return sub(0, bindProduct) + " " + n.Unit.Text, bindProduct
	case Cond:
		return sub(0, bindOr) + " ? " + sub(1, bindOr) + " : " + sub(2, bindOr), bindCond
	case Binary:
		b, known := binding[n.Op]
		if !known {
			b = bindCompare
		}
		right := b + 1
		if n.Op == Add || n.Op == Mul || n.Op == And || n.Op == Or {
			right = b
		}
		if n.Op == Pow {
			return sub(0, bindAtom) + "^" + sub(1, bindAtom), b
		}
		return sub(0, b) + " " + n.Op.String() + " " + sub(1, right), b
	}
	args := make([]string, 0, len(n.Args)+1)
	if n.Fn.Table {
		args = append(args, n.Name)
	}
	for i := range n.Args {
		args = append(args, sub(i, bindCond))
	}
	return n.Fn.Name + "(" + strings.Join(args, ", ") + ")", bindAtom
}

// printNumber writes a number in the unit it was written in.
func printNumber(n *Node) string {
	v, unit := n.Value, ""
	if n.Unit.Factor != 0 {
		v = n.Unit.Shown(v)
	}
	if n.Unit.Text != "" && n.Unit.Text != "1" {
		unit = " " + n.Unit.Text
	}
	return strconv.FormatFloat(v, 'g', 12, 64) + unit
}
