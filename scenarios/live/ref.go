package live

import (
	"piececost/costmodel"
	"piececost/costmodel/plan"
)

// A Ref is a quantity of the calculation as a result sheet shows it: a formula that leads to its home cell, and its value.
type Ref struct {
	OK      bool
	Formula string
	Num     float64
	Word    string
	Text    bool
	Column  *Column
}

// Value is what the formula yields.
func (r Ref) Value() any {
	if r.Text {
		return r.Word
	}
	return r.Num
}

// Ref makes a reference to a quantity of a row for another sheet.
func (s *Sheet) Ref(e plan.Entity, name string) Ref {
	at, c, ok := s.find(e, name)
	if !ok {
		return Ref{}
	}
	n := s.Plan.RowScope(e).MustQuantity(name)
	v := s.Detail.Of(e, n)
	out := Ref{OK: true, Formula: s.Qualified(at), Num: c.shown(v), Column: c}
	if q := s.Plan.RowScope(e).Quantities[n]; len(q.Options) > 0 {
		out.Text, out.Word = true, q.Options[int(v)]
	}
	return out
}

// Over divides a reference by another: an annual cost by the volume.
func (r Ref) Over(d Ref) Ref {
	if !r.OK || !d.OK {
		return Ref{}
	}
	return Ref{OK: true, Formula: r.Formula + "/" + d.Formula, Num: r.Num / d.Num, Column: r.Column}
}

// Times multiplies a reference by another: an amount by an exchange rate.
func (r Ref) Times(by Ref) Ref {
	if !r.OK || !by.OK {
		return Ref{}
	}
	return Ref{OK: true, Formula: r.Formula + "*" + by.Formula, Num: r.Num * by.Num, Column: r.Column}
}

// VariantRef makes a reference to a quantity in the block of the row's form or process.
func (s *Sheet) VariantRef(e plan.Entity, name string) Ref {
	b := s.variants[s.Plan.RowVariant(e)]
	n := s.Plan.RowScope(e).MustQuantity(name)
	if b == nil || b.byQuantity[n] == nil || !s.Plan.Compiled(e, n) {
		return Ref{}
	}
	c := b.byQuantity[n]
	return Ref{OK: true, Formula: s.Qualified(b.address(c, b.rowOf[e])), Num: c.shown(s.Detail.Of(e, n)), Column: c}
}

// QuantityOf returns the quantity whose home a column is, or nil for keys, links and sums.
func (s *Sheet) QuantityOf(b *Block, c *Column) *costmodel.Quantity {
	if b.byQuantity[c.quantity] != c {
		return nil
	}
	return b.Scope.Quantities[c.quantity]
}

// Used lists the equations of a block that at least one row is computed by, in the order of its columns.
func (s *Sheet) Used(b *Block) []*costmodel.Definition {
	var out []*costmodel.Definition
	for _, c := range b.Columns {
		if s.QuantityOf(b, c) == nil || c.Kind != Quantity {
			continue
		}
		rows, otherwise := s.byEquation(b, c.quantity)
		if d := b.equationOf(c.quantity); d != nil && len(rows)+len(otherwise) > 0 {
			out = append(out, d)
		}
	}
	return out
}
