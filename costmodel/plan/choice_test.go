package plan_test

import (
	"strings"
	"testing"

	"piececost/costmodel/plan"
)

// TestChoices: a condition on a choice is 1 for its option and 0 for the others.
func TestChoices(t *testing.T) {
	g := parseGraph(t, `
		scope s rule x y
		row A
		A.rule 1
		A.x = rule.o1 ? 5 : 7
		A.y = rule.o0 or rule.o2 ? 5 : 7`)
	p, errs := plan.Compile(g, g.cells(), plan.Options{})
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	for label, want := range map[string]float64{"A.x": 5, "A.y": 7} {
		if v, constant := p.Constant(g.cell(label)); v != want || !constant {
			t.Errorf("%s is %v, want %v", label, v, want)
		}
	}
}

// TestVaryingChoice: a choice that varies from lane to lane is a fault of whoever made the graph, never the condition 0.
func TestVaryingChoice(t *testing.T) {
	for name, definition := range map[string]string{"an input": "A.rule varies 0", "a computed one": "A.rule = y > 3 ? 1 : 2"} {
		t.Run(name, func(t *testing.T) {
			g := parseGraph(t, `
				scope s rule x y
				row A
				A.y varies 0
				`+definition+`
				A.x = rule.o1 ? 5 : 7`)
			defer func() {
				if p := recover(); p == nil || !strings.Contains(p.(string), "rule.o1") {
					t.Errorf("the panic is %v", p)
				}
			}()
			plan.Compile(g, g.cells(), plan.Options{Inputs: 1})
		})
	}
}
