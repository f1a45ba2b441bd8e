package scenarios

import (
	"slices"
	"strconv"
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/formula"
	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// What is done to an equation to see whether anything notices. Each mutant changes one node of one equation.

// A mutant is an equation, a default or a check of templates/ with one thing changed.
type mutant struct {
	file, item string // "equations/4-machine.yaml", "load"; a check is named by what it says
	kind       string
	text       string // the changed equation
	scope      string
	condition  bool     // it yields a condition
	options    []string // of a choice
	check      bool
	otherwise  int // the how manieth that takes the place of the first; 0 is the first itself
}

// mutantKinds say what is changed, in the order in which they are counted.
var mutantKinds = []struct{ name, what string }{
	{"number", "a number times 1.01, a 0 made 1 of its unit"},
	{"scaled", "a whole equation times 1.01"},
	{"flag", "yes made no and no yes; a condition's name negated"},
	{"choice", "an option replaced by the next; a choice that is taken over made each of its options"},
	{"turned", "a comparison turned round, < made >="},
	{"boundary", "a comparison with or without equality, < made <="},
	{"operator", "+ made - and back, * made / and back, and made or and back"},
	{"arms", "the two cases of a condition exchanged"},
	{"drop", "a term, a factor, a sign, a case of a condition or a function left out"},
	{"function", "max made min and back, ceil made floor"},
	{"name", "a name replaced by the next of its scope that has the same unit"},
	{"relation", "rows replaced by others of their kind, pooled operations by all operations"},
}

// A mutator writes the mutants of a library.
type mutator struct {
	lib     *costmodel.Library
	sys     *units.System
	options map[string][]string // of a choice, by name
	named   map[string][]costmodel.Item
}

func newMutator(lib *costmodel.Library, sys *units.System) *mutator {
	m := &mutator{lib: lib, sys: sys, options: map[string][]string{}, named: map[string][]costmodel.Item{}}
	for _, t := range lib.Scopes {
		m.named[t.Scope] = t.Items
		for _, it := range t.Items {
			if len(it.Options) > 0 {
				m.options[it.Name] = it.Options
			}
		}
	}
	return m
}

// equations lists every equation, default and check of every template as it stands.
func (m *mutator) equations() (out []mutant) {
	for _, list := range [][]*costmodel.Template{m.lib.Scopes, m.lib.Forms, m.lib.Processes, m.lib.Tools, m.lib.Sizes} {
		for _, t := range list {
			for _, it := range t.Items {
				if it.DefinedIn() != t.File { // changed where it stands
					continue
				}
				for n, text := range append([]string{it.Is}, it.Otherwise...) {
					if text != "" {
						out = append(out, mutant{file: t.File, scope: t.Scope, item: it.Name, text: text, condition: it.Unit == "flag",
							options: it.Options, otherwise: n})
					}
				}
			}
			for _, c := range t.Checks {
				if c.DefinedIn() != t.File {
					continue
				}
				out = append(out, mutant{file: t.File, scope: t.Scope, item: c.Say, text: c.Holds, condition: true, check: true})
			}
		}
	}
	return out
}

// all lists every mutant of every template that has longhand, each changed text once.
func (m *mutator) all() (out []mutant) {
	for _, e := range m.equations() {
		if len(e.options) == 0 {
			out = append(out, m.ofEquation(e)...)
		}
		for _, o := range e.options {
			if !strings.EqualFold(o, e.text) {
				u := e
				u.kind, u.text = "choice", o
				out = append(out, u)
			}
		}
	}
	return out
}

func (m *mutator) ofEquation(base mutant) (out []mutant) {
	text := base.text
	expr, err := formula.Parse(text, m.sys)
	if err != nil {
		panic(base.file + ", " + base.item + ": " + err.Error())
	}
	seen := map[string]bool{}
	add := func(at *formula.Node, kind string, changed ...*formula.Node) {
		for _, n := range changed {
			base.kind, base.text = kind, writeEquation(expr.Root, at, n)
			if !seen[base.text] {
				seen[base.text] = true
				out = append(out, base)
			}
		}
	}
	if !base.condition && expr.Root.Kind != formula.Number {
		percent := &formula.Node{Kind: formula.Number, Value: 1.01}
		add(expr.Root, "scaled", &formula.Node{Kind: formula.Binary, Op: formula.Mul, Args: []*formula.Node{expr.Root, percent}})
	}
	m.visit(expr.Root, base.scope, base.condition, add)
	return out
}

// visit offers the changes of a node and of all below; condition tells whether it must be a condition.
func (m *mutator) visit(n *formula.Node, scope string, condition bool, add func(*formula.Node, string, ...*formula.Node)) {
	with := func(change func(c *formula.Node)) *formula.Node {
		c := *n
		c.Args = slices.Clone(n.Args)
		change(&c)
		return &c
	}
	op := func(o formula.Op) *formula.Node { return with(func(c *formula.Node) { c.Op = o }) }
	swapped := func(i, j int) *formula.Node {
		return with(func(c *formula.Node) { c.Args[i], c.Args[j] = c.Args[j], c.Args[i] })
	}
	switch n.Kind {
	case formula.Number:
		add(n, "number", with(func(c *formula.Node) {
			if c.Value *= 1.01; c.Value == 0 {
				c.Value = n.Unit.Factor
			}
		}))
	case formula.Name, formula.Sum:
		m.visitName(n, scope, condition, add)
	case formula.Negate, formula.Not:
		add(n, "drop", n.Args[0])
	case formula.Cond:
		add(n, "arms", swapped(1, 2))
		add(n, "drop", n.Args[1], n.Args[2])
	case formula.Binary:
		switch {
		case n.Op.Compares():
			add(n, "turned", op(turned[n.Op]))
			if b, ok := boundary[n.Op]; ok {
				add(n, "boundary", op(b))
			}
		default:
			add(n, "operator", op(opposite[n.Op]))
			add(n, "drop", n.Args...)
		}
	case formula.Call:
		add(n, "drop", n.Args...)
		if other := map[string]string{"max": "min", "min": "max", "ceil": "floor"}[n.Fn.Name]; other != "" {
			add(n, "function", with(func(c *formula.Node) { c.Fn = formula.FunctionByName(other) }))
		}
	}
	for i, a := range n.Args {
		m.visit(a, scope, n.Kind == formula.Not || n.Kind == formula.Cond && (i == 0 || condition) || n.Kind == formula.Binary && n.Op.Joins(), add)
	}
}

var (
	turned = map[formula.Op]formula.Op{formula.Less: formula.GreaterEq, formula.LessEq: formula.Greater, formula.Greater: formula.LessEq,
		formula.GreaterEq: formula.Less, formula.Equal: formula.NotEqual, formula.NotEqual: formula.Equal}
	boundary = map[formula.Op]formula.Op{formula.Less: formula.LessEq, formula.LessEq: formula.Less, formula.Greater: formula.GreaterEq,
		formula.GreaterEq: formula.Greater}
	opposite = map[formula.Op]formula.Op{formula.Add: formula.Sub, formula.Sub: formula.Add, formula.Mul: formula.Div, formula.Div: formula.Mul,
		formula.Pow: formula.Mul, formula.And: formula.Or, formula.Or: formula.And}
	// what leads to rows of a scope
	leadsTo = map[string]string{"case": "case", "scenario": "scenario", "plant": "plant", "material": "material", "machine": "machine", "machines": "machine",
		"part": "part", "parts": "part", "product": "part", "first_child": "part", "parent": "part", "child": "part",
		"operations": "operation", "pooled": "operation", "first": "operation", "last": "operation", "next": "operation",
		"previous": "operation", "operation": "operation",
		"children": "link", "uses": "link", "joining": "link", "joined": "link", "request": "request", "quote": "quote", "lines": "quote line"}
	otherRows = map[string]string{"pooled": "operations", "operations": "pooled", "joining": "joined", "joined": "joining", "children": "uses",
		"uses":  "children",
		"first": "last", "last": "first", "previous": "next", "parent": "child", "child": "parent"}
)

func (m *mutator) visitName(n *formula.Node, scope string, condition bool, add func(*formula.Node, string, ...*formula.Node)) {
	renamed := func(name string) *formula.Node { return &formula.Node{Kind: n.Kind, Name: name} }
	if other := map[string]string{"yes": "no", "no": "yes"}[n.Name]; other != "" {
		add(n, "flag", renamed(other))
		return
	}
	if condition {
		add(n, "flag", &formula.Node{Kind: formula.Not, Args: []*formula.Node{n}})
	}
	way := strings.Split(n.Name, ".")
	last := way[len(way)-1]
	for i, step := range way[:len(way)-1] {
		if options := m.options[step]; options != nil {
			at := slices.IndexFunc(options, func(o string) bool { return wordOf(o) == last })
			way[i+1] = wordOf(options[(at+1)%len(options)])
			add(n, "choice", renamed(strings.Join(way, ".")))
			return
		}
		if other := otherRows[step]; other != "" {
			changed := slices.Clone(way)
			changed[i] = other
			add(n, "relation", renamed(strings.Join(changed, ".")))
		}
		scope = leadsTo[step]
	}
	if other := m.sameUnit(scope, last); other != "" && !condition {
		way[len(way)-1] = other
		add(n, "name", renamed(strings.Join(way, ".")))
	}
}

// wordOf is what an equation calls an option; SG&A is sga.
func wordOf(option string) string { return strings.ReplaceAll(table.Normalise(option), "&", "") }

// sameUnit finds the next quantity of a scope that has the unit of another.
func (m *mutator) sameUnit(scope, name string) string {
	items := m.named[scope]
	at := slices.IndexFunc(items, func(it costmodel.Item) bool { return it.Name == name })
	for i := range items {
		if at < 0 {
			break
		}
		if it := items[(at+1+i)%len(items)]; it.Name != name && len(it.Options) == 0 && it.Unit == items[at].Unit {
			return it.Name
		}
	}
	return ""
}

// writeEquation writes a tree with one node replaced, with the brackets it needs.
func writeEquation(root, at, changed *formula.Node) string {
	text, _ := writeNode(root, at, changed)
	return text
}

func writeNode(n, at, changed *formula.Node) (text string, strength int) {
	if n == at {
		n, at = changed, nil
	}
	sub := func(i, least int) string {
		text, s := writeNode(n.Args[i], at, changed)
		if s < least {
			return "(" + text + ")"
		}
		return text
	}
	switch n.Kind {
	case formula.Number:
		value := n.Value
		if n.Unit.Factor != 0 {
			value /= n.Unit.Factor
		}
		text = strconv.FormatFloat(value, 'g', -1, 64)
		if n.Quoted {
			text = strconv.Quote(text + " " + n.Unit.Text)
		}
		return text, 9
	case formula.Name:
		return n.Name, 9
	case formula.Sum:
		return "sum(" + n.Name + ")", 9
	case formula.Negate:
		return "-" + sub(0, 9), 7
	case formula.Not:
		return "not " + sub(0, 9), 7
	case formula.Cond:
		return sub(0, 2) + " ? " + sub(1, 2) + " : " + sub(2, 2), 1
	case formula.Binary:
		s := map[formula.Op]int{formula.Or: 2, formula.And: 3, formula.Add: 5, formula.Sub: 5, formula.Mul: 6, formula.Div: 6, formula.Pow: 8}[n.Op]
		if s == 0 {
			s = 4
		}
		return sub(0, s) + " " + n.Op.String() + " " + sub(1, s+1), s
	}
	args := make([]string, len(n.Args))
	for i := range args {
		args[i] = sub(i, 1)
	}
	return n.Fn.Name + "(" + strings.Join(args, ", ") + ")", 9
}
