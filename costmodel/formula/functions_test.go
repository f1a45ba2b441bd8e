package formula_test

import (
	"math"
	"math/big"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"piececost/costmodel/formula"
)

// TestFunctionTable holds each row of the table against itself: its example is run, nothing that help needs is missing.
func TestFunctionTable(t *testing.T) {
	seen := map[string]bool{}
	for _, f := range formula.Functions {
		if seen[f.Name] || f.Name == "sum" || formula.FunctionByName(f.Name) != f {
			t.Errorf("%s is there twice", f.Name)
		}
		seen[f.Name] = true
		if f.Help == "" || strings.Contains(f.Help, "\n") || f.Args == "" || f.Min < 1 || f.Max < f.Min {
			t.Errorf("%s: help %q, arguments %q, %d to %d of them", f.Name, f.Help, f.Args, f.Min, f.Max)
		}
		if f.Usage() != "write "+f.Name+"("+f.Args+")" {
			t.Errorf("%s: usage %q", f.Name, f.Usage())
		}
		if whole := f.Dim != nil && f.Eval != nil && f.Sheet != ""; whole == f.Table {
			t.Errorf("%s lacks its unit rule or spreadsheet form; only interpolate has none", f.Name)
		}
		if _, err := formula.Parse(f.Example, testUnits(t)); err != nil {
			t.Errorf("%s has no example: %v", f.Name, err)
		}
	}
	if formula.FunctionByName("sum") != nil || formula.FunctionByName("") != nil {
		t.Error("sum is no row of the table")
	}
}

var placeholder = regexp.MustCompile(`\{(\d+)\}`)

// TestSheetForms: a spreadsheet form names each argument, and none beyond them.
func TestSheetForms(t *testing.T) {
	for _, f := range formula.Functions {
		if f.Table || strings.Contains(f.Sheet, "*)") {
			continue
		}
		used := map[string]bool{}
		for _, m := range placeholder.FindAllStringSubmatch(f.Sheet, -1) {
			used[m[1]] = true
		}
		for i := 1; i <= f.Max; i++ {
			if !used[strconv.Itoa(i)] {
				t.Errorf("%s: %s does not use argument %d", f.Name, f.Sheet, i)
			}
			delete(used, strconv.Itoa(i))
		}
		if len(used) > 0 {
			t.Errorf("%s: %s uses arguments that are not there", f.Name, f.Sheet)
		}
	}
}

func TestExamplesGiveTheirResults(t *testing.T) {
	for _, f := range formula.Functions {
		if !strings.HasPrefix(f.Example, f.Name+"(") {
			t.Errorf("%s: the example %q is of another function", f.Name, f.Example)
		}
		if f.Table {
			continue
		}
		got, err := exampleValue(t, f.Example)
		if err != nil || math.Abs(got-f.Result) > 1e-15*math.Abs(f.Result) {
			t.Errorf("%s gives %v, %v; the table says %v", f.Example, got, err, f.Result)
		}
	}
}

// exampleValue runs an example as a number, a number per year or years, whichever fits.
func exampleValue(t *testing.T, text string) (v float64, err error) {
	sys := testUnits(t)
	for _, unit := range []string{"1", "1/yr", "yr"} {
		u, _ := sys.Parse(unit)
		if v, err = newTestEnv().run(text, sys, formula.Rules{Want: formula.Type{Unit: u}}); err == nil {
			return v, nil
		}
	}
	return v, err
}

// TestCapitalRecoveryTables compares with the compound-interest tables, which print five decimals of A/P and four of P/A.
// Source: L. Blank & A. Tarquin, Engineering Economy, 7th ed., app. A (tables 1 to 29; figures from memory, each equal to
// the tables' formula).
func TestCapitalRecoveryTables(t *testing.T) {
	for _, c := range []struct{ percent, years, ap, pa float64 }{
		{0.25, 12, 0.08469, 11.8073},
		{1, 12, 0.08885, 11.2551},
		{1, 36, 0.03321, 30.1075},
		{5, 5, 0.23097, 4.3295},
		{5, 10, 0.12950, 7.7217},
		{5, 20, 0.08024, 12.4622},
		{8, 5, 0.25046, 3.9927},
		{8, 10, 0.14903, 6.7101},
		{8, 15, 0.11683, 8.5595},
		{10, 1, 1.10000, 0.9091},
		{10, 2, 0.57619, 1.7355},
		{10, 3, 0.40211, 2.4869},
		{10, 4, 0.31547, 3.1699},
		{10, 5, 0.26380, 3.7908},
		{10, 10, 0.16275, 6.1446},
		{10, 15, 0.13147, 7.6061},
		{10, 20, 0.11746, 8.5136},
		{10, 30, 0.10608, 9.4269},
		{12, 5, 0.27741, 3.6048},
		{12, 10, 0.17698, 5.6502},
		{15, 10, 0.19925, 5.0188},
		{20, 8, 0.26061, 3.8372},
		{20, 10, 0.23852, 4.1925},
		{50, 10, 0.50882, 1.9653},
	} {
		if got := formula.CapitalRecovery(c.percent/100, c.years); math.Abs(got-c.ap) > 0.5e-5 {
			t.Errorf("A/P at %v %% over %v is %.6f, the table has %.5f", c.percent, c.years, got, c.ap)
		}
		pa := formula.FunctionByName("present_worth").Eval([]float64{c.percent / 100, c.years})
		if math.Abs(pa-c.pa) > 0.5e-4 {
			t.Errorf("P/A at %v %% over %v is %.5f, the table has %.4f", c.percent, c.years, pa, c.pa)
		}
	}
}

