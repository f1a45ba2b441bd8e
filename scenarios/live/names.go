package live

import (
	"fmt"
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/formula"
	"piececost/costmodel/plan"
	"piececost/costmodel/table"
)

// rowNames tells a translator what the names of an equation are for one row of a block.
type rowNames struct {
	s     *Sheet
	b     *Block
	row   int
	e     plan.Entity
	eq    *plan.Equation
	base  func() term // what `base` is, in a scenario change
	whole bool        // the column's one formula: foreign names through the block's link columns, conditions left open
}

// path names a reference as its equation does.
func (r rowNames) path(n *formula.Node) string {
	use := r.eq.Expr.Names[n.Ref]
	if use.Many {
		return "sum(" + use.Path + ")"
	}
	return use.Path
}

func (r rowNames) ref(n *formula.Node) *plan.Ref { return &r.eq.Refs[n.Ref] }

// nowhere stands for a name that leads nowhere, or to a quantity that the row has not. An equation is costed with one only behind
// a condition that does not ask for it at the base values; where a change of an input opens that branch, the cell shows an error, not a 0.
const nowhere = "NA()"

// cell returns the text of a reference.
func (r rowNames) cell(n *formula.Node) string {
	ref := r.ref(n)
	if len(ref.Hops) == 0 {
		if c := r.b.byQuantity[ref.Quantity]; c != nil {
			if !r.whole && !r.b.Scope.Quantities[ref.Quantity].Structural && !r.s.Plan.Compiled(r.e, ref.Quantity) {
				return nowhere
			}
			return r.b.address(c, r.row)
		}
	}
	if r.whole {
		if c := r.b.pulled[pullKey(r.path(n), ref)]; c != nil {
			return r.b.address(c, r.row)
		}
	}
	text, ok := r.s.refText(r.e, ref)
	if !ok {
		return nowhere
	}
	return text
}

// pullKey is the key of a link column: conditions on one choice share its column.
func pullKey(path string, ref *plan.Ref) string {
	if ref.Option > 0 {
		return path[:strings.LastIndex(path, ".")]
	}
	return path
}

func (r rowNames) name(n *formula.Node) term {
	ref := r.ref(n)
	switch {
	case ref.Fixed:
		return term{text: "PI()", prec: precAtom, factor: 1}
	case ref.Base:
		return r.base()
	}
	return r.s.target(r.e, r.b, ref).read(r.cell(n), precAtom)
}

func (r rowNames) condition(n *formula.Node) string {
	ref := r.ref(n)
	switch {
	case ref.Fixed && ref.Constant == 1:
		return "1=1"
	case ref.Fixed:
		return "1=0"
	case ref.Option > 0:
		q := r.s.targetQuantity(r.b.Scope, ref)
		return r.cell(n) + "=" + textLiteral(q.Options[ref.Option-1])
	}
	return r.cell(n) + "=1"
}

// settled decides a condition that follows from the structure, unless one formula serves the whole column.
func (r rowNames) settled(n *formula.Node) (value, known bool) {
	if r.whole {
		return false, false
	}
	switch n.Kind {
	case formula.Name:
		ref := r.ref(n)
		if ref.Fixed {
			return ref.Constant == 1, true
		}
		if len(ref.Hops) == 0 && r.b.Scope.Quantities[ref.Quantity].Structural {
			return r.s.Detail.Of(r.e, ref.Quantity) == 1, true
		}
	case formula.Not:
		v, ok := r.settled(n.Args[0])
		return !v, ok
	}
	return false, false
}

// curve writes straight pieces between the points of a curve: y0 plus the slope of each piece times how far x reaches
// into it.
func (r rowNames) curve(name, x string) term {
	xs, ys, xu, yu := r.s.Plan.Model.Schema.CurvePoints(name)
	at := func(p table.Place) string {
		r.s.Inputs.add(Input{Place: p, Key: name, Heading: "curve", Live: true})
		return CellRef(p)
	}
	over := Column{Factor: xu.Factor, Zero: xu.Zero}
	shown := over.written(term{text: x, prec: precSum, factor: 1}).text
	text := at(ys[0])
	if r.s.Plan.Model.Schema.CurveSteps(name) {
		for i := 1; i < len(xs); i++ {
			text = fmt.Sprintf("IF(%s>=%s,%s,%s)", shown, at(xs[i]), at(ys[i]), text)
		}
		at(xs[0])
		return read(text, precAtom, yu)
	}
	for i := 1; i < len(xs); i++ {
		x0, x1, y0, y1 := at(xs[i-1]), at(xs[i]), at(ys[i-1]), at(ys[i])
		text += fmt.Sprintf("+(%s-%s)/(%s-%s)*(MAX(%s,MIN(%s,%s))-%s)", y1, y0, x1, x0, x0, x1, shown, x0)
	}
	return read(text, precSum, yu)
}

