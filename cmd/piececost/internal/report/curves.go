package report

import (
	"fmt"
	"io"

	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel"
)

// PlotPlans draws the curves of scenarios.
func PlotPlans(w io.Writer, plans []*costmodel.Plan, from, to float64, currency string) {
	volumes := term.PlotVolumes(from, to)
	names := planNames(plans)
	marks := term.PlotMarks(names)
	var curves []term.Curve
	for i, p := range plans {
		runner := p.Runner()
		n := copy(runner.Volumes(), volumes)
		curves = append(curves, term.Curve{Mark: marks[i], Name: names[i], Y: runner.Block(n)[0][:n]})
	}
	term.Plot(w, fmt.Sprintf("Piece cost [%s] over annual volume, both by ratio", currency), volumes, curves)
}
