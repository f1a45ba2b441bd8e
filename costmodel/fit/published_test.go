package fit

import (
	"context"
	"math"
	"testing"
)

// mustFit is a fit that has to succeed.
func mustFit(t *testing.T, p Problem) *Result {
	t.Helper()
	r, err := Fit(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// TestLongleyDiagnostics holds what books print of the Longley data, from memory: the condition number of the columns scaled to
// norm 1, with intercept, 43,275 (Belsley, Kuh and Welsch 1980); the variance inflation factors (Greene, Econometric Analysis);
// Cook's distance, greatest in 1951 with 0.61 and 1962 with 0.47 (Cook 1977, table 1).
func TestLongleyDiagnostics(t *testing.T) {
	r := mustFit(t, readCertified(t, "longley").problem())
	near(t, "condition", r.Condition, 43275, 0.5)
	for j, want := range []float64{0, 135.53, 1788.51, 33.62, 3.59, 399.15, 758.98} {
		if j > 0 {
			near(t, "inflation of "+r.Coefficients[j].Name, r.Coefficients[j].Inflation, want, 0.006)
		}
	}
	near(t, "Cook 1951", r.Rows[4].Cook, 0.61, 0.006)
	near(t, "Cook 1962", r.Rows[15].Cook, 0.47, 0.006)
}

// TestStudent: intervals have the half width t times the standard error; t from the usual tables (two-sided 90, 95 and 99 %).
func TestStudent(t *testing.T) {
	for _, c := range []struct {
		set        string
		confidence float64
		freedom    int
		t          float64
	}{
		{"noint2", 0.95, 2, 4.303}, {"noint1", 0.95, 10, 2.228}, {"noint1", 0.90, 10, 1.812}, {"noint1", 0.99, 10, 3.169},
		{"longley", 0.95, 9, 2.262}, {"wampler3", 0.95, 15, 2.131}, {"wampler3", 0.99, 15, 2.947},
	} {
		p := readCertified(t, c.set).problem()
		p.Confidence = c.confidence
		r := mustFit(t, p)
		if r.Freedom != c.freedom {
			t.Errorf("%s: %d degrees of freedom", c.set, r.Freedom)
		}
		for _, e := range r.Coefficients {
			near(t, c.set+" above", (e.High-e.Value)/e.Error, c.t, 0.0006)
			near(t, c.set+" below", (e.Value-e.Low)/e.Error, c.t, 0.0006)
		}
	}
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %.10g, want %g", what, got, want)
	}
}

// bounded makes a problem of absolute errors whose coefficients must all be 0 or above.
func bounded(a [][]float64, b []float64) Problem {
	p := Problem{Weighting: Absolute}
	for j := range a[0] {
		p.Coefficients = append(p.Coefficients, Coefficient{Name: string(rune('a' + j)), NotNegative: true})
	}
	for i := range a {
		p.Rows = append(p.Rows, Row{X: a[i], Observed: b[i]})
	}
	return p
}

// TestPublishedNonNegative: the examples in the documentation of scipy.optimize.nnls (two) and of MATLAB's lsqnonneg, from memory.
func TestPublishedNonNegative(t *testing.T) {
	unit := [][]float64{{1, 0}, {1, 0}, {0, 1}}
	four := [][]float64{{0.0372, 0.2869}, {0.6861, 0.7071}, {0.6233, 0.6245}, {0.6344, 0.6170}}
	for _, c := range []struct {
		name   string
		a      [][]float64
		b      []float64
		x      []float64
		norm   float64
		within float64
	}{
		{"scipy, met", unit, []float64{2, 1, 1}, []float64{1.5, 1}, 0.7071067811865475, 1e-15},
		{"scipy, at the bounds", unit, []float64{-1, -1, -1}, []float64{0, 0}, 1.7320508075688772, 1e-15},
		{"lsqnonneg", four, []float64{0.8587, 0.1781, 0.0747, 0.8405}, []float64{0, 0.6929}, 0.9118, 0.00005},
	} {
		r := mustFit(t, bounded(c.a, c.b))
		rest := 0.0
		for _, w := range r.Rows {
			rest = math.Hypot(rest, w.Residual)
		}
		near(t, c.name+" norm", rest, c.norm, c.within)
		for j, e := range r.Coefficients {
			near(t, c.name+" "+e.Name, e.Value, c.x[j], c.within)
			if (e.State == AtBound) != (c.x[j] == 0) {
				t.Errorf("%s: %s is %s", c.name, e.Name, e.State)
			}
		}
	}
	p := bounded(four, []float64{0.8587, 0.1781, 0.0747, 0.8405})
	p.Coefficients[0].NotNegative, p.Coefficients[1].NotNegative = false, false
	r := mustFit(t, p)
	near(t, "lsqnonneg without bounds, first", r.Coefficients[0].Value, -2.5627, 0.00005)
	near(t, "lsqnonneg without bounds, second", r.Coefficients[1].Value, 3.1108, 0.00005)
}
