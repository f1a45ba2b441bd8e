package costmodel

import (
	"math"

	"piececost/costmodel/plan"
)

// A Detail is every quantity of a scenario at one volume.
type Detail struct {
	Plan   *Plan
	Volume float64 // good products per year
	values []float64
}

// Detail costs one volume in full.
func (p *Plan) Detail(volume float64) *Detail {
	return &Detail{Plan: p, Volume: volume, values: p.plan.Values(p.inputsAt(volume))}
}

// A Line is a row of a scenario in a Detail: a part, a step, a machine, the scenario itself.
type Line struct {
	detail *Detail
	entity plan.Entity
}

// Scenario returns the scenario's own row.
func (d *Detail) Scenario() Line { return Line{d, 1} }

// Line returns a row by its number.
func (d *Detail) Line(e plan.Entity) Line { return Line{d, e} }

// Lines lists the rows of a scope in their order: parts from the product down, steps along the routes.
func (d *Detail) Lines(scope string) []Line {
	var out []Line
	for e := range d.Plan.graph.rows {
		if d.Plan.graph.rows[e].scope.Name == scope {
			out = append(out, Line{d, plan.Entity(e)})
		}
	}
	return out
}

// Record returns the row's record.
func (l Line) Record() *Record { return l.detail.Plan.graph.rows[l.entity].rec }

// Value returns a quantity of the row's scope in coherent units; ok is false where it is not defined for the row or was not
// needed.
func (l Line) Value(name string) (v float64, ok bool) {
	r := &l.detail.Plan.graph.rows[l.entity]
	n := r.scope.MustQuantity(name)
	if !l.detail.Plan.plan.Has(r.first + n) {
		return math.NaN(), false
	}
	return l.detail.values[r.first+n], true
}

// Must returns a quantity that every row of the scope has.
func (l Line) Must(name string) float64 {
	v, ok := l.Value(name)
	if !ok {
		panic("no quantity " + name)
	}
	return v
}

// In returns a quantity in the unit in which its scope declares it.
func (l Line) In(name string) (v float64, unit string, ok bool) {
	r := &l.detail.Plan.graph.rows[l.entity]
	v, ok = l.Value(name)
	if !ok {
		return v, "", false
	}
	q := r.scope.Quantities[r.scope.MustQuantity(name)]
	return v / q.Unit.Factor, l.detail.Plan.Model.ShownUnit(q.Unit), true
}

// Choice returns the option that a choice of the row has.
func (l Line) Choice(name string) string {
	r := &l.detail.Plan.graph.rows[l.entity]
	n := r.scope.MustQuantity(name)
	return optionOf(r.scope.Quantities[n], l.detail.values[r.first+n])
}

// Product returns the line of the scenario's product.
func (d *Detail) Product() Line {
	g := d.Plan.graph
	return Line{d, g.Follow(1, RelationNumber("scenario", "product"))}
}

// Follow returns the row a relation leads to; ok is false where there is none.
func (l Line) Follow(name string) (Line, bool) {
	g := l.detail.Plan.graph
	r := RelationNumber(g.rows[l.entity].scope.Name, name)
	if Relations[r].Many {
		panic("the relation " + name + " leads to many rows")
	}
	e := g.Follow(l.entity, r)
	return Line{l.detail, e}, e >= 0
}

// Process returns the process of a step, or the form of a part.
func (l Line) Process() *Template {
	if v := l.detail.Plan.graph.rows[l.entity].variant; v != nil {
		return v.Template
	}
	return nil
}

// CaseValue returns a quantity of the whole case in coherent units, 0 where it is not needed.
func (d *Detail) CaseValue(name string) float64 {
	v, ok := Line{d, 0}.Value(name)
	if !ok {
		return 0
	}
	return v
}
