package formula_test

import (
	"errors"
	"math"
	"math/rand"
	"strings"
	"testing"

	"piececost/costmodel/formula"
	"piececost/costmodel/units"
)

// affineUnknowns are the unknowns of these tests by name; a and k are known.
var affineUnknowns = map[string]int{"x": 0, "y": 1, "z": 2}

func affineOf(t *testing.T, text string) (formula.Affine, *formula.Expr, error) {
	t.Helper()
	env := newTestEnv()
	for name, v := range map[string]float64{"x": 0, "y": 0, "z": 0, "a": 4, "k": 0} {
		env.names[name] = testName{typ: formula.Type{Unit: units.One}, value: v}
	}
	expr, err := formula.Parse(text, testUnits(t))
	if err != nil {
		t.Fatal(text, err)
	}
	if err := formula.Check(expr, env, formula.Rules{Want: formula.Type{Unit: units.One}}); err != nil {
		t.Fatal(text, err)
	}
	a, err := formula.AffineOf(expr.Root, func(ref int) (formula.Affine, error) {
		name := expr.Names[ref].Path
		if n, unknown := affineUnknowns[name]; unknown {
			return formula.Unknown(n), nil
		}
		return formula.Affine{Const: env.names[name].value}, nil
	}, nil)
	return a, expr, err
}

// TestAffine: sums of multiples of unknowns, by hand; what multiplies x, y and z, then the constant.
func TestAffine(t *testing.T) {
	for text, want := range map[string][4]float64{
		"x":                                   {1, 0, 0, 0},
		"7":                                   {0, 0, 0, 7},
		"2 * x + 3 * y - z / 4 + 5":           {2, 3, -0.25, 5},
		"a * (x + a * (y - 1)) - -z":          {4, 16, 1, -16},
		"(x + y) * 50 / 100 - x / 2":          {0, 0.5, 0, 0},
		"a > 3 ? x + 1 : x * y":               {1, 0, 0, 1}, // the branch that is not taken may be anything
		"a < 3 ? x * y : max(a, 9) * z":       {0, 0, 9, 0},
		"k > 0 and x > 1 ? y : z + ceil(a/3)": {0, 0, 1, 2},
		"a > 0 or x > 1 ? y : z":              {0, 1, 0, 0},
		"sqrt(a) * x + a ^ 2 * y":             {2, 16, 0, 0},
	} {
		a, _, err := affineOf(t, text)
		if got := [4]float64{a.Of[0], a.Of[1], a.Of[2], a.Const}; err != nil || got != want {
			t.Errorf("%s: %v %v, want %v", text, got, err, want)
		}
	}
}

// TestNotAffine: what is no such sum is refused, with the unknowns that are why.
func TestNotAffine(t *testing.T) {
	for text, want := range map[string]struct {
		unknowns []int
		why      string
	}{
		"x * y":                 {[]int{0, 1}, "multiply each other"},
		"(x + a) * (z - 1) + y": {[]int{0, 2}, "multiply each other"},
		"a / (y + 1)":           {[]int{1}, "stands below a division"},
		"x ^ 2":                 {[]int{0}, "stands in a power"},
		"max(x, 3 * z)":         {[]int{0, 2}, "stands within max()"},
		"sqrt(y)":               {[]int{1}, "stands within sqrt()"},
		"x > 1 ? y : z":         {[]int{0}, "decides a condition"},
	} {
		_, _, err := affineOf(t, text)
		var not *formula.NotLinear
		if !errors.As(err, &not) || not.Why != want.why || len(not.Unknowns) != len(want.unknowns) {
			t.Errorf("%s: %v, want %v", text, err, want)
			continue
		}
		for i, u := range want.unknowns {
			if not.Unknowns[i] != u {
				t.Errorf("%s: unknowns %v, want %v", text, not.Unknowns, want.unknowns)
			}
		}
	}
}

// TestAffineIsTheExpression: at random values of the unknowns the sum is what the expression evaluates to.
func TestAffineIsTheExpression(t *testing.T) {
	r := rand.New(rand.NewSource(7))
	terms := []string{"x", "y", "z", "a", "2.5", "k"}
	var grow func(depth int) string
	grow = func(depth int) string {
		if depth == 0 {
			return terms[r.Intn(len(terms))]
		}
		left, right := grow(depth-1), grow(depth-1)
		return "(" + left + []string{" + ", " - ", " * ", " / "}[r.Intn(4)] + right + ")"
	}
	linear, refused := 0, 0
	for range 2000 {
		text := grow(2 + r.Intn(2))
		a, expr, err := affineOf(t, text)
		if err != nil {
			refused++
			continue
		}
		if a.Finite() != nil {
			continue
		}
		linear++
		point := map[string]float64{"a": 4, "k": 0, "x": r.NormFloat64(), "y": r.NormFloat64(), "z": r.NormFloat64()}
		values := make([]float64, len(expr.Names))
		for i, n := range expr.Names {
			values[i] = point[n.Path]
		}
		want := formula.Eval(expr.Root, values, nil)
		got := a.Const + a.Of[0]*point["x"] + a.Of[1]*point["y"] + a.Of[2]*point["z"]
		if math.Abs(got-want) > 1e-9*(1+math.Abs(want)) {
			t.Fatalf("%s: %v, evaluated %v", strings.TrimSpace(text), got, want)
		}
	}
	if linear < 300 || refused < 300 {
		t.Errorf("only %d linear and %d refused", linear, refused)
	}
}
