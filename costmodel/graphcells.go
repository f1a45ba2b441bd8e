package costmodel

import (
	"fmt"

	"piececost/costmodel/formula"
	"piececost/costmodel/plan"
)

// isPooled reads the equipment allocation of a step: its own, its process's, or its machine's. It decides the structure, so it
// can't be left to the plan.
func (g *graph) isPooled(step, machine plan.Entity) bool {
	for _, e := range []plan.Entity{step, machine} {
		r := &g.rows[e]
		n := r.scope.MustQuantity("equipment_allocation")
		def, _, ok := g.given(r, n)
		if !ok {
			d, err := g.byEquation(r, n)
			if err != nil || len(d.Eq.Refs) > 0 {
				continue // left to the machine, or missing
			}
			def = plan.Definition{Kind: plan.Given, Value: d.Eq.Expr.Root.Value}
		}
		return def.Kind == plan.Given && optionOf(r.scope.Quantities[n], def.Value) == pooledRule
	}
	return false
}

func optionOf(q *Quantity, v float64) string {
	if i := int(v); i >= 0 && i < len(q.Options) {
		return q.Options[i]
	}
	return ""
}

// given returns the definition that a cell or a scenario change gives a quantity; what is fixed comes before both.
func (g *graph) given(r *row, quantity int32) (def plan.Definition, failed, ok bool) {
	f, has := g.fixed[r.first+quantity]
	switch {
	case !has:
		return g.written(r, quantity)
	case f.by == ByValue:
		return plan.Definition{Kind: plan.Given, Value: f.Value}, false, true
	}
	base, failed, ok := g.written(r, quantity)
	if !ok {
		var err error
		if base, err = g.byEquation(r, quantity); err != nil {
			return base, true, true
		}
	}
	kind := plan.Scaled
	if f.by == ByDifference {
		kind = plan.Shifted
	}
	return plan.Definition{Kind: kind, Base: &base, Input: plan.Fixed, Value: f.Value}, failed, true
}

// written returns the definition that a cell or a scenario change gives a quantity.
func (g *graph) written(r *row, quantity int32) (def plan.Definition, failed, ok bool) {
	if c := g.st.scenario.changesOf(r.rec); c != nil {
		if ch, has := c.fields[quantity]; has {
			d := ch.def.Definition
			if d.Kind == plan.Computed && usesBase(d.Eq) {
				base, err := g.unchanged(r, quantity)
				if err != nil {
					return d, true, true // the change of a value that is not there
				}
				d.Base = &base
			}
			return d, ch.def.failed, true
		}
	}
	if f := r.rec.field(quantity); f != nil {
		return f.def.Definition, f.def.failed, true
	}
	if d := r.rec.bandedBy(quantity); d != nil {
		return plan.Definition{Kind: plan.Computed, Eq: d.Equation}, false, true
	}
	return plan.Definition{}, false, false
}

func usesBase(eq *plan.Equation) bool {
	for _, r := range eq.Refs {
		if r.Base {
			return true
		}
	}
	return false
}

// unchanged is the definition without the scenario's change.
func (g *graph) unchanged(r *row, quantity int32) (plan.Definition, error) {
	if f := r.rec.field(quantity); f != nil {
		return f.def.Definition, nil
	}
	if d := r.rec.bandedBy(quantity); d != nil {
		return plan.Definition{Kind: plan.Computed, Eq: d.Equation}, nil
	}
	return g.byEquation(r, quantity)
}

// byEquation is the definition that the library gives.
func (g *graph) byEquation(r *row, quantity int32) (plan.Definition, error) {
	d := g.definition(r, quantity)
	if d != nil && d.Equation != nil && !g.leadsToNothing(r, d) {
		return plan.Definition{Kind: plan.Computed, Eq: d.Equation}, nil
	}
	return plan.Definition{}, g.missing(r, quantity, d)
}

// definition is how the library defines a quantity of a row: by its form or process, or for all rows; otherwise than as a rule where
// that leads to what the other row does not have. nil if in no way.
func (g *graph) definition(r *row, quantity int32) *Definition {
	d := r.scope.definition(r.variant, quantity)
	for d != nil && d.Otherwise != nil && g.lacksAny(r, d.Equation) {
		d = d.Otherwise
	}
	return d
}

