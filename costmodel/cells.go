package costmodel

import (
	"piececost/costmodel/plan"
	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// What follows lets others (explain, the live workbook) walk the very cells that were computed: every quantity of every
// row, where it comes from and what its names mean.

// An OriginKind says where the value of a cell comes from.
type OriginKind uint8

// The kinds of origin.
const (
	Undefined     OriginKind = iota // neither a cell nor an equation
	FromStructure                   // a flag that follows from which rows there are
	FromCell                        // an input cell
	FromChange                      // a cell of the sheet Scenarios that replaces an input cell or equation
	FromEquation                    // the library, or a default
)

// An Origin says where the value of a quantity of a row comes from.
type Origin struct {
	Kind       OriginKind
	Input      *Given          // the input cell, also behind a change; nil where there is none
	Change     *Given          // the cell of Scenarios
	Definition *Definition     // of the library; nil where a quantity has none for this row
	Otherwise  bool            // the definition takes the place of one that leads nowhere from this row
	Active     plan.Definition // what was computed
}

// Given is a cell that gives a quantity.
type Given struct {
	Value    table.Value
	unit     units.Unit // of a bare number in it
	Def      plan.Definition
	provided map[string]string
	Cells    []FactCell // whose sum it is, of a fact of quotes; nil where no cells add up to it
}

// Unit is the unit of a number as it stands in the cell: of a cell formatted as percent without the percent sign.
func (c *Given) Unit() units.Unit {
	u := c.unit
	if c.Value.Percent {
		if f, ok := fractionFactor(u); ok {
			u.Factor = f
		}
	}
	return u
}

// Entities returns the number of rows of the compiled scenario.
func (p *Plan) Entities() int { return len(p.graph.rows) }

// RowScope returns the scope of a row.
func (p *Plan) RowScope(e plan.Entity) *Scope { return p.graph.rows[e].scope }

// RowRecord returns the record of a row.
func (p *Plan) RowRecord(e plan.Entity) *Record { return p.graph.rows[e].rec }

// RowVariant returns the form or process of a row, or nil.
func (p *Plan) RowVariant(e plan.Entity) *Variant { return p.graph.rows[e].variant }

// RowLabel names a row for a person.
func (p *Plan) RowLabel(e plan.Entity) string { return p.graph.label(e) }

// Compiled tells whether a quantity of a row was computed.
func (p *Plan) Compiled(e plan.Entity, quantity int32) bool {
	return p.plan.Has(p.graph.rows[e].first + quantity)
}

// Follow returns the row a relation leads to, or -1.
func (p *Plan) Follow(e plan.Entity, r plan.Relation) plan.Entity { return p.graph.Follow(e, r) }

// Members returns the rows a relation to many leads to.
func (p *Plan) Members(e plan.Entity, r plan.Relation) []plan.Entity { return p.graph.Members(e, r) }

// RowText returns a word column of a row as the scenario has it, and its cell.
func (p *Plan) RowText(e plan.Entity, column string) (string, table.Place) {
	return p.graph.st.text(p.graph.rows[e].rec, column)
}

// Origin tells where a quantity of a row comes from.
func (p *Plan) Origin(e plan.Entity, quantity int32) Origin {
	g := p.graph
	r := &g.rows[e]
	o := Origin{Definition: g.definition(r, quantity)}
	o.Otherwise = o.Definition != r.scope.definition(r.variant, quantity)
	if d := r.rec.bandedBy(quantity); d != nil {
		o.Definition = d
	}
	o.Active, _ = g.Define(e, quantity)
	if r.scope.Quantities[quantity].Structural {
		o.Kind = FromStructure
		return o
	}
	if f := r.rec.field(quantity); f != nil {
		o.Kind = FromCell
		o.Input = &Given{f.value, f.unit, f.def.Definition, f.provided, f.cells}
	} else if o.Definition != nil && o.Definition.Equation != nil {
		o.Kind = FromEquation
	}
	if c := g.st.scenario.changesOf(r.rec); c != nil {
		if ch, ok := c.fields[quantity]; ok {
			o.Kind = FromChange
			o.Change = &Given{ch.value, ch.unit, ch.def.Definition, nil, nil}
		}
	}
	return o
}

// Of returns a quantity of any row of a detail in coherent units.
func (d *Detail) Of(e plan.Entity, quantity int32) float64 {
	return d.values[d.Plan.graph.rows[e].first+quantity]
}

// Entity returns the number of the entry's row.
func (e Entry) Entity() plan.Entity { return e.entity }

// Case returns the record of the whole case: its facts in words.
func (p *Plan) Case() *Record { return p.graph.rows[0].rec }
