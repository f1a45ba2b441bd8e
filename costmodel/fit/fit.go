package fit

import (
	"context"
	"errors"
	"math"
)

// Fit finds the coefficients of p by least squares. What can't be fitted is a Refused with every reason; the other error is
// that of ctx, which is asked between rows. The time grows as rows times coefficients squared; where coefficients must not be
// negative it may grow as rows squared, since rows whose absence changes a bound are left out by fitting anew.
func Fit(ctx context.Context, p Problem) (*Result, error) {
	if r := p.check(); len(r) > 0 {
		return nil, r
	}
	s, refused := newSystem(p)
	if len(refused) > 0 {
		return nil, refused
	}
	all := factorize(s.a)
	if r := s.dependent(p, all); len(r) > 0 {
		return nil, r
	}
	l := s.solve()
	out := &Result{Of: p.of(), Weighting: p.Weighting, Confidence: p.confidence(), Freedom: len(p.Rows) - len(l.columns)}
	near, condition := dependencies(all)
	out.Condition = condition
	out.Coefficients = p.coefficients(s, l)
	out.takeInflation(s, s.inflation(p, all))
	out.takeRows(p, s, l)
	out.takeErrors(s, l)
	out.takeR2(p, s, all)
	if err := out.takeLeftOut(ctx, p, s, l, all); err != nil {
		return nil, err
	}
	out.warn(p, s, l, all, near)
	if !out.finite() {
		return nil, Refused{{Code: BeyondPrecision, Coefficients: p.found(), What: "the fit goes beyond what can be computed",
			Do: "look for a value far larger or smaller than the others, or use other units"}}
	}
	return out, nil
}

// IsRefused gives the reasons of an error of Fit that is no error of its context.
func IsRefused(err error) (Refused, bool) {
	var r Refused
	ok := errors.As(err, &r)
	return r, ok
}

// finite tells whether every number is one.
func (r *Result) finite() bool {
	total := []float64{r.ResidualSD, r.LeftOutRMS, r.R2, r.Condition}
	for _, c := range r.Coefficients {
		total = append(total, c.Value, c.Error, c.Low, c.High, c.Inflation)
	}
	for _, w := range r.Rows {
		total = append(total, w.Fitted, w.Residual, w.Share, w.Leverage, w.Cook, w.LeftOut, w.Miss)
	}
	for _, x := range total {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}
