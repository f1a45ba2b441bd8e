package costmodel

import (
	"fmt"

	"piececost/costmodel/formula"
	"piececost/costmodel/plan"
	"piececost/costmodel/table"
)

// inBase is a number that may be written with base, the base value: add + times * base, coherent.
type inBase struct{ add, times float64 }

// values reads Low, Likely and High, and finds whether they are values, factors or differences.
func (r *uncertainReader) values(row table.Row, u *uncertainRow) bool {
	u.HasLikely = r.t.ValueAt(row, "likely").Kind != table.Empty
	var all [3]inBase
	ok := true
	for i, name := range []string{"low", "high", "likely"} {
		if name != "likely" || u.HasLikely {
			ok = r.value(row, name, u.found, &all[i]) && ok
		}
	}
	if !ok {
		return false
	}
	r.m.checkUncertainPercent(r.t, row, u.found)
	r.ds = append(r.ds, r.m.Diagnostics...)
	r.m.Diagnostics = nil
	given := all[:2]
	if u.HasLikely {
		given = all[:]
	}
	by, same := moveOf(given)
	if !same {
		r.ds.Add("range", r.t.ValueAt(row, "low").Place, fmt.Sprintf("low, likely and high of %s are not written alike", u.Input),
			"write all of them as numbers, as base * a factor, or as base + a difference")
		return false
	}
	u.Input.By = by
	for i, into := range []*float64{&u.Low, &u.High, &u.Likely} {
		if *into = all[i].add; by == ByFactor {
			*into = all[i].times
		}
	}
	return by != ByValue || r.alike(row, u)
}

// moveOf finds what numbers have in common: they are values, multiples of base, or base and something.
func moveOf(list []inBase) (Move, bool) {
	value, factor, difference := true, true, true
	for _, v := range list {
		value = value && v.times == 0
		factor = factor && v.add == 0
		difference = difference && v.times == 1
	}
	switch {
	case value:
		return ByValue, true
	case factor:
		return ByFactor, true
	}
	return ByDifference, difference
}

// alike reports rows that hold different values, since one number for all of them would take the differences away.
func (r *uncertainReader) alike(row table.Row, u *uncertainRow) bool {
	var first *givenField
	for _, rec := range u.found.records {
		x := rec.field(u.found.quantity)
		switch {
		case x == nil || x.def.failed || x.def.Kind != plan.Given:
		case first == nil:
			first = x
		case !formula.SameNumber(first.def.Value, x.def.Value):
			r.ds.Add("range", r.t.ValueAt(row, "low").Place, fmt.Sprintf("the rows of %s hold different values", u.Input),
				"name one row, or write Low and High as base * a factor", table.Related{Place: first.value.Place, Note: "one at"},
				table.Related{Place: x.value.Place, Note: "another at"})
			return false
		}
	}
	return true
}

// value reads a number of the row as a cell of the input would be read, or an expression of base.
func (r *uncertainReader) value(row table.Row, name string, f foundInput, into *inBase) bool {
	v := r.t.ValueAt(row, name)
	if v.Kind == table.Empty {
		r.ds.Add("missing", v.Place, fmt.Sprintf("%s of %s is missing", table.Label(name), f.input), "fill the cell")
		return false
	}
	def := r.m.readField(f.scope, f.quantity, v, f.unit, &formula.Type{Unit: f.unit})
	r.ds = append(r.ds, r.m.Diagnostics...)
	r.m.Diagnostics = nil
	switch {
	case def.failed:
		return false
	case def.Kind == plan.Given:
		into.add = def.Value
		if d := r.m.rangeError(f.scope, r.variant(f), f.quantity, v, f.unit, def.Value); d != nil {
			r.ds = append(r.ds, *d)
			return false
		}
		return true
	}
	var ok bool
	if *into, ok = readInBase(def.Eq, def.Eq.Expr.Root); !ok {
		r.ds.Add("number", v.Place, fmt.Sprintf("%s of %s is an expression that is no multiple of base and no sum with it", table.Label(name),
			f.input), "write a number, a number with a unit, base * a factor, or base + a difference")
	}
	return ok
}

// variant is the form or process of the rows, by that of the first.
func (r *uncertainReader) variant(f foundInput) *Variant {
	if len(f.records) == 0 {
		return nil
	}
	return r.m.variantOf(f.scope, f.records[0])
}

// readInBase reads an expression as a multiple of base and a number; ok is false where it is more than that.
func readInBase(eq *plan.Equation, n *formula.Node) (v inBase, ok bool) {
	args := make([]inBase, len(n.Args))
	for i, a := range n.Args {
		if args[i], ok = readInBase(eq, a); !ok {
			return v, false
		}
	}
	switch n.Kind {
	case formula.Number:
		return inBase{add: n.Value}, true
	case formula.Name:
		ref := eq.Refs[n.Ref]
		if ref.Base {
			return inBase{times: 1}, true
		}
		return inBase{add: ref.Constant}, ref.Fixed
	case formula.Negate:
		return args[0].by(-1), true
	case formula.Convert:
		return inBase{args[0].add - n.Unit.Zero, args[0].times}.by(n.Value), true
	case formula.Binary:
		return joinInBase(n.Op, args[0], args[1])
	}
	return v, false
}

func joinInBase(op formula.Op, a, b inBase) (inBase, bool) {
	switch {
	case op == formula.Add:
		return inBase{a.add + b.add, a.times + b.times}, true
	case op == formula.Sub:
		return inBase{a.add - b.add, a.times - b.times}, true
	case op == formula.Mul && b.times == 0:
		return a.by(b.add), true
	case op == formula.Mul && a.times == 0:
		return b.by(a.add), true
	case op == formula.Div && b.times == 0 && b.add != 0:
		return a.by(1 / b.add), true
	}
	return inBase{}, false
}

func (v inBase) by(k float64) inBase { return inBase{v.add * k, v.times * k} }

func (r *uncertainReader) ordered(row table.Row, u *Uncertain) bool {
	switch {
	case !(u.Low < u.High):
		r.ds.Add("range", r.t.ValueAt(row, "low").Place, fmt.Sprintf("low of %s is not below high", u.Input), "exchange or correct the two")
	case u.HasLikely && (u.Likely < u.Low && !formula.SameNumber(u.Likely, u.Low) || u.Likely > u.High && !formula.SameNumber(u.Likely, u.High)):
		r.ds.Add("range", r.t.ValueAt(row, "likely").Place, fmt.Sprintf("likely of %s does not lie between low and high", u.Input), "correct one of the three")
	case u.distribution == "lognormal" && u.Low <= 0:
		r.ds.Add("range", r.t.ValueAt(row, "low").Place, fmt.Sprintf("low of %s is not above 0, and a lognormal quantity is", u.Input),
			"write a number above 0, or another distribution")
	default:
		return true
	}
	return false
}