// TestCapitalRecoverySmallRates compares with i(1+i)^n/((1+i)^n-1) in 400 binary digits (math/big), where the formula as it
// stands would lose its digits.
func TestCapitalRecoverySmallRates(t *testing.T) {
	for _, i := range []float64{0.5, 0.1, 1e-3, 1e-6, 1e-9, 1e-12, 1e-15, 1e-18, 1e-30, -1e-9, -0.02} {
		for _, n := range []int{1, 2, 5, 10, 40} {
			got, want := formula.CapitalRecovery(i, float64(n)), bigCapitalRecovery(i, n)
			if math.Abs(got-want) > 1e-15*want {
				t.Errorf("capital recovery at %v over %d is %v, exactly %v", i, n, got, want)
			}
		}
	}
	for _, n := range []float64{1, 3, 7.5, 10} {
		if got := formula.CapitalRecovery(0, n); got != 1/n {
			t.Errorf("without interest over %v: %v", n, got)
		}
	}
}

func bigCapitalRecovery(i float64, n int) float64 {
	exact := func(v float64) *big.Float { return new(big.Float).SetPrec(400).SetFloat64(v) }
	growth := exact(1)
	for range n {
		growth.Mul(growth, new(big.Float).SetPrec(400).Add(exact(1), exact(i)))
	}
	up := new(big.Float).SetPrec(400).Mul(exact(i), growth)
	down := new(big.Float).SetPrec(400).Sub(growth, exact(1))
	v, _ := new(big.Float).SetPrec(400).Quo(up, down).Float64()
	return v
}

// TestWholeThings: a billionth neither buys a second press nor loses one (design rule; the figures are by hand).
func TestWholeThings(t *testing.T) {
	for _, c := range []struct{ v, up, down float64 }{
		{2, 2, 2}, {2 + 0.9e-9, 2, 2}, {2 + 1.1e-9, 3, 2}, {2 - 0.9e-9, 2, 2}, {2 - 1.1e-9, 2, 1}, {2.5, 3, 2},
		{0, 0, 0}, {1e-10, 0, 0}, {-0.5, 0, -1}, {-2, -2, -2}, {0.1 * 3 / 0.3, 1, 1}, {1e15, 1e15, 1e15},
	} {
		if up, down := formula.Ceil(c.v), formula.Floor(c.v); up != c.up || down != c.down {
			t.Errorf("%v: up %v, down %v; want %v and %v", c.v, up, down, c.up, c.down)
		}
	}
}

// TestSameNumber: equal to 48 of the 53 binary digits, that is to 16 units of the last place just above a power of two.
func TestSameNumber(t *testing.T) {
	ulp := 0x1p-52
	for _, c := range []struct {
		a, b float64
		same bool
	}{
		{0.1 + 0.2, 0.3, true}, {1, 1, true}, {0, 0, true}, {0, math.Copysign(0, -1), true}, {1, 1 + 15*ulp, true}, {1 + 15*ulp, 1, true},
		{1, 1 + 17*ulp, false}, {1 + 17*ulp, 1, false}, {1, -1, false}, {0, 1e-300, false}, {1e300, 1e300 * (1 + 17*ulp), false},
		{math.Inf(1), math.Inf(1), true}, {math.Inf(1), math.Inf(-1), false}, {math.Inf(1), 1, false}, {1, math.Inf(1), false},
		{math.NaN(), math.NaN(), false}, {math.NaN(), 1, false}, {1, math.NaN(), false},
	} {
		if formula.SameNumber(c.a, c.b) != c.same {
			t.Errorf("SameNumber(%v, %v) = %v", c.a, c.b, !c.same)
		}
	}
}

func TestCurve(t *testing.T) {
	c := formula.Curve{X: []float64{1, 2, 2, 4}, Y: []float64{10, 20, 30, 50}} // a step at 2; figures by hand
	for x, want := range map[float64]float64{-1: 10, 1: 10, 1.5: 15, 2: 20, 3: 40, 4: 50, 9: 50, math.Inf(1): 50, math.Inf(-1): 10} {
		if got := c.At(x); got != want {
			t.Errorf("at %v: %v, not %v", x, got, want)
		}
	}
	if got := c.At(math.NaN()); !math.IsNaN(got) {
		t.Errorf("at NaN: %v", got)
	}
	if got := (&formula.Curve{X: []float64{1}, Y: []float64{7}}).At(5); got != 7 {
		t.Errorf("a curve of one point gives %v", got)
	}
}

// TestWritingsGiveTheirResults: what help says of the language holds.
func TestWritingsGiveTheirResults(t *testing.T) {
	numbers := 0
	for _, w := range formula.Writings {
		if w.Names {
			if _, err := formula.Parse(w.Example, testUnits(t)); err != nil {
				t.Errorf("%s: %v", w.Example, err)
			}
			continue
		}
		numbers++
		got, err := exampleValue(t, w.Example)
		if err != nil || math.Abs(got-w.Result) > 1e-12*math.Abs(w.Result) {
			t.Errorf("%s gives %v, %v; the table says %v", w.Example, got, err, w.Result)
		}
	}
	if numbers < 6 {
		t.Errorf("%d examples of numbers", numbers)
	}
}
