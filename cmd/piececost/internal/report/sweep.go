package report

import (
	"fmt"
	"io"

	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel"
	"piececost/costmodel/study"
)

// PrintSweep prints a table of volumes by scenarios.
func PrintSweep(w io.Writer, sweeps []*costmodel.Sweep, currency string) {
	fmt.Fprintf(w, "Piece cost [%s] against annual volume, * the cheapest\n", currency)
	digits := 0
	for _, s := range sweeps {
		digits = max(digits, int(costmodel.MoneyDigits(currency, s.Columns[0][len(s.Volumes)-1])))
	}
	b := term.Blocks{Corner: "Annual volume [1/yr]"}
	for _, v := range sweeps[0].Volumes {
		b.Labels = append(b.Labels, term.Volume(v))
	}
	best := study.Cheapest(sweeps)
	for n, s := range sweeps {
		c := term.Column{Head: s.Scenario.Name, Marks: 2}
		for i := range s.Volumes {
			mark := "  "
			if n == best[i] {
				mark = " *"
			}
			c.Cells = append(c.Cells, term.Grouped(s.Columns[0][i], digits)+mark)
		}
		b.Groups = append(b.Groups, []term.Column{c})
	}
	b.PrintWhole(w)
}

// SweepCSV prints a line for each scenario and volume: piece cost and its elements, which add up to it.
func SweepCSV(w io.Writer, elements []costmodel.Element, sweeps []*costmodel.Sweep) {
	head := []string{"scenario", "annual_volume", "piece_cost"}
	for _, e := range elements {
		head = append(head, e.Name)
	}
	t := newCSV(w, head...)
	defer t.flush()
	row := make([]any, 2+len(sweeps[0].Columns))
	for _, s := range sweeps {
		for i, v := range s.Volumes {
			row[0], row[1] = s.Scenario.Name, v
			for n, col := range s.Columns {
				row[2+n] = col[i]
			}
			t.row(row...)
		}
	}
}