// lacksAny tells whether an equation names a quantity of its own or of another row that has neither a cell nor an equation.
func (g *graph) lacksAny(r *row, eq *plan.Equation) bool {
	from, _ := plan.Locate(g, r.first)
	for _, ref := range eq.Refs {
		if ref.Fixed || ref.Base || ref.Many || len(ref.Hops) > 1 {
			continue
		}
		to := from
		if len(ref.Hops) == 1 {
			to = g.Follow(from, ref.Hops[0])
			name := Relations[ref.Hops[0]].Name
			if to < 0 && (optionalRows[name] || name == "material") { // an assembly is of no material
				return true
			}
			if to < 0 || optionalRows[name] {
				continue // a row that is not there, which is reported; where an optional one is there, what that lacks is missing
			}
		}
		if g.hasNothing(&g.rows[to], ref.Quantity) {
			return true
		}
	}
	return false
}

// hasNothing tells whether a quantity of a row has neither a cell nor an equation.
func (g *graph) hasNothing(r *row, n int32) bool {
	if r.scope.Quantities[n].Structural {
		return false
	}
	_, varied := g.inputs[r.first+n]
	_, _, given := g.given(r, n)
	d := r.scope.definition(r.variant, n)
	return !varied && !given && (d == nil || d.Equation == nil)
}

// leadsToNothing tells whether an input takes over that of another row where its own cell is empty (an operation that of its
// machine), and that has neither a cell nor an equation: then it is the input itself that is missing, not the other row's.
func (g *graph) leadsToNothing(r *row, d *Definition) bool {
	eq := d.Equation
	if !d.Item.Input || eq.Expr.Root.Kind != formula.Name || len(eq.Refs) != 1 || len(eq.Refs[0].Hops) != 1 {
		return false
	}
	from, _ := plan.Locate(g, r.first)
	to := g.Follow(from, eq.Refs[0].Hops[0])
	if to < 0 {
		return false // a row that is not there, which is reported
	}
	return g.hasNothing(&g.rows[to], eq.Refs[0].Quantity)
}

// Entities implements plan.Graph.
func (g *graph) Entities() int { return len(g.rows) }

// FirstCell implements plan.Graph.
func (g *graph) FirstCell(e plan.Entity) plan.Cell {
	if int(e) == len(g.rows) {
		return g.cells
	}
	return g.rows[e].first
}

// Follow implements plan.Graph.
func (g *graph) Follow(e plan.Entity, r plan.Relation) plan.Entity {
	switch Relations[r].Name {
	case "case":
		return 0
	case "scenario":
		return 1
	}
	return g.one[r][e-g.start[Relations[r].From]]
}

// Members implements plan.Graph.
func (g *graph) Members(e plan.Entity, r plan.Relation) []plan.Entity {
	return g.many[r][e-g.start[Relations[r].From]]
}

// Define implements plan.Graph.
func (g *graph) Define(e plan.Entity, quantity int32) (plan.Definition, error) {
	r := &g.rows[e]
	q := r.scope.Quantities[quantity]
	if q.Structural {
		for _, f := range r.flags {
			if f == quantity {
				return plan.Definition{Kind: plan.Given, Value: 1}, nil
			}
		}
		return plan.Definition{Kind: plan.Given}, nil
	}
	in, varied := g.inputs[r.first+quantity]
	if varied && in.by == ByValue {
		return plan.Definition{Kind: plan.Varies, Input: in.column}, nil
	}
	def, err := g.asItStands(r, quantity)
	if !varied || err != nil {
		return def, err
	}
	return in.move(def), nil
}

// move is a definition moved by a column.
func (in moved) move(def plan.Definition) plan.Definition {
	if in.by == ByFactor {
		return plan.Definition{Kind: plan.Scaled, Input: in.column, Base: &def}
	}
	return plan.Definition{Kind: plan.Shifted, Input: in.column, Base: &def}
}

// asItStands is the definition of a quantity that is not varied.
func (g *graph) asItStands(r *row, quantity int32) (plan.Definition, error) {
	q := r.scope.Quantities[quantity]
	if r.volume && q.Name == "annual_volume" {
		return plan.Definition{Kind: plan.Varies, Input: 0}, nil
	}
	if def, failed, ok := g.given(r, quantity); ok {
		if failed {
			return def, plan.ErrReported
		}
		return def, nil
	}
	return g.byEquation(r, quantity)
}

// Curve implements plan.Graph.
func (g *graph) Curve(name string) *formula.Curve { return &g.model.Schema.curveNamed(name).Curve }

// Rowlabel names a row for a person: "operation A01/20".
func (g *graph) label(e plan.Entity) string {
	r := &g.rows[e]
	switch r.scope.Name {
	case "case":
		return "the case"
	case "scenario":
		return "scenario " + r.rec.Key
	case "machine":
		i := int(e - g.start["machine"])
		return fmt.Sprintf("machine %s in %s", r.rec.Key, g.st.machines[i].plant.Key)
	case "operation":
		return "operation " + r.rec.Key
	}
	return r.scope.Name + " " + r.rec.Key
}
