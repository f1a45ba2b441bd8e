package fit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// smoothProblem has values as a tool's past might: figures of different measure, prices over decades, some scatter.
func smoothProblem(rnd *rand.Rand, scatter float64) (p Problem, truth []float64) {
	names, size := []string{"intercept", "face area", "stages", "features"}, []float64{1, 40, 6, 25}
	truth = []float64{1500, 310, 4200, 0}
	for _, name := range names {
		p.Coefficients = append(p.Coefficients, Coefficient{Name: name, NotNegative: name != "intercept"})
	}
	truth[3] = 90 * rnd.Float64()
	for i := range 8 + rnd.IntN(12) {
		row := Row{Label: fmt.Sprintf("tool %d", i)}
		for j := range names {
			x := 1.0
			if j > 0 {
				x = size[j] * math.Exp(2*rnd.Float64()-1)
			}
			row.X = append(row.X, x)
			row.Observed += x * truth[j]
		}
		row.Observed *= 1 + scatter*(2*rnd.Float64()-1)
		p.Rows = append(p.Rows, row)
	}
	p.Of, p.Weighting = "tool price", Weighting(rnd.IntN(2))
	return p, truth
}

// each runs a property on 200 problems.
func each(t *testing.T, scatter float64, f func(t *testing.T, rnd *rand.Rand, p Problem, truth []float64)) {
	rnd := rand.New(rand.NewPCG(3, 14))
	for range 200 {
		p, truth := smoothProblem(rnd, scatter)
		f(t, rnd, p, truth)
	}
}

// alike compares to within rounding.
func alike(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-8*(1e-3+max(math.Abs(got), math.Abs(want))) {
		t.Fatalf("%s: %.12g, want %.12g", what, got, want)
	}
}

// sameFit compares what does not depend on how columns are measured or rows ordered.
func sameFit(t *testing.T, got, want *Result) {
	t.Helper()
	alike(t, "residual standard deviation", got.ResidualSD, want.ResidualSD)
	alike(t, "left-out error", got.LeftOutRMS, want.LeftOutRMS)
	alike(t, "R2", got.R2, want.R2)
	alike(t, "condition", got.Condition, want.Condition)
	if got.Freedom != want.Freedom || got.AboutMean != want.AboutMean || len(got.Warnings) != len(want.Warnings) {
		t.Fatalf("%d %v %v, want %d %v %v", got.Freedom, got.AboutMean, got.Warnings, want.Freedom, want.AboutMean, want.Warnings)
	}
}

func TestExactDataAreRecovered(t *testing.T) {
	each(t, 0, func(t *testing.T, _ *rand.Rand, p Problem, truth []float64) {
		r := mustFit(t, p)
		for j, c := range r.Coefficients {
			alike(t, c.Name, c.Value, truth[j])
		}
		for _, w := range r.Rows {
			near(t, "share", w.Share, 0, 1e-12)
			near(t, "Cook", w.Cook, 0, 0)
		}
	})
}

func TestScalingAColumnScalesItsCoefficient(t *testing.T) {
	each(t, 0.4, func(t *testing.T, rnd *rand.Rand, p Problem, _ []float64) {
		j, by := 1+rnd.IntN(3), math.Pow(10, float64(rnd.IntN(13)-6))
		before := mustFit(t, p)
		for i := range p.Rows {
			p.Rows[i].X[j] *= by
		}
		after := mustFit(t, p)
		sameFit(t, after, before)
		for k := range p.Coefficients {
			share := 1.0
			if k == j {
				share = by
			}
			got, want := after.Coefficients[k], before.Coefficients[k]
			alike(t, "value", got.Value*share, want.Value)
			alike(t, "error", got.Error*share, want.Error)
			alike(t, "low", got.Low*share, want.Low)
			alike(t, "inflation", got.Inflation, want.Inflation)
		}
	})
}