// targetQuantity is the quantity a reference from a scope leads to.
func (s *Sheet) targetQuantity(from *costmodel.Scope, ref *plan.Ref) *costmodel.Quantity {
	sc := from
	if n := len(ref.Hops); n > 0 {
		sc = s.Plan.Model.Schema.Scope(costmodel.Relations[ref.Hops[n-1]].To)
	}
	return sc.Quantities[ref.Quantity]
}

// target is a column made for the quantity a reference leads to: its unit and factor.
func (s *Sheet) target(e plan.Entity, b *Block, ref *plan.Ref) *Column {
	return s.newColumn(s.targetQuantity(b.Scope, ref), Link)
}

// refText writes a reference from a row by addresses: directly, or by INDEX where the key on the way (machine, material)
// may be changed in the input sheet. ok is false where it leads nowhere.
func (s *Sheet) refText(e plan.Entity, ref *plan.Ref) (text string, ok bool) {
	hops := ref.Hops
	if ref.Many {
		hops = hops[:len(hops)-1]
	}
	for i, hop := range hops {
		h := costmodel.Relations[hop]
		if i == len(hops)-1 && !ref.Many {
			if text, ok := s.indexed(e, h, ref.Quantity); ok {
				return text, true
			}
		}
		if e = s.Plan.Follow(e, hop); e < 0 {
			return "", false
		}
	}
	if ref.Many {
		return s.sumText(e, ref, func() string { return s.ownRow(e) }), true
	}
	return s.homeText(e, ref.Quantity)
}

// homeText is the home cell of a quantity of a row; a flag of the structure is its value.
func (s *Sheet) homeText(e plan.Entity, n int32) (string, bool) {
	sc := s.Plan.RowScope(e)
	if sc.Quantities[n].Structural {
		return fmt.Sprintf("%v", s.Detail.Of(e, n)), true
	}
	b := s.main[sc.Name]
	if b == nil || b.byQuantity[n] == nil {
		b = s.variants[s.Plan.RowVariant(e)]
	}
	row, there := 0, b != nil && b.byQuantity[n] != nil
	if there {
		row, there = b.rowOf[e]
	}
	switch {
	case there:
		return b.address(b.byQuantity[n], row), s.Plan.Compiled(e, n)
	case s.Plan.Compiled(e, n):
		panic(fmt.Sprintf("%s of %s is computed and stands in no block", sc.Quantities[n].Name, s.Plan.RowLabel(e)))
	}
	return "0", false
}

// indexed writes a quantity of a machine or material by its row number, which follows the key.
func (s *Sheet) indexed(e plan.Entity, h costmodel.Hop, n int32) (string, bool) {
	var at string
	switch h.From + "." + h.Name {
	case "operation.machine":
		b := s.main["operation"]
		if s.Plan.Follow(e, costmodel.RelationNumber("operation", "machine")) < 0 {
			return "", false
		}
		at = b.address(b.pulled[machineRowCol], b.rowOf[e])
	case "operation.material", "part.material":
		if h.From == "operation" {
			e = s.Plan.Follow(e, costmodel.RelationNumber("operation", "part"))
		}
		b := s.main["part"]
		if b.pulled[materialRowCol] == nil || s.Plan.Follow(e, costmodel.RelationNumber("part", "material")) < 0 {
			return "", false
		}
		at = b.address(b.pulled[materialRowCol], b.rowOf[e])
	default:
		return "", false
	}
	b := s.main[h.To]
	if b == nil || b.byQuantity[n] == nil {
		return "", false
	}
	return fmt.Sprintf("INDEX(%s,%s)", b.Range(b.byQuantity[n]), at), true
}

// ownRow is by which SUMIF finds the steps of a machine or the parts of a grade: its row number.
func (s *Sheet) ownRow(e plan.Entity) string {
	b := s.main[s.Plan.RowScope(e).Name]
	if b.Scope.Name == "material" {
		return fmt.Sprintf("MATCH(%s,%s,0)", b.address(b.Columns[1], b.rowOf[e]), b.Range(b.Columns[1]))
	}
	return b.address(b.pulled[machineRowCol], b.rowOf[e])
}
