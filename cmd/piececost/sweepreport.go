package main

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/study"
)

// printSweep prints a table of volumes by scenarios.
func printSweep(w io.Writer, sweeps []*costmodel.Sweep, currency string) {
	fmt.Fprintf(w, "Piece cost [%s] against annual volume, * the cheapest\n", currency)
	digits := 0
	for _, s := range sweeps {
		digits = max(digits, int(costmodel.MoneyDigits(currency, s.Columns[0][len(s.Volumes)-1])))
	}
	b := blocks{corner: "Annual volume [1/yr]"}
	for _, v := range sweeps[0].Volumes {
		b.labels = append(b.labels, shownVolume(v))
	}
	best := study.Cheapest(sweeps)
	for n, s := range sweeps {
		c := column{head: s.Scenario.Name, marks: 2}
		for i := range s.Volumes {
			mark := "  "
			if n == best[i] {
				mark = " *"
			}
			c.cells = append(c.cells, grouped(s.Columns[0][i], digits)+mark)
		}
		b.groups = append(b.groups, []column{c})
	}
	b.printWhole(w)
}

// sweepHead is the first line of the CSV.
func sweepHead() string {
	return "scenario,annual_volume,piece_cost," + strings.Join(costmodel.Elements, ",")
}

func writeSweepCSV(w io.Writer, sweeps []*costmodel.Sweep) {
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
