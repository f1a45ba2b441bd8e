package fit

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

// tools is a problem that can be fitted; a test spoils it.
func tools() Problem {
	p := Problem{Of: "tool price"}
	p.Coefficients = []Coefficient{{Name: "intercept"}, {Name: "face area", NotNegative: true}, {Name: "stages", NotNegative: true}}
	for i, x := range [][2]float64{{1, 3}, {2, 5}, {4, 2}, {5, 6}, {7, 1}, {9, 4}, {3, 4}, {6, 5}, {8, 2}, {2, 1}} {
		p.Rows = append(p.Rows, Row{Label: fmt.Sprintf("T%d", i+1), X: []float64{1, x[0], x[1]}, Observed: 10 + 3*x[0] + 5*x[1] + float64(i%3)})
	}
	return p
}

// TestRefused: what is wrong, with the caller's words, and what to do.
func TestRefused(t *testing.T) {
	for _, c := range []struct {
		name  string
		spoil func(p *Problem)
		code  Code
		says  []string
		about []int // coefficients
		rows  []int
	}{
		{"too few", func(p *Problem) { p.Rows = p.Rows[:2] }, TooFewRows,
			[]string{"2 rows for 3 coefficients", "`intercept`, `face area` and `stages`", "add at least 2 rows", "hold 2 coefficients"}, []int{0, 1, 2}, nil},
		{"as many as coefficients", func(p *Problem) { p.Rows = p.Rows[:3] }, TooFewRows, []string{"add at least 1 row,"}, []int{0, 1, 2}, nil},
		{"no rows", func(p *Problem) { p.Rows = nil }, TooFewRows, []string{"0 rows", "add at least 4 rows"}, []int{0, 1, 2}, nil},
		{"no coefficients", func(p *Problem) { p.Coefficients = nil; p.Rows = nil }, NothingToFind, []string{"let at least one"}, nil, nil},
		{"all held", func(p *Problem) {
			for j := range p.Coefficients {
				p.Coefficients[j].Held = true
			}
		}, NothingToFind, []string{"no coefficient is to be found"}, nil, nil},
		{"multiple", func(p *Problem) { column(p, 2, func(x []float64) float64 { return 0.3 * x[1] }) }, Dependent,
			[]string{"can't tell `face area` and `stages` apart", "hold one"}, []int{1, 2}, nil},
		{"constant", func(p *Problem) { column(p, 2, func([]float64) float64 { return 7 }) }, Dependent,
			[]string{"can't tell `intercept` and `stages` apart"}, []int{0, 2}, nil},
		{"sum", func(p *Problem) { column(p, 2, func(x []float64) float64 { return 0.1*x[1] + 0.7*x[0] }) }, Dependent,
			[]string{"can't tell `intercept`, `face area` and `stages` apart"}, []int{0, 1, 2}, nil},
		{"nothing of it", func(p *Problem) { column(p, 1, func([]float64) float64 { return 0 }) }, NoData,
			[]string{"`face area` is multiplied by 0 in every row", "hold it"}, []int{1}, nil},
		{"not a number", func(p *Problem) { p.Rows[2].X[1] = math.NaN() }, BadValue, []string{"row `T3`: NaN for `face area`"}, []int{1}, []int{2}},
		{"infinite", func(p *Problem) { p.Rows[2].Observed = math.Inf(1) }, BadValue, []string{"row `T3`: a tool price of +Inf"}, nil, []int{2}},
		{"too large", func(p *Problem) { p.Rows[2].X[1] = 1e31 }, BadValue, []string{"1e+31", "between 1e-30 and 1e30"}, []int{1}, []int{2}},
		{"price 0", func(p *Problem) { p.Rows[5].Observed = 0 }, NoRelativeError, []string{"row `T6`: a tool price of 0 has no relative error"}, nil, []int{5}},
		{"weight", func(p *Problem) { p.Rows[5].Weight = -1 }, BadValue, []string{"row `T6`: a weight of -1"}, nil, []int{5}},
		{"no label", func(p *Problem) { p.Rows[5].Weight = -1; p.Rows[5].Label = "" }, BadValue, []string{"row 6: a weight"}, nil, []int{5}},
		{"short row", func(p *Problem) { p.Rows[5].X = p.Rows[5].X[:1] }, BadValue, []string{"row `T6`: 1 value for 3 coefficients"}, nil, []int{5}},
		{"name twice", func(p *Problem) { p.Coefficients[2].Name = "face area" }, BadName,
			[]string{"two coefficients are called `face area`"}, []int{1, 2}, nil},
		{"no name", func(p *Problem) { p.Coefficients[2].Name = "" }, BadName, []string{"coefficient 3 has no name"}, []int{2}, nil},
		{"held at nonsense", func(p *Problem) { p.Coefficients[2].Held, p.Coefficients[2].Value = true, math.Inf(-1) }, BadValue,
			[]string{"`stages` is held at -Inf"}, []int{2}, nil},
		{"held below", func(p *Problem) { p.Coefficients[2].Held, p.Coefficients[2].Value = true, -4 }, BadValue,
			[]string{"`stages` is held at -4 and must not be negative"}, []int{2}, nil},
		{"confidence", func(p *Problem) { p.Confidence = 95 }, BadOption, []string{"a confidence of 95", "as 0.95"}, nil, nil},
		{"weighting", func(p *Problem) { p.Weighting = 9 }, BadOption, []string{"weighting 9"}, nil, nil},
	} {
		p := tools()
		c.spoil(&p)
		_, err := Fit(context.Background(), p)
		r, ok := IsRefused(err)
		if !ok || len(r) != 1 {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if r[0].Code != c.code || !slices.Equal(r[0].Coefficients, c.about) || !slices.Equal(r[0].Rows, c.rows) {
			t.Errorf("%s: %+v", c.name, r[0])
		}
		for _, words := range c.says {
			if !strings.Contains(err.Error(), words) {
				t.Errorf("%s: no %q in %q", c.name, words, err)
			}
		}
	}
}

// column sets a column from the row's values.
func column(p *Problem, j int, f func(x []float64) float64) {
	for i := range p.Rows {
		p.Rows[i].X[j] = f(p.Rows[i].X)
	}
}

// TestEveryReasonIsTold in one run.
func TestEveryReasonIsTold(t *testing.T) {
	p := tools()
	p.Rows[1].Observed, p.Rows[3].X[2], p.Confidence = 0, math.NaN(), 2
	_, err := Fit(context.Background(), p)
	if lines := strings.Split(err.Error(), "\n"); len(lines) != 3 {
		t.Errorf("%v", err)
	}
}

// TestTwoGroupsAreToldApart: columns that two different others make up are two findings.
func TestTwoGroupsAreToldApart(t *testing.T) {
	p := tools()
	p.Coefficients = append(p.Coefficients, Coefficient{Name: "features"}, Coefficient{Name: "cavities"})
	for i := range p.Rows {
		x := p.Rows[i].X
		p.Rows[i].X = append(x, 3*x[1], 2*x[2])
	}
	p.Rows = append(p.Rows, p.Rows...)
	_, err := Fit(context.Background(), p)
	for _, words := range []string{"`face area` and `features` apart", "`stages` and `cavities` apart"} {
		if err == nil || !strings.Contains(err.Error(), words) {
			t.Errorf("no %q in %v", words, err)
		}
	}
}

func TestContextEnds(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Fit(ctx, tools()); !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
}
