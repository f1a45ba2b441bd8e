package fit

import (
	"slices"

	"gonum.org/v1/gonum/mat"
)

// nonNegative finds which columns of a (m×n, full rank, norms near 1) are free of their bound, and x, in the least-squares solution
// for y in which those that are bounded are 0 or above: the algorithm NNLS of Lawson and Hanson (1974), 23.10, with columns that
// have no bound free from the start. A step that does not lessen the error is taken back, so that rounding can't make it circle.
func nonNegative(a mat.Matrix, y []float64, bounded []bool) *activeSet {
	s := compressed(a, y, bounded)
	for {
		j := s.mostWanted()
		if j < 0 {
			return s
		}
		s.admit(j)
	}
}

// An activeSet is a solution on its way.
type activeSet struct {
	a       *mat.Dense
	y       []float64
	bounded []bool
	free    []bool
	x       []float64
	across  func(v []float64) []float64 // what of v is not in the span of the free columns
	rest    []float64                   // that of y
	refused []bool                      // columns that did not help since the last step that did
}

// compressed turns m rows into as many as a has columns, and one: Qᵀ of a and y together, which leaves every error as it is.
func compressed(a mat.Matrix, y []float64, bounded []bool) *activeSet {
	m, n := a.Dims()
	joined := mat.NewDense(m, n+1, nil)
	joined.Slice(0, m, 0, n).(*mat.Dense).Copy(a)
	joined.SetCol(n, y)
	s := &activeSet{a: mat.DenseCopyOf(a), y: append([]float64(nil), y...), bounded: bounded, free: make([]bool, n)}
	if m > n+1 {
		var qr mat.QR
		var r mat.Dense
		qr.Factorize(joined)
		qr.RTo(&r)
		s.a, s.y = mat.DenseCopyOf(r.Slice(0, n+1, 0, n)), mat.Col(nil, n, r.Slice(0, n+1, 0, n+1))
	}
	for j, b := range bounded {
		s.free[j] = !b
	}
	s.x, s.refused = s.solve(), make([]bool, n)
	s.rest = s.across(s.y)
	return s
}

// solve is the least-squares solution of the free columns, 0 for the others.
func (s *activeSet) solve() []float64 {
	x := make([]float64, len(s.free))
	columns, part := freeColumns(s.a, s.free)
	if len(columns) == 0 {
		s.across = func(v []float64) []float64 { return v }
		return x
	}
	f := factorize(part)
	s.across = f.residuals
	for k, z := range f.solve(f.project(s.y)) {
		x[columns[k]] = z
	}
	return x
}

// freeColumns are the numbers of the free columns, and a matrix of them alone.
func freeColumns(a *mat.Dense, free []bool) (columns []int, part *mat.Dense) {
	for j, is := range free {
		if is {
			columns = append(columns, j)
		}
	}
	if len(columns) == 0 {
		return nil, nil
	}
	m, _ := a.Dims()
	part = mat.NewDense(m, len(columns), nil)
	for k, j := range columns {
		part.SetCol(k, mat.Col(nil, j, a))
	}
	return columns, part
}

// mostWanted is the column at its bound whose growth lessens the error most, beyond rounding, or -1. Judged is what of it the free
// columns can't give: beside that, its product with the rest vanishes in rounding long before the columns depend on each other.
func (s *activeSet) mostWanted() int {
	best, most := -1, 0.0
	for j, free := range s.free {
		if free || s.refused[j] {
			continue
		}
		column := mat.Col(nil, j, s.a)
		across := s.across(column)
		length := norm(across)
		if length == 0 {
			continue
		}
		pull := mat.Dot(mat.NewVecDense(len(across), across), mat.NewVecDense(len(s.rest), s.rest)) / length
		doubt := rounding(len(s.x)) * (norm(s.y) + norm(s.rest)*norm(column)/length)
		if pull > doubt && pull > most {
			best, most = j, pull
		}
	}
	return best
}

// rounding is what a sum of products of vectors of norm 1 may be wrong by.
func rounding(n int) float64 { return 4 * float64(n+1) * epsilon }

// admit frees column j and takes the step, unless that doesn't lessen the error.
func (s *activeSet) admit(j int) {
	before := *s
	s.free, s.x = slices.Clone(s.free), slices.Clone(s.x)
	s.free[j] = true
	z := s.solve()
	for s.stepTowards(z) {
		z = s.solve()
	}
	s.x = z
	if s.rest = s.across(s.y); norm(s.rest) < norm(before.rest) {
		clear(s.refused)
		return
	}
	*s = before
	s.refused[j] = true
}

// stepTowards goes from x towards z as far as the bounds allow and holds those that it meets; it tells whether it met any.
func (s *activeSet) stepTowards(z []float64) (met bool) {
	share := 1.0
	for k := range z {
		if s.leaves(k, z) {
			share = min(share, shareTo0(s.x[k], z[k]))
		}
	}
	for k := range z {
		meets := s.leaves(k, z) && shareTo0(s.x[k], z[k]) <= share
		s.x[k] += share * (z[k] - s.x[k])
		if meets {
			s.x[k], s.free[k], met = 0, false, true
		}
	}
	return met
}

// leaves tells whether free column k reaches its bound at z or before.
func (s *activeSet) leaves(k int, z []float64) bool { return s.free[k] && s.bounded[k] && z[k] <= 0 }

// shareTo0 is which share of the way from x to z ≤ 0 ends at 0.
func shareTo0(x, z float64) float64 {
	if x <= 0 {
		return 0
	}
	return x / (x - z)
}
