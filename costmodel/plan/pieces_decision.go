package plan

import (
	"math"

	"piececost/costmodel/formula"
	"piececost/costmodel/kernel"
)

// A decision is an operation that makes a register jump or bend: it counts whole things, compares, or takes one of two.
type decision struct {
	op     *kernel.Op
	slot   int32
	frozen float64 // what it says inside the piece: the count, the condition, or 1 for the second of two
	sure   int     // it says so up to this volume at least
}

// decides tells whether an operation is one.
func decides(c kernel.Code) bool {
	switch c {
	case kernel.Ceil, kernel.CeilMax, kernel.Max, kernel.MaxConst, kernel.Min, kernel.MinConst, kernel.Less, kernel.LessEq, kernel.Equal, kernel.Select:
		return true
	}
	return false
}

// takesOne tells whether the operation hands on one of its operands.
func takesOne(c kernel.Code) bool {
	return c == kernel.Max || c == kernel.MaxConst || c == kernel.Min || c == kernel.MinConst
}

// says reads the decision from the values of a lane.
func (d *decision) says(v lane) float64 {
	second := false
	switch d.op.Code {
	case kernel.Max:
		b := v.at(d.op.B)
		second = v.at(d.op.A) < b || b != b
	case kernel.MaxConst:
		second = v.at(d.op.A) < d.op.K
	case kernel.Min:
		b := v.at(d.op.B)
		second = v.at(d.op.A) > b || b != b
	case kernel.MinConst:
		second = v.at(d.op.A) > d.op.K
	case kernel.Select:
		second = v.at(d.op.A) == 0
	default:
		return v.at(d.slot)
	}
	if second {
		return 1
	}
	return 0
}

// changed tells whether the decision says something else at a lane. Two that are equal but for rounding are no change of
// the one that is taken.
func (d *decision) changed(v lane) bool {
	says := d.says(v)
	if says == d.frozen || says != says && d.frozen != d.frozen {
		return false
	}
	if !takesOne(d.op.Code) {
		return true
	}
	a, b := v.at(d.op.A), d.op.K
	if d.op.Code == kernel.Max || d.op.Code == kernel.Min {
		b = v.at(d.op.B)
	}
	return !(math.Abs(a-b) <= rounding*(math.Abs(a)+math.Abs(b)))
}

// curve is the register's curve while the decision stands.
func (d *decision) curve(curves []curve) curve {
	first := d.frozen == 0
	switch d.op.Code {
	case kernel.Max, kernel.Min:
		if first {
			return curves[d.op.A]
		}
		return curves[d.op.B]
	case kernel.MaxConst, kernel.MinConst:
		if first {
			return curves[d.op.A]
		}
		return flat(d.op.K)
	case kernel.Select:
		if first {
			return curves[d.op.B]
		}
		return curves[d.op.C]
	}
	return flat(d.frozen)
}

// foresee finds up to which volume the decision surely stands, from n on and up to limit; n where nothing is sure.
func (d *decision) foresee(curves []curve, n, limit int) {
	a := &curves[d.op.A]
	switch d.op.Code {
	case kernel.Ceil, kernel.CeilMax:
		d.sure = d.foreseeCount(a, n, limit)
		return
	case kernel.Select:
		d.sure = n
		if a.isFlat() {
			d.sure = limit
		}
		return
	}
	b := flat(d.op.K)
	if d.op.Code != kernel.MaxConst && d.op.Code != kernel.MinConst {
		b = curves[d.op.B]
	}
	diff := curve{}
	a.addTo(&diff, 1)
	b.addTo(&diff, -1)
	margin := 2 * rounding * diff.size
	switch {
	case diff.isFlat() && (takesOne(d.op.Code) || math.Abs(diff.con) > margin):
		d.sure = limit // where the two are equal it makes no difference which is taken
	case diff.at(float64(n)) > 0:
		d.sure = diff.lastWithin(n, limit, margin, math.Inf(1))
	default:
		d.sure = diff.lastWithin(n, limit, math.Inf(-1), -margin)
	}
}

// foreseeCount is foresee for a count of whole things: k stands while the argument less the tolerance lies above k-1 and
// not above k. At least K2, where that is no whole number, stands up to the whole one below it.
func (d *decision) foreseeCount(a *curve, n, limit int) int {
	arg := flat(d.op.K - formula.WholeTolerance)
	a.addTo(&arg, d.op.S)
	margin := 2 * rounding * arg.size
	lo := d.frozen - 1 + margin
	if d.op.Code == kernel.CeilMax && d.frozen <= d.op.K2 {
		lo = math.Inf(-1)
	}
	return arg.lastWithin(n, limit, lo, math.Floor(d.frozen)-margin)
}
