package fit

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// TestWarnings: each doubt is said where it is, and not where it isn't.
func TestWarnings(t *testing.T) {
	for _, c := range []struct {
		name  string
		spoil func(p *Problem)
		code  Code // none where empty
		says  []string
		about []int
		rows  []int
	}{
		{"nothing to say", func(*Problem) {}, "", nil, nil, nil},
		{"nearly a multiple", func(p *Problem) {
			column(p, 2, func(x []float64) float64 { return 3*x[1] + 0.01*math.Mod(x[1]*x[1], 3) })
		}, NearlyDependent,
			[]string{"can hardly tell `face area` and `stages` apart", "condition index", "hold one of them"}, []int{1, 2}, nil},
		{"hardly varies", func(p *Problem) { column(p, 2, func(x []float64) float64 { return 50 + x[2]/10 }) }, NearlyDependent,
			[]string{"can hardly tell `intercept` and `stages` apart"}, []int{0, 2}, nil},
		{"speaks against", func(p *Problem) {
			for i := range p.Rows {
				p.Rows[i].Observed = 100 + 3*p.Rows[i].X[1] - 5*p.Rows[i].X[2] + float64(i%2)
			}
		}, AtItsBound, []string{"`stages` would come out negative and is 0"}, []int{2}, nil},
		{"alone", func(p *Problem) { column(p, 2, func([]float64) float64 { return 0 }); p.Rows[3].X[2] = 4 }, RowAlone,
			[]string{"only row `T4` tells `stages`", "add another row like it"}, []int{2}, []int{3}},
		{"far off", func(p *Problem) { p.Rows[5].X[1] = 40 }, RowDominates, []string{"row `T6` dominates the fit (Cook's distance"}, nil, []int{5}},
		{"far out", func(p *Problem) {
			p.Rows[5].X[1] = 100
			for i := range p.Rows {
				p.Rows[i].Observed = 10 + 3*p.Rows[i].X[1] + 5*p.Rows[i].X[2]
			}
		}, RowDominates,
			[]string{"row `T6` lies far from the others", "leverage 0.99 of at most 1, 0.30 on average"}, nil, []int{5}},
	} {
		p := tools()
		p.Weighting = Absolute
		c.spoil(&p)
		r := mustFit(t, p)
		if c.code == "" {
			if len(r.Warnings) > 0 {
				t.Errorf("%s: %v", c.name, r.Warnings)
			}
			continue
		}
		i := slices.IndexFunc(r.Warnings, func(f Finding) bool { return f.Code == c.code })
		if i < 0 {
			t.Errorf("%s: only %v", c.name, r.Warnings)
			continue
		}
		f := r.Warnings[i]
		if !slices.Equal(f.Coefficients, c.about) || !slices.Equal(f.Rows, c.rows) {
			t.Errorf("%s: %+v", c.name, f)
		}
		for _, words := range c.says {
			if !strings.Contains(f.String(), words) {
				t.Errorf("%s: no %q in %q", c.name, words, f)
			}
		}
	}
}

// TestLeverageOfManyRows: 2.5 times the others' size among 20 rows is a leverage of 2.5² / (19 + 2.5²) = 0.25: five times the mean,
// and nothing to warn of.
func TestLeverageOfManyRows(t *testing.T) {
	p := Problem{Weighting: Absolute, Coefficients: []Coefficient{{Name: "stages"}}}
	for i := range 20 {
		p.Rows = append(p.Rows, Row{X: []float64{1}, Observed: 10 + float64(i%3)})
	}
	p.Rows[7].X[0], p.Rows[7].Observed = 2.5, 27
	r := mustFit(t, p)
	near(t, "leverage", r.Rows[7].Leverage, 6.25/25.25, 1e-14)
	if len(r.Warnings) > 0 {
		t.Errorf("%v", r.Warnings)
	}
}

