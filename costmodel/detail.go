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

// An Entry is a row of a scenario in a Detail: a part, a step, a machine, the scenario itself.
type Entry struct {
	detail *Detail
	entity plan.Entity
}

// Scenario returns the scenario's own row.
func (d *Detail) Scenario() Entry { return Entry{d, 1} }

// Entry returns a row by its number.
func (d *Detail) Entry(e plan.Entity) Entry { return Entry{d, e} }

// Entries lists the rows of a scope in their order: parts from the product down, steps along the routes.
func (d *Detail) Entries(scope string) []Entry {
	var out []Entry
	for e := range d.Plan.graph.rows {
		if d.Plan.graph.rows[e].scope.Name == scope {
			out = append(out, Entry{d, plan.Entity(e)})
		}
	}
	return out
}

// Record returns the row's record.
func (e Entry) Record() *Record { return e.detail.Plan.graph.rows[e.entity].rec }

// Value returns a quantity of the row's scope in coherent units; ok is false where it is not defined for the row or was not
// needed.
func (e Entry) Value(name string) (v float64, ok bool) {
	r := &e.detail.Plan.graph.rows[e.entity]
	n := r.scope.MustQuantity(name)
	if !e.detail.Plan.plan.Has(r.first + n) {
		return math.NaN(), false
	}
	return e.detail.values[r.first+n], true
}

// Must returns a quantity that every row of the scope has.
func (e Entry) Must(name string) float64 {
	v, ok := e.Value(name)
	if !ok {
		panic("no quantity " + name)
	}
	return v
}

// In returns a quantity in the unit in which its scope declares it.
func (e Entry) In(name string) (v float64, unit string, ok bool) {
	r := &e.detail.Plan.graph.rows[e.entity]
	v, ok = e.Value(name)
	if !ok {
		return v, "", false
	}
	q := r.scope.Quantities[r.scope.MustQuantity(name)]
	return q.Unit.Shown(v), e.detail.Plan.Model.ShownUnit(q.Unit), true
}

// Choice returns the option that a choice of the row has.
func (e Entry) Choice(name string) string {
	r := &e.detail.Plan.graph.rows[e.entity]
	n := r.scope.MustQuantity(name)
	return optionOf(r.scope.Quantities[n], e.detail.values[r.first+n])
}

// Product returns the entry of the scenario's product.
func (d *Detail) Product() Entry {
	g := d.Plan.graph
	return Entry{d, g.Follow(1, RelationNumber("scenario", "product"))}
}

// Follow returns the row a relation leads to; ok is false where there is none.
func (e Entry) Follow(name string) (Entry, bool) {
	g := e.detail.Plan.graph
	r := RelationNumber(g.rows[e.entity].scope.Name, name)
	if Relations[r].Many {
		panic("the relation " + name + " leads to many rows")
	}
	to := g.Follow(e.entity, r)
	return Entry{e.detail, to}, to >= 0
}

// Process returns the process of a step, or the form of a part.
func (e Entry) Process() *Template {
	if v := e.detail.Plan.graph.rows[e.entity].variant; v != nil {
		return v.Template
	}
	return nil
}

// CaseValue returns a quantity of the whole case in coherent units, 0 where it is not needed.
func (d *Detail) CaseValue(name string) float64 {
	v, ok := Entry{d, 0}.Value(name)
	if !ok {
		return 0
	}
	return v
}
