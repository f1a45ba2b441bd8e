package main

import (
	"math"

	"github.com/spf13/cobra"

	"piececost/costmodel/study"
)

// --top means the same in every command: so many are listed, 0 for all. Without it the table for a person has the first
// few, and CSV and JSON, which other programs read, have all.
const topInputs = "number of inputs to list, 0 for all; without it CSV and JSON have all"

// listed is how many rows a form has; 0 for all.
func (o outputFlags) listed(cmd *cobra.Command, top int) int {
	if !cmd.Flags().Changed("top") && (o.csv || o.json) {
		return 0
	}
	return top
}

// othersOf is how many inputs a pair has at most that were not looked at.
func othersOf(found *study.Stability) int {
	n := 0
	for i := range found.Pairs {
		n = max(n, found.Pairs[i].Others)
	}
	return n
}

// innerPoints says that the values between the ends of an axis are rounded; empty where none is: in even steps, or by ratio.
func innerPoints(axes ...[]float64) string {
	for _, v := range axes {
		if !spaced(v) {
			return "points between the ends are rounded; costs are those at the points shown\n"
		}
	}
	return ""
}

// spaced tells whether values go in even steps, or by an even ratio.
func spaced(v []float64) bool {
	even, ratio := true, true
	for i := 2; i < len(v); i++ {
		d := v[i] - v[i-1]
		even = even && math.Abs(d-(v[1]-v[0])) <= 1e-9*math.Abs(d)
		ratio = ratio && math.Abs(v[i]*v[0]-v[i-1]*v[1]) <= 1e-9*math.Abs(v[i]*v[0])
	}
	return even || ratio
}