func TestOrderChangesNothing(t *testing.T) {
	each(t, 0.4, func(t *testing.T, rnd *rand.Rand, p Problem, _ []float64) {
		before := mustFit(t, p)
		rows, columns := rnd.Perm(len(p.Rows)), rnd.Perm(len(p.Coefficients))
		q := Problem{Of: p.Of, Weighting: p.Weighting}
		for _, j := range columns {
			q.Coefficients = append(q.Coefficients, p.Coefficients[j])
		}
		for _, i := range rows {
			row := p.Rows[i]
			row.X = nil
			for _, j := range columns {
				row.X = append(row.X, p.Rows[i].X[j])
			}
			q.Rows = append(q.Rows, row)
		}
		after := mustFit(t, q)
		sameFit(t, after, before)
		for k, j := range columns {
			alike(t, "value", after.Coefficients[k].Value, before.Coefficients[j].Value)
			alike(t, "error", after.Coefficients[k].Error, before.Coefficients[j].Error)
		}
		for k, i := range rows {
			alike(t, "leverage", after.Rows[k].Leverage, before.Rows[i].Leverage)
			alike(t, "miss", after.Rows[k].Miss, before.Rows[i].Miss)
		}
	})
}

// TestOtherCurrency: prices times a factor are coefficients times that factor, with the same relative errors.
func TestOtherCurrency(t *testing.T) {
	each(t, 0.4, func(t *testing.T, _ *rand.Rand, p Problem, _ []float64) {
		before := mustFit(t, p)
		for i := range p.Rows {
			p.Rows[i].Observed *= 0.07
		}
		after := mustFit(t, p)
		for j := range p.Coefficients {
			alike(t, "value", after.Coefficients[j].Value, 0.07*before.Coefficients[j].Value)
			alike(t, "high", after.Coefficients[j].High, 0.07*before.Coefficients[j].High)
		}
		for i, w := range after.Rows {
			alike(t, "share", w.Share, before.Rows[i].Share)
		}
	})
}

// TestRelativeErrorsDontSeeARowsSize: a row and its price four times as large are the same to relative errors.
func TestRelativeErrorsDontSeeARowsSize(t *testing.T) {
	each(t, 0.4, func(t *testing.T, rnd *rand.Rand, p Problem, _ []float64) {
		p.Weighting = Relative
		before := mustFit(t, p)
		i := rnd.IntN(len(p.Rows))
		p.Rows[i].Observed *= 4
		for j := range p.Rows[i].X {
			p.Rows[i].X[j] *= 4
		}
		after := mustFit(t, p)
		for j := range p.Coefficients {
			alike(t, "value", after.Coefficients[j].Value, before.Coefficients[j].Value)
			alike(t, "error", after.Coefficients[j].Error, before.Coefficients[j].Error)
		}
	})
}

// TestHeldIsTakenOff: a coefficient held at the value that the fit found changes no other.
func TestHeldIsTakenOff(t *testing.T) {
	each(t, 0.4, func(t *testing.T, rnd *rand.Rand, p Problem, _ []float64) {
		before := mustFit(t, p)
		p.Coefficients[2].Held, p.Coefficients[2].Value = true, before.Coefficients[2].Value
		after := mustFit(t, p)
		for j := range p.Coefficients {
			alike(t, "value", after.Coefficients[j].Value, before.Coefficients[j].Value)
		}
		if c := after.Coefficients[2]; c.State != Held || c.Error != 0 {
			t.Fatalf("held: %+v", c)
		}
	})
}

// TestLeveragesAddUp: they are the trace of a projection, the number of coefficients found.
func TestLeveragesAddUp(t *testing.T) {
	each(t, 0.9, func(t *testing.T, _ *rand.Rand, p Problem, _ []float64) {
		r, sum := mustFit(t, p), 0.0
		for _, w := range r.Rows {
			sum += w.Leverage
		}
		alike(t, "sum of leverages", sum, float64(len(p.Coefficients)-len(r.Bounds())))
	})
}

