package costmodel

import (
	"strings"

	"piececost/costmodel/plan"
	"piececost/costmodel/table"
)

// AllRows as the Row of a Fixed means every row of its scope.
const AllRows plan.Entity = -1

// A Fixed quantity has a value whatever cells, changes and equations say, or one moved from what they say: a count of machines that stays as it was
// bought, a equipment allocation for every step. What decides the structure may be fixed too, since it is known before compiling.
type Fixed struct {
	Scope, Quantity string
	Row             plan.Entity // as Line.Entity gives it for the same scenario, or AllRows
	Value           float64     // coherent; of a choice, the number of its option from 0
	by              Move        // what Value does to what cells, changes and equations say; ByValue takes their place
}

// With compiles the plan's scenario once more, as the plan was, with further values fixed; of two that fix the same cell the
// later holds.
func (p *Plan) With(fix ...Fixed) (*Plan, table.Diagnostics) {
	o := p.options
	o.Fix = append(append([]Fixed(nil), o.Fix...), fix...)
	return p.Model.Compile(p.Scenario, o)
}

// ContinuousBatches tells whether the plan was compiled with the number of batches as a fraction.
func (p *Plan) ContinuousBatches() bool { return p.options.ContinuousBatches }

// Fix makes a Fixed of a quantity of the entry's row.
func (e Entry) Fix(quantity string, value float64) Fixed {
	return Fixed{Scope: e.detail.Plan.graph.rows[e.entity].scope.Name, Quantity: quantity, Row: e.entity, Value: value}
}

// Options lists what a choice of a scope can be, in the order of their numbers; nil where the quantity is no choice.
func (m *Model) Options(scope, quantity string) []string {
	sc := m.Schema.byName[scope]
	return sc.Quantities[sc.MustQuantity(quantity)].Options
}

// FixChoice makes the choices of that name the same in all rows of a scope; ok is false where there is no such option.
func (m *Model) FixChoice(scope, quantity, option string) (f Fixed, ok bool) {
	for i, o := range m.Options(scope, quantity) {
		if strings.EqualFold(o, option) {
			return Fixed{Scope: scope, Quantity: quantity, Row: AllRows, Value: float64(i)}, true
		}
	}
	return Fixed{}, false
}

// fix notes the fixed values by cell. A name that no scope has is a fault of the program.
func (g *graph) fix(list []Fixed) {
	g.fixed = make(map[plan.Cell]Fixed, len(list))
	for _, f := range list {
		n := g.model.Schema.byName[f.Scope].MustQuantity(f.Quantity)
		if f.Row != AllRows { // an input of many rows is fixed row by row
			g.fixRow(f, f.Row, n)
			continue
		}
		for e := range g.rows {
			g.fixRow(f, plan.Entity(e), n)
		}
	}
}

// fixRow notes a fixed value for a row, where that is of the value's scope.
func (g *graph) fixRow(f Fixed, e plan.Entity, quantity int32) {
	if int(e) < len(g.rows) && g.rows[e].scope.Name == f.Scope {
		g.fixed[g.rows[e].first+quantity] = f
	}
}
