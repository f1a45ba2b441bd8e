package formula

import (
	"errors"
	"fmt"
	"regexp"
	"strings"
	"sync"

	"github.com/expr-lang/expr/ast"
	"github.com/expr-lang/expr/conf"
	"github.com/expr-lang/expr/file"
	"github.com/expr-lang/expr/parser"

	"piececost/costmodel/units"
)

// Parse reads an expression. The units of its text literals are read with sys. The error is an *Error with its place
// in the text.
func Parse(text string, sys *units.System) (*Expr, error) {
	if e := screen(text); e != nil {
		return nil, e
	}
	if strings.TrimSpace(text) == "" {
		return nil, fail(0, 1, "the expression is empty", "")
	}
	tree, err := parser.ParseWithConfig(text, parserConfig())
	if err != nil {
		return nil, fromParser(err, text)
	}
	r := reader{sys: sys, expr: &Expr{Text: text}, index: map[string]int{}}
	root, bad := r.node(tree.Node)
	if bad != nil {
		return nil, bad
	}
	r.expr.Root = root
	return r.expr, nil
}

// parserConfig leaves the parser nothing of its own: its built-in functions are ours to name, and none takes a closure.
// The parser only reads it.
var parserConfig = sync.OnceValue(func() *conf.Config {
	c := conf.CreateNew()
	for name := range c.Builtins {
		c.Disabled[name] = true
		c.Functions[name] = nil
	}
	return c
})

// fromParser turns an error of the parser library into one of ours, without its picture of the text.
func fromParser(err error, text string) *Error {
	var fe *file.Error
	if errors.As(err, &fe) {
		from, to := fe.From, min(fe.To, len([]rune(text)))
		return fail(min(from, to-1), to, inOurWords(fe.Message), "")
	}
	return fail(0, len([]rune(text)), err.Error(), "")
}

// unexpected is how the parser names a token it can't use: with its kind and its quoted text.
var unexpected = regexp.MustCompile(`^unexpected token \w+\((".*")\)$`)

func inOurWords(msg string) string {
	switch {
	case msg == "unexpected token EOF" || msg == "unexpected end of expression":
		return "the expression ends too early"
	case strings.HasPrefix(msg, "bad number syntax"):
		return `letters follow a number; write a quantity in quotation marks, "5 mm"`
	case msg == "literal not terminated":
		return "a quotation mark is not closed"
	}
	return unexpected.ReplaceAllString(msg, "unexpected $1")
}

// reader lowers the parser's tree to ours and refuses what is not in the language.
type reader struct {
	sys   *units.System
	expr  *Expr
	index map[string]int
}

func (r *reader) node(n ast.Node) (*Node, *Error) {
	from, to := n.Location().From, n.Location().To
	switch n := n.(type) {
	case *ast.IntegerNode:
		return &Node{Kind: Number, Value: float64(n.Value), Unit: units.One, From: from, To: to}, nil
	case *ast.FloatNode:
		return &Node{Kind: Number, Value: n.Value, Unit: units.One, From: from, To: to}, nil
	case *ast.StringNode:
		return r.quantity(n.Value, from, to)
	case *ast.IdentifierNode, *ast.MemberNode:
		return r.name(n, false)
	case *ast.UnaryNode:
		return r.unary(n)
	case *ast.BinaryNode:
		return r.binary(n)
	case *ast.ConditionalNode:
		return r.operands(&Node{Kind: Cond}, n.Cond, n.Exp1, n.Exp2)
	case *ast.CallNode:
		id, ok := n.Callee.(*ast.IdentifierNode)
		if !ok {
			return nil, fail(from, to, "only functions can be called", "")
		}
		return r.call(id.Value, n.Arguments, from, to)
	case *ast.BuiltinNode:
		return r.call(n.Name, n.Arguments, from, to)
	}
	return nil, fail(from, to, fmt.Sprintf("%s is not part of the language", n), "")
}

func (r *reader) quantity(text string, from, to int) (*Node, *Error) {
	q, err := r.sys.ParseQuantity(text)
	if errors.Is(err, units.ErrNotQuantity) {
		return nil, fail(from, to, fmt.Sprintf("the text %q is no quantity", text), `only quantities such as "5 mm" may stand in quotation marks`)
	}
	if err != nil {
		return nil, fail(from, to, err.Error(), "")
	}
	if q.Bare {
		q.Unit = units.Unit{Text: "1", Factor: 1}
	}
	return &Node{Kind: Number, Value: q.Coherent(), Unit: q.Unit, Quoted: true, From: from, To: to}, nil
}

