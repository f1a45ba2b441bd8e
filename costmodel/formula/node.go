package formula

import (
	"slices"

	"piececost/costmodel/units"
)

// A Kind says what a node is.
type Kind uint8

// The kinds of node, with an example of the text each stands for.
const (
	Number  Kind = iota // 2.5, "5 mm": Value is coherent once checked
	Name                // material.density
	Negate              // -a
	Not                 // not a
	Binary              // a + b, a < b, a and b
	Cond                // a ? b : c
	Call                // max(a, b)
	Sum                 // sum(joined.mass): one name of a relation to many rows
	Convert             // a bare subtree that took the unit of its context: Args[0] read in Unit
)

// An Op is a binary operator.
type Op uint8

// The binary operators.
const (
	Add Op = iota
	Sub
	Mul
	Div
	Pow
	Less
	LessEq
	Greater
	GreaterEq
	Equal
	NotEqual
	And
	Or
)

var opText = [...]string{"+", "-", "*", "/", "^", "<", "<=", ">", ">=", "==", "!=", "and", "or"}

// String returns the operator as written.
func (o Op) String() string { return opText[o] }

// Compares tells whether the operator yields a condition from two numbers.
func (o Op) Compares() bool { return o >= Less && o <= NotEqual }

// Joins tells whether the operator yields a condition from two conditions.
func (o Op) Joins() bool { return o == And || o == Or }

// A Node is one piece of an expression. Nodes are not changed after Check.
type Node struct {
	Kind     Kind
	Op       Op         // of a Binary
	Fn       *Function  // of a Call
	Value    float64    // of a Number, coherent; of a Convert, the factor of Unit
	Unit     units.Unit // of a Number: the unit it was written in or took from its context
	Quoted   bool       // a Number written as a text literal
	Name     string     // of a Name or Sum; of an interpolate Call: the table
	Ref      int        // of a Name or Sum: index into Expr.Names
	Args     []*Node    // operands, in order
	From, To int        // span in characters, brackets around it not counted
}

// An Expr is a parsed expression. Names lists the distinct names in order of first appearance.
type Expr struct {
	Text  string
	Root  *Node
	Names []NameUse
}

// Clone returns a copy that may be checked, or written with other names, while the first stays as it is.
func (e *Expr) Clone() *Expr {
	return &Expr{Text: e.Text, Root: e.Root.clone(), Names: slices.Clone(e.Names)}
}

func (n *Node) clone() *Node {
	out := *n
	if len(n.Args) > 0 {
		out.Args = make([]*Node, len(n.Args))
		for i, a := range n.Args {
			out.Args[i] = a.clone()
		}
	}
	return &out
}

// A NameUse is a name of an expression and where it first stands.
type NameUse struct {
	Path     string
	Many     bool // inside sum(...)
	From, To int
}

// An Error says what is wrong with an expression, and where.
type Error struct {
	From, To int    // characters from 0; To > From
	Msg      string // what is wrong
	Help     string // what to do, may be empty
}

// Error says what is wrong and what to do, on one line.
func (e *Error) Error() string {
	if e.Help == "" {
		return e.Msg
	}
	return e.Msg + "; " + e.Help
}

func fail(from, to int, msg, help string) *Error {
	if to <= from {
		to = from + 1
	}
	return &Error{From: from, To: to, Msg: msg, Help: help}
}

// Spans lists where the names of the expression stand, in the order of the text.
func (e *Expr) Spans() []NameUse {
	var out []NameUse
	var visit func(n *Node)
	visit = func(n *Node) {
		switch n.Kind {
		case Name:
			out = append(out, NameUse{Path: n.Name, From: n.From, To: n.To})
		case Sum:
			out = append(out, NameUse{Path: n.Name, Many: true, From: n.To - len([]rune(n.Name)), To: n.To})
		}
		for _, a := range n.Args {
			visit(a)
		}
	}
	visit(e.Root)
	slices.SortFunc(out, func(a, b NameUse) int { return a.From - b.From })
	return out
}
