package formula_test

import (
	"errors"
	"hash/fnv"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode"

	"piececost/costmodel/formula"
	"piececost/costmodel/units"
)

// FuzzParse: no text makes the reader panic, every error points into the text, every node stands where its text is, what
// an equation of the library may say a user's cell may say too, and a condition is 1 or 0.
func FuzzParse(f *testing.F) {
	files, _ := filepath.Glob("../../testdata/formula/*.txt")
	for _, file := range files {
		raw, _ := os.ReadFile(file)
		for _, line := range strings.Split(string(raw), "\n") {
			if text, ok := strings.CutPrefix(line, "eval "); ok {
				f.Add(text, byte(len(text)))
			}
		}
	}
	sys := testUnits(f)
	f.Fuzz(func(t *testing.T, text string, want byte) {
		expr, err := formula.Parse(text, sys)
		if err != nil {
			pointsInto(t, text, err)
			return
		}
		spansFit(t, text, expr)
		rules := formula.Rules{Want: someType(want)}
		strict, strictErr := checked(t, text, sys, rules)
		rules.Grace = true
		graced, gracedErr := checked(t, text, sys, rules)
		if strictErr == nil && (gracedErr != nil || strict != graced && strict == strict) {
			t.Errorf("%q gives %v in an equation, %v %v in a cell", text, strict, graced, gracedErr)
		}
		if rules.Want.Flag && gracedErr == nil && graced != 0 && graced != 1 {
			t.Errorf("the condition %q is %v", text, graced)
		}
	})
}

// checked parses anew, since Check may be called once only, and evaluates what is accepted.
func checked(t *testing.T, text string, sys *units.System, rules formula.Rules) (float64, error) {
	expr, err := formula.Parse(text, sys)
	if err != nil {
		t.Fatalf("%q is accepted once and refused then: %v", text, err)
	}
	if err := formula.Check(expr, anyEnv{}, rules); err != nil {
		pointsInto(t, text, err)
		return 0, err
	}
	values := make([]float64, len(expr.Names))
	for i, n := range expr.Names {
		if values[i] = float64(hash(n.Path) % 7); typeOfAny(n.Path).Flag {
			values[i] = float64(hash(n.Path) / 7 % 2)
		}
	}
	curve := &formula.Curve{X: []float64{0, 2}, Y: []float64{1, 5}}
	return formula.Eval(expr.Root, values, func(string) *formula.Curve { return curve }), nil
}

func pointsInto(t *testing.T, text string, err error) {
	t.Helper()
	var fe *formula.Error
	if !errors.As(err, &fe) || fe.Msg == "" {
		t.Fatalf("%q: the error %v has no place", text, err)
	}
	if n := max(1, len([]rune(text))); fe.From < 0 || fe.To <= fe.From || fe.To > n {
		t.Errorf("%q: %d-%d %v points outside", text, fe.From, fe.To, fe)
	}
}

// spansFit: a node lies within the text and its children within it; where a name is said to stand, it stands.
func spansFit(t *testing.T, text string, expr *formula.Expr) {
	t.Helper()
	runes := []rune(text)
	walk(expr.Root, func(n *formula.Node) {
		if n.From < 0 || n.To <= n.From || n.To > len(runes) {
			t.Fatalf("%q: a node at %d-%d", text, n.From, n.To)
		}
		for _, a := range n.Args {
			if a.From < n.From || a.To > n.To {
				t.Errorf("%q: a node at %d-%d below one at %d-%d", text, a.From, a.To, n.From, n.To)
			}
		}
	})
	for _, u := range expr.Names {
		if got := withoutBlanks(runes[u.From:u.To]); got != u.Path {
			t.Errorf("%q: the name %q is said to stand at %q", text, u.Path, got)
		}
	}
}

func withoutBlanks(runes []rune) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || r == '(' || r == ')' {
			return -1
		}
		return r
	}, string(runes))
}

// anyEnv knows every name; what it measures follows from the name.
type anyEnv struct{}

func (anyEnv) TypeOf(path string, many bool) (formula.Type, error) { return typeOfAny(path), nil }

func (anyEnv) CurveUnits(name string) (x, y units.Unit, err error) {
	return typeOfAny(name).Unit, typeOfAny(name + "y").Unit, nil
}

func typeOfAny(path string) formula.Type { return someType(byte(hash(path))) }

// someType is a condition or a number in a coherent unit, or a level in degF.
func someType(n byte) formula.Type {
	dims := []units.Dim{units.None, units.Length, units.Mass, units.PerYear, units.Year, units.Level, units.Temperature, units.None}
	if int(n)%9 == 8 {
		return formula.Type{Flag: true, Unit: units.One}
	}
	d := dims[int(n)%9]
	if d.Level && n >= 128 {
		return formula.Type{Unit: units.Unit{Dim: d, Factor: 5.0 / 9, Zero: 32, Text: "degF"}}
	}
	return formula.Type{Unit: units.Unit{Dim: d, Factor: 1, Text: d.String()}}
}

func hash(text string) uint32 {
	h := fnv.New32a()
	h.Write([]byte(text))
	return h.Sum32()
}

// walk calls visit for a node and everything below it, parents first.
func walk(n *formula.Node, visit func(*formula.Node)) {
	visit(n)
	for _, a := range n.Args {
		walk(a, visit)
	}
}
