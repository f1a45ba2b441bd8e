package main

import (
	"fmt"
	"io"

	"piececost/costmodel"
)

// plotPlans draws the curves of scenarios.
func plotPlans(w io.Writer, plans []*costmodel.Plan, from, to float64, currency string) {
	volumes := plotVolumes(from, to)
	names := planNames(plans)
	marks := plotMarks(names)
	var curves []plotted
	for i, p := range plans {
		runner := p.Runner()
		n := copy(runner.Volumes(), volumes)
		curves = append(curves, plotted{mark: marks[i], name: names[i], y: runner.Block(n)[0][:n]})
	}
	plot(w, fmt.Sprintf("Piece cost [%s] over annual volume, both by ratio", currency), volumes, curves)
}