// TestWeightIsManyRows: a row of weight 2 has the pull of four rows.
func TestWeightIsManyRows(t *testing.T) {
	each(t, 0.4, func(t *testing.T, _ *rand.Rand, p Problem, _ []float64) {
		q := p
		q.Rows = append(append([]Row(nil), p.Rows...), p.Rows[0], p.Rows[0], p.Rows[0])
		p.Rows[0].Weight = 2
		one, four := mustFit(t, p), mustFit(t, q)
		for j := range p.Coefficients {
			alike(t, "value", one.Coefficients[j].Value, four.Coefficients[j].Value)
		}
	})
}

// TestWeightings by hand: price = b x for (1, 10) and (10, 200). Relative: (1/10 + 10/200) / (1/100 + 100/40000) = 12; absolute:
// (10 + 2000) / (1 + 100) = 19.90.
func TestWeightings(t *testing.T) {
	p := Problem{Coefficients: []Coefficient{{Name: "b"}}, Rows: []Row{{X: []float64{1}, Observed: 10}, {X: []float64{10}, Observed: 200}}}
	near(t, "relative", mustFit(t, p).Coefficients[0].Value, 12, 1e-13)
	// the errors are -0.2 and 0.4 of the prices, one degree of freedom
	near(t, "relative deviation", mustFit(t, p).ResidualSD, math.Sqrt(0.2), 1e-13)
	p.Weighting = Absolute
	near(t, "absolute", mustFit(t, p).Coefficients[0].Value, 2010.0/101, 1e-13)
}

// TestRoundingIsNotNegative: where a coefficient is truly 0, rounding may take it to either side; a bounded one stays at 0 or above.
func TestRoundingIsNotNegative(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 5))
	for range 3000 {
		p := Problem{Weighting: Weighting(rnd.IntN(2))}
		n := 2 + rnd.IntN(4)
		for j := range n {
			p.Coefficients = append(p.Coefficients, Coefficient{Name: fmt.Sprint(j), NotNegative: true})
		}
		for range n + 1 + rnd.IntN(4) {
			row := Row{X: []float64{1 + rnd.Float64()}}
			for range n - 1 {
				row.X = append(row.X, row.X[0]*(1+1e-5*rnd.Float64()))
			}
			row.Observed = row.X[0] + row.X[1]
			p.Rows = append(p.Rows, row)
		}
		for j, c := range mustFit(t, p).Coefficients {
			near(t, "nearly parallel columns, "+c.Name, c.Value, float64(max(0, min(1, 2-j))), 1e-7)
			if c.Value < 0 || math.Signbit(c.Value) {
				t.Fatalf("%s is %g (%s)", c.Name, c.Value, c.State)
			}
		}
	}
}

// TestAtTheBoundIsLeftOut: a fit with coefficients at their bound has the statistics of a fit without them, as doc.go says.
func TestAtTheBoundIsLeftOut(t *testing.T) {
	seen := 0
	each(t, 0.9, func(t *testing.T, _ *rand.Rand, p Problem, _ []float64) {
		with := mustFit(t, p)
		seen += len(with.Bounds())
		q := p
		q.Coefficients = append([]Coefficient(nil), p.Coefficients...)
		for _, j := range with.Bounds() {
			q.Coefficients[j].Held, q.Coefficients[j].Value = true, 0
		}
		without := mustFit(t, q)
		if with.Freedom != without.Freedom || with.Freedom != len(p.Rows)-len(p.Coefficients)+len(with.Bounds()) {
			t.Fatalf("%d and %d degrees of freedom", with.Freedom, without.Freedom)
		}
		alike(t, "residual standard deviation", with.ResidualSD, without.ResidualSD)
		for j := range p.Coefficients {
			alike(t, "error", with.Coefficients[j].Error, without.Coefficients[j].Error)
			alike(t, "high", with.Coefficients[j].High, without.Coefficients[j].High)
		}
		for i := range p.Rows {
			alike(t, "Cook", with.Rows[i].Cook, without.Rows[i].Cook)
		}
	})
	if seen < 50 {
		t.Errorf("only %d at their bound", seen)
	}
}
