package formula_test

import (
	"fmt"
	"testing"

	"piececost/costmodel/formula"
	"piececost/costmodel/units"
)

// testUnits is a system with the euro as model currency and an invented rate of the dollar.
func testUnits(t testing.TB) *units.System {
	t.Helper()
	s, err := units.NewSystem("EUR", map[string]float64{"USD": 0.8})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// A testEnv is a set of names with values, and of curves.
type testEnv struct {
	names  map[string]testName
	curves map[string]*testCurve
}

type testName struct {
	typ   formula.Type
	value float64 // coherent; for rows the total
	many  bool
}

type testCurve struct {
	formula.Curve
	x, y units.Unit
}

func newTestEnv() *testEnv {
	return &testEnv{names: map[string]testName{}, curves: map[string]*testCurve{}}
}

// TypeOf implements formula.Env.
func (e *testEnv) TypeOf(path string, many bool) (formula.Type, error) {
	n, ok := e.names[path]
	switch {
	case !ok:
		var known []string
		for name := range e.names {
			known = append(known, name)
		}
		if near := formula.Nearest(path, known); near != "" {
			return n.typ, fmt.Errorf("unknown name %q; did you mean %s?", path, near)
		}
		return n.typ, fmt.Errorf("unknown name %q", path)
	case many && !n.many:
		return n.typ, fmt.Errorf("%s leads to one row, there is nothing to add up; write %s", path, path)
	case n.many && !many:
		return n.typ, fmt.Errorf("%s leads to many rows; write sum(%s)", path, path)
	}
	return n.typ, nil
}

// CurveUnits implements formula.Env.
func (e *testEnv) CurveUnits(name string) (x, y units.Unit, err error) {
	c, ok := e.curves[name]
	if !ok {
		return units.One, units.One, fmt.Errorf("unknown curve %q", name)
	}
	return c.x, c.y, nil
}

// run parses, checks and evaluates; the value is in the wanted unit.
func (e *testEnv) run(text string, sys *units.System, rules formula.Rules) (float64, error) {
	expr, err := formula.Parse(text, sys)
	if err != nil {
		return 0, err
	}
	if err := formula.Check(expr, e, rules); err != nil {
		return 0, err
	}
	values := make([]float64, len(expr.Names))
	for i, n := range expr.Names {
		values[i] = e.names[n.Path].value
	}
	v := formula.Eval(expr.Root, values, func(name string) *formula.Curve { return &e.curves[name].Curve })
	if rules.Want.Flag {
		return v, nil
	}
	return rules.Want.Unit.Shown(v), nil
}
