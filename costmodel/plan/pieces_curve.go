package plan

import (
	"math"

	"piececost/costmodel/kernel"
)

// rounding is how far a curve may be from what the kernel computes, as a share of the largest number that went into it.
// A chain of a hundred operations rounds to about 1e-14; the rest is distance.
const rounding = 2e-13

// A curve is a register inside a piece, as a function of the volume n: inv/n + con + lin*n + the sum of top/(n+shift)
// over its poles. Where it is none of that, it is open, and nobody may say what it does between two volumes.
type curve struct {
	inv, con, lin float64
	poles         []pole
	size          float64 // the largest number that went into it, for rounding
	open          bool
}

// A pole comes from dividing by hours that have a part that does not vary, such as set-up: top/(n+shift), shift above 0.
// Poles of one register add up, and where all that was divided by a pool's hours is spent again, they vanish.
type pole struct {
	register int32 // that was divided by
	shift    float64
	top      float64
}

func flat(v float64) curve { return curve{con: v, size: math.Abs(v)} }

// isFlat tells whether the curve does not vary inside the piece.
func (c *curve) isFlat() bool { return !c.open && c.inv == 0 && c.lin == 0 && len(c.poles) == 0 }

func (c *curve) at(n float64) float64 {
	v := c.inv/n + c.con + c.lin*n
	for _, p := range c.poles {
		v += p.top / (n + p.shift)
	}
	return v
}

// addTo adds k times the curve.
func (c *curve) addTo(out *curve, k float64) {
	out.open = out.open || c.open
	out.inv += k * c.inv
	out.con += k * c.con
	out.lin += k * c.lin
	out.size += math.Abs(k) * c.size
	for _, p := range c.poles {
		out.addPole(p, k)
	}
}

func (c *curve) addPole(p pole, k float64) {
	for i := range c.poles {
		if c.poles[i].register == p.register {
			c.poles[i].top += k * p.top
			return
		}
	}
	c.poles = append(c.poles, pole{p.register, p.shift, k * p.top})
}

// settle takes the size of a product or quotient up to its own terms at a volume: taking a fraction apart may make terms
// larger than what they add up to.
func (c *curve) settle(n, size float64) {
	c.size = max(size, math.Abs(c.inv)/n, math.Abs(c.con), math.Abs(c.lin)*n)
	for _, p := range c.poles {
		c.size = max(c.size, math.Abs(p.top)/(n+p.shift))
	}
	if math.IsNaN(c.size) || math.IsInf(c.size, 0) {
		c.open = true
	}
}

// linearCurve is k plus the terms; its poles are put into the given memory.
func linearCurve(k float64, terms []kernel.Term, curves []curve, poles []pole) curve {
	out := flat(k)
	out.poles = poles
	for _, t := range terms {
		curves[t.Slot].addTo(&out, t.Factor)
	}
	return out
}

// mulCurve multiplies two curves near the volume n; what has a power of n beyond -1 and 1, or two poles at once, is open.
func mulCurve(a, b *curve, n float64) curve {
	if a.open || b.open || len(a.poles) > 0 && len(b.poles) > 0 || a.inv*b.inv != 0 || a.lin*b.lin != 0 {
		return curve{open: true}
	}
	out := curve{
		inv: a.inv*b.con + a.con*b.inv,
		con: a.inv*b.lin + a.con*b.con + a.lin*b.inv,
		lin: a.con*b.lin + a.lin*b.con,
	}
	for _, p := range a.poles {
		out.timesPole(p, b)
	}
	for _, p := range b.poles {
		out.timesPole(p, a)
	}
	out.settle(n, a.size*b.size)
	return out
}

// timesPole adds a pole times a curve without poles, as partial fractions: n/(n+s) = 1 - s/(n+s) and
// 1/(n(n+s)) = (1/n - 1/(n+s))/s.
func (c *curve) timesPole(p pole, by *curve) {
	c.con += by.lin * p.top
	c.inv += by.inv * p.top / p.shift
	c.addPole(pole{p.register, p.shift, p.top * (by.con - by.lin*p.shift - by.inv/p.shift)}, 1)
}

// divCurve divides near the volume n; register is the one divided by.
func divCurve(a, b *curve, register int32, n float64) curve {
	if a.open || b.open || len(b.poles) > 0 {
		return curve{open: true}
	}
	var one curve // 1/b
	switch {
	case b.inv == 0 && b.lin == 0:
		one.con = 1 / b.con
	case b.inv == 0 && b.con == 0:
		one.inv = 1 / b.lin
	case b.con == 0 && b.lin == 0:
		one.lin = 1 / b.inv
	case b.inv == 0 && b.con/b.lin > 0:
		one.poles = []pole{{register, b.con / b.lin, 1 / b.lin}}
	default:
		return curve{open: true}
	}
	v := b.at(n)
	one.settle(n, b.size/(v*v))
	return mulCurve(a, &one, n)
}

// flatPart replaces the poles by their middle between two volumes and returns how far they are from it at most.
func (c *curve) flatPart(from, to float64) (out curve, slack float64) {
	out = *c
	out.poles = nil
	for _, p := range c.poles {
		a, b := p.top/(from+p.shift), p.top/(to+p.shift)
		out.con += (a + b) / 2
		slack += math.Abs(a-b) / 2
	}
	return out, slack
}

// lastWithin returns the last volume up to limit so that the curve lies between lo and hi at it and at every whole volume
// from n on; n where that can't be said.
func (c *curve) lastWithin(n, limit int, lo, hi float64) int {
	within := func(n int) bool {
		v := c.inv/float64(n) + c.con + c.lin*float64(n)
		return v > lo && v < hi
	}
	if c.open || len(c.poles) > 0 || !within(n) {
		return n
	}
	turn := limit
	if c.inv*c.lin > 0 { // falls and rises again, or the other way round
		if t := math.Sqrt(c.inv / c.lin); t > float64(n) && t < float64(limit) {
			turn = int(t)
		}
	}
	last := lastOnSlope(n, turn, within)
	if last < turn || turn == limit || !within(turn+1) {
		return last
	}
	return lastOnSlope(turn+1, limit, within)
}

// lastOnSlope is lastWithin where the curve only rises or only falls.
func lastOnSlope(n, limit int, within func(int) bool) int {
	if within(limit) {
		return limit
	}
	for limit-n > 1 {
		if mid := n + (limit-n)/2; within(mid) {
			n = mid
		} else {
			limit = mid
		}
	}
	return n
}