// path joins the dotted name a member node stands for.
func (r *reader) path(n ast.Node) (string, int, int, bool) {
	switch n := n.(type) {
	case *ast.IdentifierNode:
		return n.Value, n.Location().From, n.Location().To, true
	case *ast.MemberNode:
		p, ok := n.Property.(*ast.StringNode)
		if !ok || n.Optional || n.Method {
			return "", 0, 0, false
		}
		base, from, _, ok := r.path(n.Node)
		return base + "." + p.Value, from, n.Location().To, ok
	}
	return "", 0, 0, false
}

func (r *reader) name(n ast.Node, many bool) (*Node, *Error) {
	path, from, to, ok := r.path(n)
	if !ok {
		return nil, fail(n.Location().From, n.Location().To, fmt.Sprintf("%s is not part of the language", n), "names are words joined by dots")
	}
	kind := Name
	if many {
		kind = Sum
	}
	key := fmt.Sprint(many, path)
	i, seen := r.index[key]
	if !seen {
		i = len(r.expr.Names)
		r.index[key] = i
		r.expr.Names = append(r.expr.Names, NameUse{Path: path, Many: many, From: from, To: to})
	}
	return &Node{Kind: kind, Name: path, Ref: i, From: from, To: to}, nil
}

func (r *reader) unary(n *ast.UnaryNode) (*Node, *Error) {
	kind := Negate
	switch n.Operator {
	case "not", "!":
		kind = Not
	case "+":
		return r.node(n.Node)
	}
	out, err := r.operands(&Node{Kind: kind}, n.Node)
	if err == nil {
		out.From = n.Location().From
	}
	return out, err
}

var binaryOps = map[string]Op{
	"+": Add, "-": Sub, "*": Mul, "/": Div, "^": Pow, "<": Less, "<=": LessEq, ">": Greater, ">=": GreaterEq,
	"==": Equal, "!=": NotEqual, "and": And, "&&": And, "or": Or, "||": Or,
}

func (r *reader) binary(n *ast.BinaryNode) (*Node, *Error) {
	op, ok := binaryOps[n.Operator]
	if !ok {
		return nil, fail(n.Location().From, n.Location().To, fmt.Sprintf("%q is not part of the language", n.Operator), "")
	}
	return r.operands(&Node{Kind: Binary, Op: op}, n.Left, n.Right)
}

// operands reads the children of a node and spans the node over them.
func (r *reader) operands(out *Node, children ...ast.Node) (*Node, *Error) {
	for i, c := range children {
		k, err := r.node(c)
		if err != nil {
			return nil, err
		}
		out.Args = append(out.Args, k)
		if i == 0 || k.From < out.From {
			out.From = k.From
		}
		out.To = max(out.To, k.To)
	}
	return out, nil
}

func (r *reader) call(name string, args []ast.Node, from, to int) (*Node, *Error) {
	if name == "sum" {
		if len(args) != 1 {
			return nil, fail(from, to, "sum takes one name", "write sum(joined.mass)")
		}
		n, err := r.name(args[0], true)
		if err == nil {
			n.From = from
		}
		return n, err
	}
	fn := FunctionByName(name)
	if fn == nil {
		return nil, fail(from, to, fmt.Sprintf("unknown function %q", name), suggestFunction(name))
	}
	out := &Node{Kind: Call, Fn: fn}
	if fn.Table {
		if len(args) == 0 {
			return nil, fail(from, to, fn.Usage(), "")
		}
		path, _, _, ok := r.path(args[0])
		if !ok || strings.Contains(path, ".") {
			return nil, fail(from, to, "the first argument of interpolate is the name of a curve of the sheet Tables", "")
		}
		out.Name, args = path, args[1:]
	}
	if n := len(args); n < fn.Min || n > fn.Max {
		return nil, fail(from, to, fn.Usage(), "")
	}
	out, err := r.operands(out, args...)
	if err == nil {
		out.From = min(from, out.From)
	}
	return out, err
}
