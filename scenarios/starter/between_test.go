package starter

import (
	"math"
	"testing"

	"piececost/costmodel/units"
)

// TestBetweenUnits: a table's numbers become those of the sheet's unit; fixed points of the scales, and an inch.
func TestBetweenUnits(t *testing.T) {
	sys, err := units.NewSystem("EUR", nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		theirs, ours   string
		number, wanted float64
	}{
		{"degF", "degC", 212, 100}, {"degC", "degF", 100, 212}, {"degF", "degC", -40, -40}, {"degC", "°C", 37, 37}, {"in", "mm", 2, 50.8},
	} {
		theirs, err1 := sys.Parse(c.theirs)
		ours, err2 := sys.Parse(c.ours)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		in := inUnit{factor: 1}
		in.between(theirs, ours)
		value := Content{Is: true, Number: c.number}
		if err := value.convert(in); err != nil || math.Abs(value.Number-c.wanted) > 1e-12*math.Abs(c.wanted) {
			t.Errorf("%v %s is %v %s, %v; want %v", c.number, c.theirs, value.Number, c.ours, err, c.wanted)
		}
	}
}
