package results

import (
	"math"
	"testing"
)

// TestAxisTop: the axis reaches twice the highest lead over the second best, or all values.
func TestAxisTop(t *testing.T) {
	for _, c := range []struct {
		more [][]float64
		top  float64
		cut  bool
	}{
		{[][]float64{{0, 4, 35}, {9, 0, 11}}, 20, true},
		{[][]float64{{0, 4, 7}, {1, 0, 6}}, 7, false},
		{[][]float64{{0, 36}, {2, 0}}, 40, false},
		{[][]float64{{0, 0.7, 90}}, 1.5, true},
		{[][]float64{{0, 0}}, 0, false},
		{[][]float64{{0}}, 0, false},
	} {
		if top, cut := axisTop(c.more); math.Abs(top-c.top) > 1e-9 || cut != c.cut {
			t.Errorf("%v: %v, %v; want %v, %v", c.more, top, cut, c.top, c.cut)
		}
	}
}
