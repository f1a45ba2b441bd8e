package main

import (
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
