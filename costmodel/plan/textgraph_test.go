package plan_test

import (
	"errors"
	"strconv"
	"strings"
	"testing"

	"piececost/costmodel/plan"
)

// parseGraph reads a graph from text, one statement a line:
//
//	scope step x y z      a scope and its quantities; the rows that follow belong to it
//	row A B               rows
//	one next step         a relation of the scope's rows to one row of a scope
//	many parts step       and to many
//	A.next -> B           where the relation leads; nowhere without
//	A.parts => B C
//	A.x varies 0          input column 0
//	A.y = x * 2 + next.z  an equation; "= ... | 5", "= ... | varies 0" and "= ... | = ..." give what `base` means in it
//	A.z 5                 a given value
//	A.z failed            Define returns plan.ErrReported
func parseGraph(t testing.TB, text string) *memGraph {
	t.Helper()
	g := &memGraph{}
	var later []string // definitions wait until all relations are known
	var scope *memScope
	for _, line := range strings.Split(text, "\n") {
		words := strings.Fields(line)
		switch {
		case len(words) == 0:
		case words[0] == "scope":
			scope = &memScope{name: words[1], quantities: words[2:]}
			g.scopes = append(g.scopes, scope)
		case words[0] == "row":
			for _, name := range words[1:] {
				g.addRow(name, scope)
			}
		case words[0] == "one" || words[0] == "many":
			g.relations = append(g.relations, memRelation{name: words[1], from: scope, to: g.scopeNamed(words[2]), many: words[0] == "many"})
		default:
			later = append(later, strings.TrimSpace(line))
		}
	}
	for _, line := range later {
		g.statement(t, line)
	}
	return g
}

func (g *memGraph) scopeNamed(name string) *memScope {
	for _, s := range g.scopes {
		if s.name == name {
			return s
		}
	}
	return nil
}

func (g *memGraph) entity(name string) plan.Entity {
	for i, r := range g.rows {
		if r.name == name {
			return plan.Entity(i)
		}
	}
	return -1
}

func (g *memGraph) statement(t testing.TB, line string) {
	t.Helper()
	head, rest, _ := strings.Cut(line, " ")
	name, what, _ := strings.Cut(head, ".")
	row := g.rows[g.entity(name)]
	sign, targets, _ := strings.Cut(rest, " ")
	switch sign {
	case "->":
		row.one[g.relation(row.scope, what)] = g.entity(targets)
	case "=>":
		r := g.relation(row.scope, what)
		for _, to := range strings.Fields(targets) {
			row.many[r] = append(row.many[r], g.entity(to))
		}
	default:
		row.defs[row.scope.index(what)] = g.definition(t, row.scope, what, rest)
	}
}

func (g *memGraph) definition(t testing.TB, s *memScope, quantity, text string) memDef {
	t.Helper()
	text = strings.TrimSpace(text)
	if text == "failed" {
		return memDef{err: plan.ErrReported}
	}
	if input, ok := strings.CutPrefix(text, "varies "); ok {
		n, err := strconv.Atoi(input)
		return memDef{Definition: plan.Definition{Kind: plan.Varies, Input: int32(n)}, err: err}
	}
	for word, kind := range map[string]plan.DefKind{"scaled ": plan.Scaled, "shifted ": plan.Shifted} {
		if rest, ok := strings.CutPrefix(text, word); ok {
			input, base, _ := strings.Cut(rest, " | ")
			n, err := strconv.Atoi(input)
			b := g.definition(t, s, quantity, base)
			return memDef{Definition: plan.Definition{Kind: kind, Input: int32(n), Base: &b.Definition}, err: errors.Join(err, b.err)}
		}
	}
	equation, ok := strings.CutPrefix(text, "= ")
	if !ok {
		v, err := strconv.ParseFloat(text, 64)
		if err != nil {
			t.Fatalf("%s: %v", quantity, err)
		}
		return memDef{Definition: plan.Definition{Value: v}}
	}
	equation, base, changed := strings.Cut(equation, "|")
	d := memDef{Definition: plan.Definition{Kind: plan.Computed, Eq: g.equation(t, s, quantity, strings.TrimSpace(equation))}}
	if changed {
		b := g.definition(t, s, quantity, base)
		d.Base, d.err = &b.Definition, b.err
	}
	return d
}

// cell finds a cell by its label, "A.x".
func (g *memGraph) cell(label string) plan.Cell {
	name, quantity, _ := strings.Cut(label, ".")
	e := g.entity(name)
	return g.first[e] + g.rows[e].scope.index(quantity)
}

// cellsOf finds several, separated by blanks.
func (g *memGraph) cellsOf(labels string) []plan.Cell {
	var out []plan.Cell
	for _, l := range strings.Fields(labels) {
		out = append(out, g.cell(l))
	}
	return out
}
