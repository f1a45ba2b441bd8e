package fit

import "math"

// Below this share of what is observed errors are rounding: the fit is exact, and no row can be said to pull it.
const exactShare = 1e-10

// takeRows fills how far each row is from the fit, the residual standard deviation, and the pull of each row.
func (r *Result) takeRows(p Problem, s *system, l *solution) {
	errors, size := make([]float64, len(p.Rows)), 0.0
	r.Rows = make([]RowFit, len(p.Rows))
	for i, row := range p.Rows {
		fitted := p.fitted(r.Coefficients, i)
		w := RowFit{Label: row.Label, Observed: row.Observed, Fitted: fitted, Residual: row.Observed - fitted, Leverage: l.leverages[i]}
		if row.Observed != 0 {
			w.Share = w.Residual / math.Abs(row.Observed)
		}
		errors[i] = s.weight[i] * w.Residual
		size = math.Hypot(size, s.weight[i]*row.Observed)
		r.Rows[i] = w
	}
	length := norm(errors)
	r.ResidualSD = length / math.Sqrt(float64(r.Freedom))
	if length > exactShare*size {
		r.takeCook(errors, len(l.columns))
	}
}

// takeCook fills Cook's distances: by how much the fitted values of all rows move when one row is left out, over the number of
// coefficients and the residual variance (Cook 1977, equation 8).
func (r *Result) takeCook(errors []float64, coefficients int) {
	for i := range r.Rows {
		w := &r.Rows[i]
		rest := 1 - w.Leverage
		if rest <= alone || coefficients == 0 {
			continue
		}
		e := errors[i] / r.ResidualSD
		w.Cook = e * e * w.Leverage / (rest * rest * float64(coefficients))
	}
}
