package scenarios

import (
	"math"
	"strings"
	"testing"
)

// TestSensitivitySheet: the widest bars stand first, falls and rises make up the swing, and what a price alone does is
// what the model says with the price changed.
func TestSensitivitySheet(t *testing.T) {
	r, f := studied(t)
	rows := rowsBelow(t, rawRows(t, f, sensitivitySheet), "Input|Unit of its cell|")
	if len(rows) < listedBars {
		t.Fatalf("%d rows", len(rows))
	}
	widest, turning := math.Inf(1), 0
	for i, row := range rows[:listedBars] {
		falls, rises, swing := number(t, row[7]), number(t, row[8]), number(t, row[9])
		if falls > 0 || rises < 0 || math.Abs(rises-falls-swing) > 1e-9 || swing > widest {
			t.Errorf("%s: falls %v, rises %v, swing %v after %v", row[0], falls, rises, swing, widest)
		}
		widest = swing
		bar := r.Sensitivity[0].Bars[i]
		if turns := strings.Contains(row[10], "non-monotonic"); turns != bar.Turns {
			t.Errorf("%s: %q, turns %v", row[0], row[10], bar.Turns)
		} else if turns {
			turning++
		}
		low, high := number(t, row[5]), number(t, row[6])
		if low-r.Sensitivity[0].BaseValue < falls-1e-9 || high-r.Sensitivity[0].BaseValue > rises+1e-9 {
			t.Errorf("%s: ends %v and %v beyond %v and %v", row[0], low, high, falls, rises)
		}
	}
	if turning == 0 || turning == listedBars {
		t.Errorf("%d of %d bars are non-monotonic", turning, listedBars)
	}
	if rows[0][0] != "Materials/M05/Base price" || rows[0][1] != "EUR/kg" || number(t, rows[0][2]) != 0.86 || number(t, rows[0][3]) != 0.774 {
		t.Errorf("first row %v", rows[0])
	}
}
