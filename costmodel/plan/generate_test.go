package plan_test

import (
	"fmt"
	"math/rand"
	"strconv"
	"strings"
	"testing"

	"piececost/costmodel/plan"
)

// A source makes choices: from a seed, or from the bytes of a fuzzer (0 once they are used up).
type source struct {
	random *rand.Rand
	bytes  []byte
}

func (s *source) below(n int) int {
	if s.random != nil {
		return s.random.Intn(n)
	}
	if len(s.bytes) == 0 {
		return 0
	}
	b := s.bytes[0]
	s.bytes = s.bytes[1:]
	return int(b) % n
}

// often is true in so many of ten cases.
func (s *source) often(tenths int) bool { return s.below(10) < tenths }

func (s *source) pick(list []string) string { return list[s.below(len(list))] }

// inputColumns is the number of columns that vary in a generated graph.
const inputColumns = 3

// A generator makes a random graph without cycles: relations lead to earlier rows, equations name earlier quantities of
// their own row and any of earlier rows.
type generator struct {
	source
	t     testing.TB
	graph *memGraph
	scope *memScope // of the equation under way,
	limit int       // which may name the quantities of its row before this one
	base  bool      // and base
}

func generate(t testing.TB, s source) *memGraph {
	g := &generator{source: s, t: t, graph: &memGraph{}}
	g.structure()
	g.rows()
	for _, r := range g.graph.rows {
		for q := range r.defs {
			g.define(r, q)
		}
	}
	return g.graph
}

// structure makes two or three scopes and the relations between them.
func (g *generator) structure() {
	for i := range 2 + g.below(2) {
		g.graph.scopes = append(g.graph.scopes, &memScope{name: fmt.Sprintf("s%d", i)})
	}
	for i := range 2 + g.below(5) {
		from, to := g.graph.scopes[g.below(len(g.graph.scopes))], g.graph.scopes[g.below(len(g.graph.scopes))]
		r := memRelation{name: fmt.Sprintf("r%d", i), from: from, to: to, many: g.often(5)}
		g.graph.relations = append(g.graph.relations, r)
		if !r.many {
			from.quantities = append(from.quantities, "has_"+r.name)
		}
	}
	for _, s := range g.graph.scopes {
		s.quantities = append(s.quantities, "rule")
		for i := range 2 + g.below(5) {
			s.quantities = append(s.quantities, g.pick([]string{"q", "q", "q", "q", "is_"})+strconv.Itoa(i))
		}
	}
}

// rows makes rows and, now and then, so many of one scope that sums over them are long.
func (g *generator) rows() {
	count := 2 + g.below(6)
	if g.below(40) == 1 {
		count = 60
	}
	for i := range count {
		r := g.graph.addRow(fmt.Sprintf("e%d", i), g.graph.scopes[g.below(len(g.graph.scopes))])
		for n, rel := range g.graph.relations {
			if rel.from != r.scope {
				continue
			}
			for e := range i {
				if g.graph.rows[e].scope != rel.to {
					continue
				}
				if rel.many && g.often(7) {
					r.many[plan.Relation(n)] = append(r.many[plan.Relation(n)], plan.Entity(e))
				}
				if _, set := r.one[plan.Relation(n)]; !rel.many && (!set || g.often(3)) {
					r.one[plan.Relation(n)] = plan.Entity(e)
				}
			}
		}
	}
}

// define gives a cell its definition: what the scope says for all its rows, or one of the row's own.
func (g *generator) define(r *memRow, q int) {
	g.scope, g.limit = r.scope, q
	name := r.scope.quantities[q]
	switch {
	case strings.HasPrefix(name, "has_"):
		_, has := r.one[g.graph.relation(r.scope, name[len("has_"):])]
		r.defs[q] = memDef{Definition: plan.Definition{Value: truth(has)}}
		return
	case name == "rule":
		r.defs[q] = memDef{Definition: plan.Definition{Value: float64(g.below(3))}}
		return
	}
	if g.often(6) {
		for _, other := range g.graph.rows {
			if other.scope == r.scope && other != r && other.defs[q].Eq != nil && other.defs[q].Base == nil {
				r.defs[q] = other.defs[q] // the library's equation, shared by the rows of the scope
				return
			}
		}
	}
	r.defs[q] = memDef{Definition: g.definition(name)}
	if d := &r.defs[q]; d.Kind == plan.Computed && !isCondition(name) && g.often(1) {
		base := d.Definition
		g.base = true
		*d = memDef{Definition: g.computed(name)}
		g.base = false
		d.Base = &base
	}
	if d := &r.defs[q]; !isCondition(name) && g.often(1) {
		base := d.Definition
		*d = memDef{Definition: plan.Definition{Kind: plan.Scaled + plan.DefKind(g.below(2)), Input: int32(g.below(inputColumns)), Base: &base}}
	}
}

func (g *generator) definition(name string) plan.Definition {
	switch kind := g.below(10); {
	case kind < 2 && !isCondition(name):
		return plan.Definition{Kind: plan.Varies, Input: int32(g.below(inputColumns))}
	case kind < 3:
		v, _ := strconv.ParseFloat(g.constant(), 64)
		if isCondition(name) {
			v = float64(g.below(2))
		}
		return plan.Definition{Value: v}
	}
	return g.computed(name)
}

func (g *generator) computed(name string) plan.Definition {
	text := ""
	if isCondition(name) {
		text = g.condition(3)
	} else {
		text = g.number(4)
	}
	return plan.Definition{Kind: plan.Computed, Eq: g.graph.equation(g.t, g.scope, name, text)}
}
