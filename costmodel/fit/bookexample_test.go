package fit

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// TestCurveOfLawsonAndHanson is the constrained curve of Lawson and Hanson (1974), 23.7, from memory and computed by hand: the line
// x1 t + x2 nearest (0.25, 0.5), (0.5, 0.6), (0.5, 0.7), (0.8, 1.2) that rises, starts at 0 or above and is at most 1 at t = 1.
// The book prints x = (0.621, 0.379) and the norm 0.338 of what is left. By hand: the bound at t = 1 holds, so x2 = 1 - x1 and
// x1 = sum (t-1)(w-1) / sum (t-1)² = 0.685 / 1.1025. The way there is the book's: inequalities to a least distance
// (equations 23.29 to 23.32), that to non-negative least squares with as many rows as unknowns.
func TestCurveOfLawsonAndHanson(t *testing.T) {
	e := mat.NewDense(4, 2, []float64{0.25, 1, 0.5, 1, 0.5, 1, 0.8, 1})
	f := mat.NewVecDense(4, []float64{0.5, 0.6, 0.7, 1.2})
	g := mat.NewDense(3, 2, []float64{1, 0, 0, 1, -1, -1})
	h := []float64{0, 0, -1}

	var svd mat.SVD
	svd.Factorize(e, mat.SVDThin)
	var u, v mat.Dense
	svd.UTo(&u)
	svd.VTo(&v)
	var target mat.VecDense // U'f
	target.MulVec(u.T(), f)
	var k mat.Dense // x = k (z + U'f)
	inverse := mat.NewDiagDense(2, []float64{1 / svd.Values(nil)[0], 1 / svd.Values(nil)[1]})
	k.Mul(&v, inverse)
	z := leastDistance(g, &k, &target, h)
	z.AddVec(z, &target)
	var x, rest mat.VecDense
	x.MulVec(&k, z)
	rest.MulVec(e, &x)
	rest.SubVec(f, &rest)

	near(t, "book x1", x.AtVec(0), 0.621, 0.0005)
	near(t, "book x2", x.AtVec(1), 0.379, 0.0005)
	near(t, "book norm", mat.Norm(&rest, 2), 0.338, 0.0005)
	near(t, "by hand x1", x.AtVec(0), 0.685/1.1025, 1e-14)
	near(t, "by hand x2", x.AtVec(1), 1-0.685/1.1025, 1e-14)
}

// leastDistance is the shortest z with g k z ≥ h - g k target: NNLS of (gk)ᵀ over its right side, for (0, 0, 1).
func leastDistance(g, k *mat.Dense, target *mat.VecDense, h []float64) *mat.VecDense {
	var gk mat.Dense
	gk.Mul(g, k)
	var given mat.VecDense
	given.MulVec(&gk, target)
	a := mat.NewDense(3, 3, nil)
	for j := range h {
		a.Set(0, j, gk.At(j, 0))
		a.Set(1, j, gk.At(j, 1))
		a.Set(2, j, h[j]-given.AtVec(j))
	}
	s := nonNegative(a, []float64{0, 0, 1}, []bool{true, true, true})
	last := s.rest[2]
	if math.Abs(last) < 1e-12 {
		panic("the constraints contradict each other")
	}
	return mat.NewVecDense(2, []float64{-s.rest[0] / last, -s.rest[1] / last})
}
