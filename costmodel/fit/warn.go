package fit

import (
	"fmt"
	"math"
)

// Bounds from which one row is said to dominate: a Cook's distance above 1 (Cook and Weisberg, Residuals and Influence in
// Regression, 1982) or a leverage that is at least half (Huber, Robust Statistics, 1981) and twice the mean (Hoaglin and Welsch,
// American Statistician 32, 1978).
const (
	strongCook     = 1
	strongLeverage = 0.5
	timesMean      = 2
)

// warn fills the warnings and marks the coefficients that they make unreliable.
func (r *Result) warn(p Problem, s *system, l *solution, all factor, near []dependency) {
	r.Warnings = append(r.Warnings, s.nearlyDependent(p, near)...)
	r.Warnings = append(r.Warnings, r.rowsAlone(p, s, all)...)
	for _, f := range r.Warnings {
		for _, j := range f.Coefficients {
			r.Coefficients[j].Unreliable = true
		}
	}
	for _, j := range r.Bounds() {
		r.Warnings = append(r.Warnings, Finding{Code: AtItsBound, Coefficients: []int{j},
			What: p.name(j) + " would come out negative and is 0; these data don't speak for it",
			Do:   "ask whether another coefficient already covers it, or hold it at a value that you know"})
	}
	r.Warnings = append(r.Warnings, r.dominant(p, len(l.columns))...)
}

// rowsAlone warns of rows without which a coefficient could not be found.
func (r *Result) rowsAlone(p Problem, s *system, all factor) (warnings []Finding) {
	for i, w := range r.Rows {
		if w.HasLeftOut {
			continue
		}
		lost := all.solve(all.q.RawRowView(i)) // the direction that only this row tells of
		most := largest(lost)
		var js []int
		for k, x := range lost {
			if math.Abs(x) > noPart*most {
				js = append(js, s.index[k])
			}
		}
		warnings = append(warnings, Finding{Code: RowAlone, Coefficients: js, Rows: []int{i},
			What: fmt.Sprintf("only %s tells %s; its error can't be seen", p.label(i), p.names(js)),
			Do:   "add another row like it, or hold one of them at a value"})
	}
	return warnings
}

// largest is the greatest magnitude.
func largest(x []float64) (most float64) {
	for _, v := range x {
		most = max(most, math.Abs(v))
	}
	return most
}

// dominant warns of rows that move the whole fit.
func (r *Result) dominant(p Problem, coefficients int) (warnings []Finding) {
	mean := float64(coefficients) / float64(len(r.Rows))
	for i, w := range r.Rows {
		pulls := w.Cook > strongCook
		if !w.HasLeftOut || !pulls && w.Leverage < max(strongLeverage, timesMean*mean) {
			continue
		}
		f := Finding{Code: RowDominates, Rows: []int{i}, Do: "check it; see what the fit is without it; add rows near it"}
		f.What = fmt.Sprintf("%s lies far from the others and largely determines its own fitted value (leverage %.2f of at most 1, %.2f on average)",
			p.label(i), w.Leverage, mean)
		if pulls {
			f.What = fmt.Sprintf("%s dominates the fit (Cook's distance %.3g, above %d is strong)", p.label(i), w.Cook, strongCook)
		}
		warnings = append(warnings, f)
	}
	return warnings
}
