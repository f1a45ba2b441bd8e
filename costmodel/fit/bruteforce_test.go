package fit

import (
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"testing"
)

// randomProblem has small whole numbers, so that bounds are met, ties come up and an exact solver stays fast.
func randomProblem(rnd *rand.Rand) Problem {
	n := 1 + rnd.IntN(4)
	p := Problem{Of: "tool price", Weighting: Weighting(rnd.IntN(2))}
	for j := range n {
		c := Coefficient{Name: fmt.Sprintf("c%d", j), NotNegative: rnd.IntN(4) > 0}
		if j > 0 && rnd.IntN(6) == 0 {
			c.Held, c.Value = true, float64(rnd.IntN(4))
		}
		p.Coefficients = append(p.Coefficients, c)
	}
	joined := rnd.IntN(6) == 0
	for i := range n + 1 + rnd.IntN(4) {
		row := Row{Label: fmt.Sprintf("T%d", i), Observed: float64(1 + rnd.IntN(20))}
		for range n {
			row.X = append(row.X, float64(max(0, rnd.IntN(12)-3)-rnd.IntN(3)/2))
		}
		if n > 1 && joined {
			row.X[n-1] = 2 * row.X[0]
		}
		if rnd.IntN(3) == 0 {
			row.Weight = float64(1 + rnd.IntN(3))
		}
		p.Rows = append(p.Rows, row)
	}
	return p
}

// exactSystem is a problem's weighted rows and target without those to be left out, in exact numbers, made from the problem by
// its description: weights, 1/observed where relative, held coefficients taken off.
func exactSystem(p Problem, leftOut int) (x rational, y []*big.Rat, bounds []bool) {
	for _, c := range p.Coefficients {
		if !c.Held {
			bounds = append(bounds, c.NotNegative)
		}
	}
	for i, row := range p.Rows {
		if i == leftOut {
			continue
		}
		values, target := exactRow(p, row)
		weight := exactly([]float64{max(row.Weight, 1)})[0]
		if p.Weighting == Relative {
			weight = quotient(weight, exactly([]float64{math.Abs(row.Observed)})[0])
		}
		for k := range values {
			values[k] = product(values[k], weight)
		}
		x, y = append(x, values), append(y, product(target, weight))
	}
	return x, y, bounds
}

// exactRow is a row without weight: the values of the coefficients to be found, and observed less what the held ones give.
func exactRow(p Problem, row Row) (values []*big.Rat, target *big.Rat) {
	target = exactly([]float64{row.Observed})[0]
	for j, v := range exactly(row.X) {
		if c := p.Coefficients[j]; c.Held {
			target.Sub(target, product(v, exactly([]float64{c.Value})[0]))
		} else {
			values = append(values, v)
		}
	}
	return values, target
}

// TestBruteForce compares with an exact solution over all sets of bounds, and each left-out row with an exact solution without it.
func TestBruteForce(t *testing.T) {
	rnd := rand.New(rand.NewPCG(14, 2))
	fitted, refused, atBound, alone := 0, 0, 0, 0
	for range 600 {
		p := randomProblem(rnd)
		x, y, bounds := exactSystem(p, -1)
		_, _, _, independent := exactFit(x, y)
		r, err := Fit(t.Context(), p)
		if (err == nil) != independent {
			t.Fatalf("%+v: %v, but independent is %v", p, err, independent)
		}
		if err != nil {
			refused++
			continue
		}
		fitted++
		best := exactNonNegative(x, y, bounds)
		k := 0
		for j, c := range r.Coefficients {
			if c.State == Held {
				continue
			}
			if want := nearest(best[k]); math.Abs(c.Value-want) > 1e-10*(1+math.Abs(want)) || c.State == AtBound && want != 0 {
				t.Fatalf("%+v\n%s is %g (%s), want %g", p, p.name(j), c.Value, c.State, want)
			}
			if c.State == AtBound {
				atBound++
			}
			k++
		}
		alone += compareLeftOut(t, p, r)
	}
	t.Logf("%d fitted, %d refused, %d coefficients at their bound, %d rows alone", fitted, refused, atBound, alone)
	if fitted < 400 || refused < 40 || atBound < 200 || alone < 20 {
		t.Errorf("too few of a kind: %d fitted, %d refused, %d at their bound, %d alone", fitted, refused, atBound, alone)
	}
}

// compareLeftOut holds each prediction by the others against an exact one, and tells how many rows have none.
func compareLeftOut(t *testing.T, p Problem, r *Result) (alone int) {
	t.Helper()
	total, rows := 0.0, 0
	for i, w := range r.Rows {
		x, y, bounds := exactSystem(p, i)
		_, _, _, independent := exactFit(x, y)
		if independent != w.HasLeftOut {
			t.Fatalf("%+v\n%s: others suffice is %v, exactly %v", p, p.label(i), w.HasLeftOut, independent)
		}
		if !independent {
			alone++
			continue
		}
		values, target := exactRow(p, p.Rows[i])
		want := nearest(target.Sub(target, dot(values, exactNonNegative(x, y, bounds))))
		if math.Abs(w.Miss-want) > 1e-9*(1+math.Abs(want)) {
			t.Fatalf("%+v\n%s misses by %g, exactly %g", p, p.label(i), w.Miss, want)
		}
		near(t, "left out and miss", w.LeftOut+w.Miss, w.Observed, 1e-9*(1+math.Abs(want)))
		weighted := want * p.weight(i)
		total, rows = total+weighted*weighted, rows+1
	}
	if rows > 0 {
		near(t, "root mean square of the misses", r.LeftOutRMS, math.Sqrt(total/float64(rows)), 1e-9*(1+r.LeftOutRMS))
	}
	return alone
}