// TestTwoNearDependencies are two warnings, each with its own coefficients.
func TestTwoNearDependencies(t *testing.T) {
	p := tools()
	p.Coefficients = append(p.Coefficients, Coefficient{Name: "features"}, Coefficient{Name: "cavities"})
	for i := range p.Rows {
		x := p.Rows[i].X
		p.Rows[i].X = append(x, 3*x[1]+0.001*math.Sin(float64(7*i)), 2*x[2]+0.03*math.Cos(float64(5*i)))
	}
	var said [][]int
	for _, f := range mustFit(t, p).Warnings {
		if f.Code == NearlyDependent {
			said = append(said, f.Coefficients)
		}
	}
	if len(said) != 2 || !slices.Equal(said[0], []int{1, 3}) || !slices.Equal(said[1], []int{2, 4}) {
		t.Errorf("told: %v", said)
	}
}

// TestAloneIsUnreliable: no prediction for the row, its leverage 1, its coefficient marked, the others not.
func TestAloneIsUnreliable(t *testing.T) {
	p := tools()
	column(&p, 2, func([]float64) float64 { return 0 })
	p.Rows[3].X[2] = 4
	r := mustFit(t, p)
	if w := r.Rows[3]; w.HasLeftOut || math.Abs(w.Leverage-1) > 1e-12 || math.Abs(w.Share) > 1e-12 {
		t.Errorf("row: %+v", w)
	}
	if r.LeftOutRows != 9 {
		t.Errorf("%d rows left out", r.LeftOutRows)
	}
	for j, c := range r.Coefficients {
		if c.Unreliable != (j == 2) {
			t.Errorf("%s: unreliable is %v", c.Name, c.Unreliable)
		}
	}
}

// TestR2 compares with the mean where columns make up a constant, whatever they are called: here two kinds of tool, 0 and 1.
func TestR2(t *testing.T) {
	p := Problem{Weighting: Absolute, Coefficients: []Coefficient{{Name: "cast"}, {Name: "milled"}}}
	for i, y := range []float64{4, 6, 10, 14} {
		x := []float64{1, 0}
		if i > 1 {
			x = []float64{0, 1}
		}
		p.Rows = append(p.Rows, Row{X: x, Observed: y})
	}
	r := mustFit(t, p) // means 5 and 12, of all 8.5; squares 1+1+4+4 of 20.25+6.25+2.25+30.25
	if !r.AboutMean || !r.HasR2 {
		t.Errorf("about the mean %v, known %v", r.AboutMean, r.HasR2)
	}
	near(t, "R2", r.R2, 1-10.0/59, 1e-14)
	p.Rows[2].X, p.Rows[3].X = []float64{0, 2}, []float64{0, 1}
	if r := mustFit(t, p); r.AboutMean {
		t.Error("about the mean, which these columns can't make up")
	}
	for i := range p.Rows {
		p.Rows[i].X, p.Rows[i].Observed = []float64{1, float64(i * i)}, 7
	}
	if r := mustFit(t, p); r.HasR2 || r.R2 != 0 {
		t.Errorf("of what does not vary: %v", r.R2)
	}
}

// TestBoundsOfRange: numbers at the ends of what is let in are computed with like any other.
func TestBoundsOfRange(t *testing.T) {
	ends := []float64{leastMagnitude, 1, mostMagnitude}
	for c := range 81 {
		a, b, y, weight := ends[c%3], ends[c/3%3], ends[c/9%3], ends[c/27]
		for _, w := range []Weighting{Relative, Absolute} {
			p := Problem{Weighting: w, Coefficients: []Coefficient{{Name: "a"}, {Name: "b", NotNegative: true}}}
			for i := range 5 {
				in := func(x, times float64) float64 { return min(max(x*times, leastMagnitude), mostMagnitude) }
				p.Rows = append(p.Rows, Row{X: []float64{in(a, 1), in(b, math.Exp2(float64(3*(i%3-1))))}, Observed: in(y, 1+float64(i)/7), Weight: weight})
			}
			r := mustFit(t, p)
			if sum := r.Coefficients[0].Value*p.Rows[1].X[0] + r.Coefficients[1].Value*p.Rows[1].X[1]; !r.finite() || sum < 0.9*y || sum > 2*y {
				t.Errorf("%g %g %g weight %g: %+v", a, b, y, weight, r)
			}
		}
	}
}
