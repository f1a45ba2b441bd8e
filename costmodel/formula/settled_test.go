package formula_test

import (
	"math"
	"testing"

	"piececost/costmodel/formula"
	"piececost/costmodel/units"
)

// TestSettledConditions: what the first side of and, or settles does not ask the other, which may be a name without a value: an
// explanation would take the wrong branch.
func TestSettledConditions(t *testing.T) {
	env := newTestEnv()
	env.names["no_value"] = testName{typ: formula.Type{Flag: true, Unit: units.One}, value: math.NaN()}
	env.names["holds"] = testName{typ: formula.Type{Flag: true, Unit: units.One}, value: 1}
	for text, want := range map[string]float64{
		"not holds and no_value ? 5 : 7":     7,
		"holds or no_value ? 5 : 7":          5,
		"not (holds or no_value) ? 5 : 7":    7,
		"not holds and no_value or holds":    1,
		"holds and (holds or no_value)":      1,
		"not holds or not (holds and holds)": 0,
	} {
		rules := formula.Rules{Want: formula.Type{Unit: units.One, Flag: want < 2}}
		if v, err := env.run(text, testUnits(t), rules); err != nil || v != want {
			t.Errorf("%s is %v, %v; want %v", text, v, err, want)
		}
	}
}

// TestUnknownOperator: an operator that no case computes is a fault of the program, never the larger of the two.
func TestUnknownOperator(t *testing.T) {
	if got := formula.Apply(formula.Or, 0, 1); got != 1 {
		t.Errorf("or gives %v", got)
	}
	defer func() {
		if recover() == nil {
			t.Error("no panic")
		}
	}()
	t.Errorf("it gives %v", formula.Apply(formula.Or+1, 3, 4))
}
