package fit

import "gonum.org/v1/gonum/mat"

// A solution is the least-squares fit of a system's free columns, the bounded others at 0.
type solution struct {
	free      []bool // n
	columns   []int  // p: the free columns
	factor    factor // of those columns
	x         []float64
	residuals []float64 // m, of the scaled system
	leverages []float64 // m
}

// solve fits a system of full rank. A bounded column that the active set left free but that rounding takes below 0 is 0.
func (s *system) solve() *solution {
	free := nonNegative(s.a, s.y, s.bounded).free
	out := s.solveFree(free)
	for out.dropNegative(s.bounded) {
		out = s.solveFree(out.free)
	}
	return out
}

// solveFree is plain least squares of the free columns.
func (s *system) solveFree(free []bool) *solution {
	m, n := s.a.Dims()
	out := &solution{free: free, x: make([]float64, n), residuals: s.y, leverages: make([]float64, m)}
	columns, part := freeColumns(s.a, free)
	if len(columns) == 0 {
		return out
	}
	out.columns, out.factor = columns, factorize(part)
	for k, z := range out.factor.solve(out.factor.project(s.y)) {
		out.x[columns[k]] = z
	}
	out.residuals = out.factor.residuals(s.y)
	out.leverages = out.factor.leverages()
	return out
}

// dropNegative takes bounded columns at or below 0 from the free ones and tells whether there was any.
func (l *solution) dropNegative(bounded []bool) (any bool) {
	for _, j := range l.columns {
		if bounded[j] && l.x[j] <= 0 {
			l.free[j], any = false, true
		}
	}
	return any
}

// predict is what the solution gives for row i of a system with its columns, in that system's scale.
func (l *solution) predict(s *system, i int) float64 {
	return mat.Dot(mat.NewVecDense(len(l.x), s.a.RawRowView(i)), mat.NewVecDense(len(l.x), l.x))
}
