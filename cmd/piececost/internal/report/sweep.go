package report

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel"
	"piececost/costmodel/study"
)

// printSweep prints a table of volumes by scenarios.
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

// sweepHead is the first line of the CSV.
func sweepHead() string {
	return "scenario,annual_volume,piece_cost," + strings.Join(costmodel.Elements, ",")
}

func SweepCSV(w io.Writer, sweeps []*costmodel.Sweep) {
	fmt.Fprintln(w, sweepHead())
	number := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	for _, s := range sweeps {
		name := csvText(s.Scenario.Name)
		for i, v := range s.Volumes {
			row := []string{name, number(v)}
			for _, col := range s.Columns {
				row = append(row, number(col[i]))
			}
			fmt.Fprintln(w, strings.Join(row, ","))
		}
	}
}
