package report

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel"
	"piececost/costmodel/study"
)

// PrintSweep prints a table of volumes by scenarios; where machines were chosen anew at each volume, also where they change.
func PrintSweep(w io.Writer, sweeps []*costmodel.Sweep, chosen []*costmodel.ChosenSweep, currency string) {
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
		if chosen != nil {
			c.Marks = 4
		}
		for i := range s.Volumes {
			mark := "  "
			if n == best[i] {
				mark = " *"
			}
			if chosen != nil {
				mark += changeMark(chosen[n], s.Volumes[i])
			}
			c.Cells = append(c.Cells, term.Grouped(s.Columns[0][i], digits)+mark)
		}
		b.Groups = append(b.Groups, []term.Column{c})
	}
	b.PrintWhole(w)
	machineChanges(w, chosen)
}

// changeMark marks a cost at which an operation gets another machine than at the volume before it.
func changeMark(s *costmodel.ChosenSweep, volume float64) string {
	if slices.ContainsFunc(s.Changes, func(c costmodel.ChoiceChange) bool { return c.Volume == volume }) {
		return " m"
	}
	return "  "
}

// machineChanges says which operations get another machine at which volume.
func machineChanges(w io.Writer, chosen []*costmodel.ChosenSweep) {
	any := false
	for _, s := range chosen {
		for _, c := range s.Changes {
			if !any {
				term.Wrap(w, "", "  ", "m: another machine costs less than at the volume before")
				any = true
			}
			term.Wrap(w, "  ", "    ", fmt.Sprintf("%s at %s: operation %s on %s instead of %s", s.Scenario.Name, term.Volume(c.Volume), c.Operation.Key,
				c.To.Key, c.From.Key))
		}
	}
	if chosen != nil && !any {
		term.Wrap(w, "", "  ", "the same machines cost least at all of these volumes")
	}
}

// machinesAt lists the machines that were chosen at a volume: B05/20=E06.
func machinesAt(s *costmodel.ChosenSweep, i int) (out []string) {
	for _, c := range s.Machines[i] {
		out = append(out, c.Operation.Key+"="+c.Machine.Key)
	}
	return out
}

// SweepCSV prints a line for each scenario and volume: piece cost and its elements, which add up to it.
func SweepCSV(w io.Writer, elements []costmodel.Element, sweeps []*costmodel.Sweep, chosen []*costmodel.ChosenSweep) {
	head := []string{"scenario", "annual_volume", "piece_cost"}
	for _, e := range elements {
		head = append(head, e.Name)
	}
	if chosen != nil {
		head = append(head, "machines")
	}
	t := newCSV(w, head...)
	defer t.flush()
	row := make([]any, 2+len(sweeps[0].Columns))
	for at, s := range sweeps {
		for i, v := range s.Volumes {
			row[0], row[1] = s.Scenario.Name, v
			for n, col := range s.Columns {
				row[2+n] = col[i]
			}
			if chosen != nil {
				t.row(append(row, strings.Join(machinesAt(chosen[at], i), ";"))...)
				continue
			}
			t.row(row...)
		}
	}
}
