package fit

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// A system is a problem as least squares see it: the coefficients to be found alone, rows weighted, columns and target scaled
// by powers of two, so that scaling rounds nothing, to a norm near 1.
type system struct {
	a       *mat.Dense // m×n
	y       []float64  // m: observed less what the held coefficients give
	weight  []float64  // m
	column  []float64  // n: what each column was divided by
	target  float64    // what y was divided by
	index   []int      // n: the coefficient of each column
	bounded []bool     // n: must not be negative
}

// newSystem makes the system of a checked problem. A column of zeros is refused.
func newSystem(p Problem) (*system, Refused) {
	m := len(p.Rows)
	s := &system{index: p.found(), y: make([]float64, m), weight: make([]float64, m)}
	s.a = mat.NewDense(m, len(s.index), nil)
	for i := range p.Rows {
		s.weight[i] = p.weight(i)
		s.y[i] = s.weight[i] * p.lessHeld(i)
		for k, j := range s.index {
			s.a.Set(i, k, s.weight[i]*p.Rows[i].X[j])
		}
	}
	s.target = scale(s.y)
	return s, s.scaleColumns(p)
}

// lessHeld is what row i has observed less what the held coefficients give.
func (p Problem) lessHeld(i int) float64 {
	rest := p.Rows[i].Observed
	for j, c := range p.Coefficients {
		if c.Held {
			rest = math.FMA(-c.Value, p.Rows[i].X[j], rest)
		}
	}
	return rest
}

func (s *system) scaleColumns(p Problem) (r Refused) {
	column := make([]float64, len(s.y))
	for k, j := range s.index {
		mat.Col(column, k, s.a)
		by := scale(column)
		s.a.SetCol(k, column)
		s.column = append(s.column, by)
		s.bounded = append(s.bounded, p.Coefficients[j].NotNegative)
		if norm(column) == 0 {
			r = append(r, Finding{Code: NoData, Coefficients: []int{j}, What: p.name(j) + " is multiplied by 0 in every row; the data tell nothing of it",
				Do: "hold it at a value, or add rows that have it"})
		}
	}
	return r
}

// scale divides x by the power of two nearest its norm, and gives it. Zeros are divided by 1.
func scale(x []float64) float64 {
	n := norm(x)
	if n == 0 {
		return 1
	}
	by := math.Exp2(math.Round(math.Log2(n)))
	for i := range x {
		x[i] /= by
	}
	return by
}

// norm is the Euclidean norm, without overflow.
func norm(x []float64) float64 { return mat.Norm(mat.NewVecDense(len(x), x), 2) }

// unscaled is the coefficient of column k in the problem's own measure.
func (s *system) unscaled(k int, x float64) float64 { return x * (s.target / s.column[k]) }

// without is the system with row i left out.
func (s *system) without(i int) *system {
	m, n := s.a.Dims()
	t := *s
	t.a = mat.NewDense(m-1, n, nil)
	t.y = make([]float64, 0, m-1)
	for from := range m {
		if from != i {
			t.a.SetRow(len(t.y), s.a.RawRowView(from))
			t.y = append(t.y, s.y[from])
		}
	}
	return &t
}
