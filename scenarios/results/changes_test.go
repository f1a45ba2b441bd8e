package results

import (
	"testing"

	"piececost/scenarios/sheet"
)

// TestChangesAtDecimals: a change that is nothing at the decimals shown is 0; a format says how many it shows.
func TestChangesAtDecimals(t *testing.T) {
	for _, c := range []struct {
		v      float64
		digits int
		want   float64
	}{{-0.0049, 2, 0}, {0.0049, 2, 0}, {-0.005, 2, -0.005}, {0.4, 0, 0}, {-0.6, 0, -0.6}, {0.0004, 3, 0}} {
		if got := shownChange(c.v, c.digits); got != c.want {
			t.Errorf("%v with %d decimals: %v, want %v", c.v, c.digits, got, c.want)
		}
	}
	for format, want := range map[string]int{sheet.MoneyFormat: 2, sheet.MassFormat: 3, sheet.WholeFormat: 0, "#,##0.0": 1} {
		if got := decimalsOf(format); got != want {
			t.Errorf("%s has %d decimals, want %d", format, got, want)
		}
	}
}
