package fit

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// coefficients are the values and states, in the problem's order and measure.
func (p Problem) coefficients(s *system, l *solution) []Estimate {
	out := make([]Estimate, len(p.Coefficients))
	for j, c := range p.Coefficients {
		out[j] = Estimate{Name: c.Name, Value: c.Value, State: Held, Low: c.Value, High: c.Value}
	}
	for k, j := range s.index {
		e := &out[j]
		e.Value, e.State = s.unscaled(k, l.x[k]), Found
		if !l.free[k] {
			e.Value, e.State = 0, AtBound
		}
		e.Low, e.High = e.Value, e.Value
	}
	return out
}

func (r *Result) takeInflation(s *system, inflation []float64) {
	for k, j := range s.index {
		r.Coefficients[j].Inflation = max(1, inflation[k])
	}
}

// takeErrors fills standard errors and intervals of the coefficients that were found: residual standard deviation times the root
// of the diagonal of the inverse of XᵀX (Draper and Smith, Applied Regression Analysis, 5.1), and Student's t.
func (r *Result) takeErrors(s *system, l *solution) {
	if len(l.columns) == 0 {
		return
	}
	t := distuv.StudentsT{Sigma: 1, Nu: float64(r.Freedom)}.Quantile(0.5 + r.Confidence/2)
	for k, spread := range l.factor.spread() {
		e := &r.Coefficients[s.index[l.columns[k]]]
		e.Error = r.ResidualSD * math.Sqrt(spread) / s.column[l.columns[k]]
		e.Low, e.High = e.Value-t*e.Error, e.Value+t*e.Error
	}
}

// Of a constant that the columns make up nothing but rounding is left.
const nothingLeft = 1e-10

// takeR2 compares the errors with those of the mean where the columns can make up a constant, else with those of 0.
func (r *Result) takeR2(p Problem, s *system, all factor) {
	observed := make([]float64, len(p.Rows))
	for i := range observed {
		observed[i] = s.weight[i] * p.Rows[i].Observed
	}
	r.AboutMean = norm(all.residuals(s.weight)) <= nothingLeft*norm(s.weight)
	length := norm(observed)
	if r.AboutMean {
		observed = centred(observed, s.weight)
	}
	spread := norm(observed)
	r.HasR2 = spread > nothingLeft*length
	if r.HasR2 {
		share := r.ResidualSD * math.Sqrt(float64(r.Freedom)) / spread
		r.R2 = 1 - share*share
	}
}

// fitted is what coefficients give for row i: their sum of products with its values, from the problem's own numbers.
func (p Problem) fitted(coefficients []Estimate, i int) float64 {
	values := make([]float64, len(coefficients))
	for j, c := range coefficients {
		values[j] = c.Value
	}
	return mat.Dot(mat.NewVecDense(len(values), values), mat.NewVecDense(len(values), p.Rows[i].X))
}
