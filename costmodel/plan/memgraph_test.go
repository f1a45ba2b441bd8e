package plan_test

import (
	"fmt"
	"strings"
	"testing"

	"piececost/costmodel/formula"
	"piececost/costmodel/plan"
	"piececost/costmodel/units"
)

// A memGraph is a plan.Graph in memory, its equations given as text. All quantities are plain numbers; a name that begins
// with is_ or has_ is a condition, one that begins with rule is a choice of which rule.o0, rule.o1, ... ask.
type memGraph struct {
	scopes    []*memScope
	relations []memRelation
	rows      []*memRow
	first     []plan.Cell // by row, and the number of cells at the end
	equations map[string]*plan.Equation
}

type memScope struct {
	name       string
	quantities []string
}

type memRelation struct {
	name     string
	from, to *memScope
	many     bool
}

type memRow struct {
	name  string
	scope *memScope
	one   map[plan.Relation]plan.Entity
	many  map[plan.Relation][]plan.Entity
	defs  []memDef // by quantity
}

// A memDef is a definition, or the error that Define returns.
type memDef struct {
	plan.Definition
	err error
}

// A cellError is what the graph's errors are: what happened, and where.
type cellError struct {
	what  string // absent, cycle, not finite
	cells string // labels of the cells, in order
}

func (e cellError) Error() string { return e.what + ": " + e.cells }

// press is the one curve: slopes of 2, 0.5 and -1.
var press = &formula.Curve{X: []float64{0, 1, 3, 5}, Y: []float64{1, 3, 4, 2}}

func (g *memGraph) Entities() int                     { return len(g.rows) }
func (g *memGraph) FirstCell(e plan.Entity) plan.Cell { return g.first[e] }
func (g *memGraph) Curve(string) *formula.Curve       { return press }
func (g *memGraph) Cycle(cells []plan.Cell) error     { return cellError{"cycle", g.labels(cells)} }
func (g *memGraph) NotFinite(c plan.Cell, _ float64) error {
	return cellError{"not finite", g.labels([]plan.Cell{c})}
}

func (g *memGraph) Absent(e plan.Entity, quantity int32, name string) error {
	return cellError{"absent", g.labels([]plan.Cell{g.first[e] + quantity}) + " needs " + name}
}

func (g *memGraph) Follow(e plan.Entity, r plan.Relation) plan.Entity {
	if to, ok := g.rows[e].one[r]; ok {
		return to
	}
	return -1
}

func (g *memGraph) Members(e plan.Entity, r plan.Relation) []plan.Entity { return g.rows[e].many[r] }

func (g *memGraph) Define(e plan.Entity, quantity int32) (plan.Definition, error) {
	d := g.rows[e].defs[quantity]
	return d.Definition, d.err
}

func (g *memGraph) labels(cells []plan.Cell) string {
	out := make([]string, len(cells))
	for i, c := range cells {
		e, q := plan.Locate(g, c)
		out[i] = g.rows[e].name + "." + g.rows[e].scope.quantities[q]
	}
	return strings.Join(out, ", ")
}

// addRow appends a row; its quantities have no definition yet.
func (g *memGraph) addRow(name string, scope *memScope) *memRow {
	r := &memRow{name: name, scope: scope, one: map[plan.Relation]plan.Entity{}, many: map[plan.Relation][]plan.Entity{}}
	for _, q := range scope.quantities {
		r.defs = append(r.defs, memDef{err: fmt.Errorf("%s.%s is not given", name, q)})
	}
	if len(g.rows) == 0 {
		g.first = []plan.Cell{0}
	}
	g.rows = append(g.rows, r)
	g.first = append(g.first, g.first[len(g.first)-1]+plan.Cell(len(scope.quantities)))
	return r
}

func (s *memScope) index(quantity string) int32 {
	for i, q := range s.quantities {
		if q == quantity {
			return int32(i)
		}
	}
	return -1
}

// resolve finds what a path means for the rows of a scope.
func (g *memGraph) resolve(s *memScope, path string, many bool) (plan.Ref, error) {
	if path == "pi" {
		return plan.Ref{Fixed: true, Constant: 3.141592653589793}, nil
	}
	if path == "base" {
		return plan.Ref{Base: true}, nil
	}
	ref := plan.Ref{Many: many}
	parts := strings.Split(path, ".")
	for len(parts) > 1 {
		r := g.relation(s, parts[0])
		if r < 0 {
			break
		}
		ref.Hops = append(ref.Hops, r)
		s, parts = g.relations[r].to, parts[1:]
	}
	if ref.Quantity = s.index(parts[0]); ref.Quantity < 0 || len(parts) > 2 {
		return ref, fmt.Errorf("unknown name %s", path)
	}
	if len(parts) == 2 {
		if _, err := fmt.Sscanf(parts[1], "o%d", &ref.Option); err != nil {
			return ref, fmt.Errorf("unknown choice %s", path)
		}
		ref.Option++
	}
	return ref, nil
}

func (g *memGraph) relation(from *memScope, name string) plan.Relation {
	for i, r := range g.relations {
		if r.name == name && r.from == from {
			return plan.Relation(i)
		}
	}
	return -1
}

// memEnv tells the checker what is a condition.
type memEnv struct {
	graph *memGraph
	scope *memScope
	base  string // the quantity whose unchanged value base is
}

func (e memEnv) TypeOf(path string, many bool) (formula.Type, error) {
	ref, err := e.graph.resolve(e.scope, path, many)
	last := path[strings.LastIndex(path, ".")+1:]
	if ref.Base {
		last = e.base
	}
	return formula.Type{Flag: ref.Option > 0 || isCondition(last), Unit: units.One}, err
}

func (memEnv) CurveUnits(string) (x, y units.Unit, err error) { return units.One, units.One, nil }

func isCondition(quantity string) bool {
	return strings.HasPrefix(quantity, "is_") || strings.HasPrefix(quantity, "has_")
}

var unitless, _ = units.NewSystem("EUR", nil)

// equation parses a text for a quantity of a scope; equal ones are made once, as the rows of a library share them.
func (g *memGraph) equation(t testing.TB, s *memScope, quantity, text string) *plan.Equation {
	t.Helper()
	key := s.name + "." + quantity + "=" + text
	if eq, ok := g.equations[key]; ok {
		return eq
	}
	expr, err := formula.Parse(text, unitless)
	if err == nil {
		rules := formula.Rules{Want: formula.Type{Flag: isCondition(quantity), Unit: units.One}}
		err = formula.Check(expr, memEnv{g, s, quantity}, rules)
	}
	if err != nil {
		t.Fatalf("%s.%s = %s: %v", s.name, quantity, text, err)
	}
	eq := &plan.Equation{Expr: expr}
	for _, n := range expr.Names {
		ref, _ := g.resolve(s, n.Path, n.Many)
		eq.Refs = append(eq.Refs, ref)
	}
	if g.equations == nil {
		g.equations = map[string]*plan.Equation{}
	}
	g.equations[key] = eq
	return eq
}

// cells lists all cells.
func (g *memGraph) cells() []plan.Cell {
	out := make([]plan.Cell, g.first[len(g.rows)])
	for i := range out {
		out[i] = plan.Cell(i)
	}
	return out
}
