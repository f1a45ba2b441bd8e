package study_test

import (
	"slices"
	"testing"

	"piececost/costmodel"
	"piececost/costmodel/study"
)

func sweepOf(costs ...float64) *costmodel.Sweep {
	return &costmodel.Sweep{Volumes: make([]float64, len(costs)), Columns: [][]float64{costs}}
}

// TestCheapest finds the lowest at each volume, the first of equals.
func TestCheapest(t *testing.T) {
	for _, c := range []struct {
		sweeps []*costmodel.Sweep
		want   []int
	}{
		{nil, nil},
		{[]*costmodel.Sweep{sweepOf()}, []int{}},
		{[]*costmodel.Sweep{sweepOf(3, 2, 1)}, []int{0, 0, 0}},
		{[]*costmodel.Sweep{sweepOf(3, 2, 1), sweepOf(1, 2, 3)}, []int{1, 0, 0}},
		{[]*costmodel.Sweep{sweepOf(3, 3), sweepOf(2, 4), sweepOf(1, 2)}, []int{2, 2}},
		{[]*costmodel.Sweep{sweepOf(5), sweepOf(4), sweepOf(4)}, []int{1}},
		{[]*costmodel.Sweep{sweepOf(-1), sweepOf(-2)}, []int{1}},
	} {
		if got := study.Cheapest(c.sweeps); !slices.Equal(got, c.want) {
			t.Errorf("%v, want %v", got, c.want)
		}
	}
}
