package costing

import (
	"piececost/costmodel"
)

// A Row is a row of a scenario with its quantities: a part, an operation, a machine, a grade, a plant, the scenario itself.
type Row struct {
	detail *costmodel.Detail
	line   costmodel.Entry
}

// A Quantity is a number of a row, or a choice.
type Quantity struct {
	Key    string  // gross_mass
	Label  string  // Gross mass
	Value  float64 // in Unit; of a choice its number
	Unit   string  // kg; empty for a bare number and for a choice
	Choice string  // of a choice its option, as shared, of a condition yes or no; else empty
	Place  Place   // the cell that gives it; of the zero value where it is computed or a default
}

// Key is the row's key in its sheet: FRAME_A, of an operation FRAME_A/10.
func (r Row) Key() string { return r.line.Record().Key }

// Label is the row's name in its sheet; empty where it has none.
func (r Row) Label() string { return r.line.Record().Name() }

// Quantity finds a quantity of the row by its key or label. The error says that there is none of that name, or that it is
// not defined for the row.
func (r Row) Quantity(name string) (Quantity, error) {
	n, err := r.detail.Plan.QuantityNamed(r.line.Entity(), name)
	if err != nil {
		return Quantity{}, err
	}
	return r.quantity(n), nil
}

// Quantities are all quantities that were computed for the row, in the order of the library.
func (r Row) Quantities() []Quantity {
	p, e := r.detail.Plan, r.line.Entity()
	var out []Quantity
	for n := range p.RowScope(e).Quantities {
		if p.Compiled(e, int32(n)) {
			out = append(out, r.quantity(int32(n)))
		}
	}
	return out
}

func (r Row) quantity(n int32) Quantity {
	p, e := r.detail.Plan, r.line.Entity()
	q := p.RowScope(e).Quantities[n]
	out := Quantity{Key: q.Name, Label: q.Label, Value: q.Unit.Shown(r.detail.Of(e, n))}
	switch {
	case len(q.Options) > 0:
		out.Choice = r.line.Choice(q.Name)
	case q.Flag && out.Value != 0:
		out.Choice = "yes"
	case q.Flag:
		out.Choice = "no"
	default:
		out.Unit = p.Model.ShownUnit(q.Unit)
	}
	switch o := p.Origin(e, n); {
	case o.Change != nil:
		out.Place = o.Change.Value.Place
	case o.Input != nil:
		out.Place = o.Input.Value.Place
	}
	return out
}

// Cost is what the row adds to a good product, model currency, and its elements, which add up to it: of an operation its own cost,
// of a part that of its own operations. ok is false for other rows, and for a part without operations, whose price is in the operation that
// it joins at.
func (r Row) Cost() (amount float64, elements []Element, ok bool) {
	if !r.adds() {
		return 0, nil, false
	}
	for _, e := range r.detail.Plan.Model.Schema.Elements {
		v := r.line.Must(e.Name) / r.detail.Volume
		elements = append(elements, Element{e.Name, e.Label, v})
	}
	return r.line.Must("annual_cost") / r.detail.Volume, elements, true
}

// adds tells the rows whose costs add up to that of the product, once for operations and once for parts.
func (r Row) adds() bool {
	switch r.detail.Plan.RowScope(r.line.Entity()).Name {
	case "operation":
		return true
	case "part":
		_, steps := r.line.Follow("first")
		return steps
	}
	return false
}
