package fit

import (
	"math"
	"math/big"
)

// The judge of these tests: least squares in rational numbers by normal equations, without rounding and without anything that
// the package has.

// rational is a matrix of exact numbers.
type rational [][]*big.Rat

// exactly are the floating-point numbers as they are.
func exactly(x []float64) []*big.Rat {
	out := make([]*big.Rat, len(x))
	for i, v := range x {
		out[i] = new(big.Rat).SetFloat64(v)
	}
	return out
}

func product(a, b *big.Rat) *big.Rat { return new(big.Rat).Mul(a, b) }

func dot(a, b []*big.Rat) *big.Rat {
	sum := new(big.Rat)
	for i := range a {
		sum.Add(sum, product(a[i], b[i]))
	}
	return sum
}

// exactFit solves min |x b - y|: coefficients, the diagonal of the inverse of xᵀx and the sum of squares; ok is false where the
// columns depend on each other.
func exactFit(x rational, y []*big.Rat) (b, spread []*big.Rat, squares *big.Rat, ok bool) {
	n := len(x[0])
	a := make(rational, n)
	for i := range a {
		a[i] = make([]*big.Rat, 2*n+1)
		for k := range a[i] {
			a[i][k] = new(big.Rat)
		}
		for r := range x {
			for k := range n {
				a[i][k].Add(a[i][k], product(x[r][i], x[r][k]))
			}
			a[i][n].Add(a[i][n], product(x[r][i], y[r]))
		}
		a[i][n+1+i].SetInt64(1)
	}
	if !eliminate(a) {
		return nil, nil, nil, false
	}
	for i := range a {
		b, spread = append(b, a[i][n]), append(spread, a[i][n+1+i])
	}
	squares = new(big.Rat)
	for r := range x {
		rest := new(big.Rat).Sub(y[r], dot(x[r], b))
		squares.Add(squares, product(rest, rest))
	}
	return b, spread, squares, true
}

// eliminate brings a positive semidefinite system to the unit matrix.
func eliminate(a rational) bool {
	for i := range a {
		if a[i][i].Sign() == 0 {
			return false
		}
		by := new(big.Rat).Inv(a[i][i])
		for k := range a[i] {
			a[i][k] = product(a[i][k], by)
		}
		for r := range a {
			if r == i || a[r][i].Sign() == 0 {
				continue
			}
			times := new(big.Rat).Set(a[r][i])
			for k := range a[r] {
				a[r][k] = new(big.Rat).Sub(a[r][k], product(times, a[i][k]))
			}
		}
	}
	return true
}

// exactNonNegative tries every set of bounds that may hold and keeps the feasible one with the least sum of squares.
func exactNonNegative(x rational, y []*big.Rat, bounded []bool) (best []*big.Rat) {
	n := len(bounded)
	var least *big.Rat
	for set := range 1 << n {
		b, squares, ok := exactSubset(x, y, bounded, set)
		if ok && (least == nil || squares.Cmp(least) < 0) {
			best, least = b, squares
		}
	}
	return best
}

// exactSubset fits the columns of a set of bits; ok is false where a bounded one comes out negative or a free one is not in.
func exactSubset(x rational, y []*big.Rat, bounded []bool, set int) (b []*big.Rat, squares *big.Rat, ok bool) {
	var in []int
	b = make([]*big.Rat, len(bounded))
	for j := range bounded {
		b[j] = new(big.Rat)
		if set>>j&1 == 1 {
			in = append(in, j)
		} else if !bounded[j] {
			return nil, nil, false
		}
	}
	if len(in) == 0 {
		return b, dot(y, y), true
	}
	part := make(rational, len(x))
	for r := range x {
		for _, j := range in {
			part[r] = append(part[r], x[r][j])
		}
	}
	z, _, squares, ok := exactFit(part, y)
	for k, j := range in {
		if !ok || bounded[j] && z[k].Sign() < 0 {
			return nil, nil, false
		}
		b[j] = z[k]
	}
	return b, squares, ok
}

// nearest is the floating-point number nearest an exact one.
func nearest(x *big.Rat) float64 { f, _ := x.Float64(); return f }

// digits is how many significant digits of want got has, as NIST counts them: -log10 of the relative error, 15 at most; of the
// absolute one where want is 0.
func digits(got, want float64) float64 {
	off := math.Abs(got - want)
	if want != 0 {
		off /= math.Abs(want)
	}
	if off <= 1e-15 {
		return 15
	}
	return -math.Log10(off)
}

func quotient(a, b *big.Rat) *big.Rat { return new(big.Rat).Quo(a, b) }
