package costmodel

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/shopspring/decimal"
)

// randomLines draws lines of a statement: many or few, cheap or dear, negative ones among them, some whole coins.
func randomLines(rnd *rand.Rand) (names []Element, exact []float64) {
	scale := math.Pow(10, rnd.Float64()*8-4)
	for i := 0; i < 1+rnd.IntN(14); i++ {
		v := scale * (rnd.Float64()*1.4 - 0.4)
		switch rnd.IntN(6) {
		case 0:
			v = 0
		case 1:
			v = math.Round(v*100) / 100
		case 2:
			v = math.Round(v*200) / 200 // halves of a coin
		}
		names, exact = append(names, Element{Name: fmt.Sprintf("line_%d", i)}), append(exact, v)
	}
	return names, exact
}

// TestStatementAddsUp holds for any lines: they add up to the total shown, which is the rounded exact sum; each is within
// a coin of its exact value, and stays as it is where it is whole coins.
func TestStatementAddsUp(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for n := 0; n < 5000; n++ {
		currency := []string{"EUR", "JPY", "KWD"}[n%3]
		names, exact := randomLines(rnd)
		st := newStatement(currency, names, exact)
		coin, sum, exactSum := decimal.New(1, -st.Digits), decimal.Zero, decimal.Zero
		for i, l := range st.Lines {
			v := decimal.NewFromFloat(exact[i])
			sum, exactSum = sum.Add(l.Money), exactSum.Add(v)
			off := l.Money.Sub(v).Abs()
			if !off.LessThan(coin) || v.Equal(v.Round(st.Digits)) && !off.IsZero() {
				t.Errorf("%s %v: line %s is shown as %s", currency, exact, v, l.Money)
			}
			if l.Name != names[i].Name || l.Exact != exact[i] || !l.Money.Equal(l.Money.Round(st.Digits)) {
				t.Errorf("%s %v: line %+v", currency, exact, l)
			}
		}
		if !sum.Equal(st.Total.Money) {
			t.Errorf("%s %v: lines add up to %s, the total is %s", currency, exact, sum, st.Total.Money)
		}
		if want := exactSum.Round(st.Digits); !st.Total.Money.Equal(want) {
			t.Errorf("%s %v: total %s, want %s", currency, exact, st.Total.Money, want)
		}
	}
}

// TestStatementDigits holds the decimals of ISO 4217, and two more for a piece below ten.
func TestStatementDigits(t *testing.T) {
	for _, c := range []struct {
		currency string
		exact    []float64
		digits   int32
		total    string
	}{
		{"EUR", []float64{12.344, 1.001}, 2, "13.35"},
		{"EUR", []float64{12, -2}, 2, "10.00"},
		{"EUR", []float64{9.99999}, 4, "10.0000"},
		{"EUR", []float64{0.65172}, 4, "0.6517"},
		{"EUR", []float64{-9.5}, 4, "-9.5000"},
		{"EUR", []float64{-10.005}, 2, "-10.01"},
		{"EUR", nil, 4, "0.0000"},
		{"JPY", []float64{1234.5}, 0, "1235"},
		{"JPY", []float64{10}, 0, "10"},
		{"JPY", []float64{9.876}, 2, "9.88"},
		{"KWD", []float64{10.0005}, 3, "10.001"},
		{"CZK", []float64{4520.128}, 2, "4520.13"},
	} {
		st := newStatement(c.currency, make([]Element, len(c.exact)), c.exact)
		if got := st.Total.Money.StringFixed(st.Digits); st.Digits != c.digits || got != c.total || st.currency != c.currency {
			t.Errorf("%s %v: %s with %d decimals, want %s with %d", c.currency, c.exact, got, st.Digits, c.total, c.digits)
		}
	}
}

// TestStatementFairness holds who gets the missing coin: the line with the largest remainder, the first of equals.
func TestStatementFairness(t *testing.T) {
	for _, c := range []struct{ exact, want []float64 }{
		{[]float64{10.004, 10.003, 10.003}, []float64{10.01, 10, 10}},
		{[]float64{10.001, 10.002, 10.007}, []float64{10, 10, 10.01}},
		{[]float64{10.005, 10.005}, []float64{10.01, 10}},
		{[]float64{30, -0.004, -0.003}, []float64{30, -0.01, 0}},
		{[]float64{30, -0.001, -0.001}, []float64{30, 0, 0}},
	} {
		for i, l := range newStatement("EUR", make([]Element, len(c.exact)), c.exact).Lines {
			if got := l.Money.InexactFloat64(); got != c.want[i] {
				t.Errorf("%v: line %d is %v, want %v", c.exact, i, got, c.want[i])
			}
		}
	}
}

// TestDetailStatement takes the statement of the sample: its elements, in order, of the scenario's product-specific lines.
func TestDetailStatement(t *testing.T) {
	m := sampleTables(t).model(t)
	for _, s := range m.Scenarios {
		d := mustCompile(t, m, s, CompileOptions{}).Detail(s.Volume)
		st := d.Statement()
		for i, e := range d.Plan.Model.Schema.Elements {
			if st.Lines[i].Name != e.Name || st.Lines[i].Label != e.Label || st.Lines[i].Exact != d.Scenario().Must(e.PieceName()) {
				t.Errorf("%s: line %d is %+v", s.Name, i, st.Lines[i])
			}
		}
		if cost := d.Scenario().Must("piece_cost"); math.Abs(st.Total.Exact-cost) > 1e-12*cost {
			t.Errorf("%s: total %v, piece cost %v", s.Name, st.Total.Exact, cost)
		}
	}
}
