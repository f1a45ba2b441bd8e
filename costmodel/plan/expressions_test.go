package plan_test

import (
	"fmt"
	"strings"
)

func (g *generator) constant() string {
	return g.pick([]string{"1", "2", "3", "0.5", "0", "0.1", "7", "1.25", "100", "0.98", "12", "0.003", "1.1", "4", "0.02", "60000", "9", "2.5"})
}

// number writes an expression that yields a number, at most so deep.
func (g *generator) number(depth int) string {
	if depth == 0 || g.often(2) {
		return g.leaf()
	}
	a := func() string { return g.number(depth - 1) }
	switch g.below(18) {
	case 0, 1:
		return "(" + a() + " + " + a() + ")"
	case 2, 3:
		return "(" + a() + " - " + a() + ")"
	case 4, 5:
		return "(" + a() + " * " + a() + ")"
	case 6, 7:
		return "(" + a() + " / " + a() + ")"
	case 8, 9:
		return "(" + g.condition(depth-1) + " ? " + a() + " : " + a() + ")"
	case 10, 11:
		args := []string{a(), a()}
		if g.often(3) {
			args = append(args, a())
		}
		return g.pick([]string{"min", "max"}) + "(" + strings.Join(args, ", ") + ")"
	case 12, 13:
		return g.pick([]string{"ceil", "ceil", "ceil", "floor", "round"}) + "(" + a() + ")"
	case 14:
		return "max(" + g.constant() + ", ceil(" + a() + "))"
	case 15:
		return "(-" + a() + ")"
	case 16:
		return g.function(a)
	}
	return g.guarded(depth)
}

func (g *generator) function(a func() string) string {
	switch g.below(8) {
	case 0:
		return "abs(" + a() + ")"
	case 1:
		return "sqrt(abs(" + a() + "))"
	case 2:
		return "((" + a() + ")^2)"
	case 3:
		return "exp(min(" + a() + ", 3))"
	case 4:
		return "ln(1 + abs(" + a() + "))"
	case 5:
		return "power(abs(" + a() + "), 0.7)"
	case 6:
		return "((abs(" + a() + ") + 1)^min(2, " + a() + "))"
	}
	return "interpolate(press, " + a() + ")"
}

// guarded names a row only where it is there, as equations of a library do.
func (g *generator) guarded(depth int) string {
	for _, r := range g.graph.relations {
		if r.from == g.scope && !r.many {
			if q := g.quantityOf(r.to, len(r.to.quantities), false); q != "" {
				return fmt.Sprintf("(has_%s ? %s.%s : %s)", r.name, r.name, q, g.number(depth-1))
			}
		}
	}
	return g.leaf()
}

// leaf is a constant or a name.
func (g *generator) leaf() string {
	kind := g.below(10)
	switch {
	case g.base && kind < 4:
		return "base"
	case kind < 3:
		return g.constant()
	case kind < 6:
		if q := g.quantityOf(g.scope, g.limit, false); q != "" {
			return q
		}
	case kind < 9:
		if path, many := g.path(); path != "" {
			if many {
				return "sum(" + path + ")"
			}
			return path
		}
	}
	return g.pick([]string{"pi", g.constant()})
}

// quantityOf picks a quantity of a scope, of those before the limit; empty where there is none.
func (g *generator) quantityOf(s *memScope, limit int, condition bool) string {
	var list []string
	for _, q := range s.quantities[:limit] {
		if q != "rule" && isCondition(q) == condition {
			list = append(list, q)
		}
	}
	if len(list) == 0 {
		return ""
	}
	return g.pick(list)
}

// path follows one or two relations to a number; the last of them may lead to many rows.
func (g *generator) path() (path string, many bool) {
	s := g.scope
	for range 1 + g.below(2) {
		var from []memRelation
		for _, r := range g.graph.relations {
			if r.from == s {
				from = append(from, r)
			}
		}
		if len(from) == 0 {
			break
		}
		r := from[g.below(len(from))]
		path, s = path+r.name+".", r.to
		if r.many {
			many = true
			break
		}
	}
	q := g.quantityOf(s, len(s.quantities), false)
	if path == "" || q == "" {
		return "", false
	}
	return path + q, many
}

// condition writes an expression that yields a condition.
func (g *generator) condition(depth int) string {
	a := func() string { return g.number(depth - 1) }
	if depth == 0 {
		a = g.leaf
	}
	switch kind := g.below(10); {
	case kind < 5 || depth == 0:
		return "(" + a() + " " + g.pick([]string{"<", "<=", ">", ">=", "==", "!="}) + " " + a() + ")"
	case kind < 7:
		return "(" + g.condition(depth-1) + g.pick([]string{" and ", " or "}) + g.condition(depth-1) + ")"
	case kind < 8:
		return "(not " + g.condition(depth-1) + ")"
	case kind < 9:
		if strings.Contains(strings.Join(g.scope.quantities[:g.limit], " "), "rule") {
			return fmt.Sprintf("rule.o%d", g.below(3))
		}
	}
	if q := g.quantityOf(g.scope, g.limit, true); q != "" {
		return q
	}
	return "(" + a() + " > 1)"
}
