package study

import "piececost/costmodel"

// Cheapest returns, for every volume of sweeps over the same volumes, the index of the sweep with the lowest piece cost;
// the first of equals.
func Cheapest(sweeps []*costmodel.Sweep) []int {
	if len(sweeps) == 0 {
		return nil
	}
	out := make([]int, len(sweeps[0].Volumes))
	for i := range out {
		for s := range sweeps {
			if sweeps[s].Columns[0][i] < sweeps[out[i]].Columns[0][i] {
				out[i] = s
			}
		}
	}
	return out
}
