package report

import (
	"fmt"
	"io"
	"math"

	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel/study"
)

// PrintMachines prints for each scenario its machines by volume: product-specific lines with their load, shared lines charged, crew shifts.
func (v *Volumes) PrintMachines(w io.Writer) {
	for i, view := range v.Views {
		if i > 0 {
			fmt.Fprintln(w)
		}
		fmt.Fprintf(w, "%s\n", ScenarioTitle(view.Scenario))
		busiest := view.Busiest()
		printMachineTable(w, view, "Capacity utilisation [%] of product-specific lines (in brackets), * the busiest",
			func(u study.MachineUse) float64 { return u.Own },
			func(at int, u study.MachineUse) string {
				mark := "  "
				if u.Key == busiest[at] {
					mark = " *"
				}
				return fmt.Sprintf("%s (%s)%s", term.Grouped(100*u.Load, 1), term.Grouped(u.Own, 0), mark)
			})
		printMachineTable(w, view, "Lines charged of shared machines", func(u study.MachineUse) float64 { return u.Shared },
			func(_ int, u study.MachineUse) string { return term.Grouped(u.Shared, 2) })
		printMachineTable(w, view, "Crew shifts per day of pools", func(u study.MachineUse) float64 { return u.CrewShifts },
			func(_ int, u study.MachineUse) string { return term.Grouped(u.CrewShifts, 0) })
		printMachineNames(w, view)
	}
	fmt.Fprintln(w)
}

// printMachineTable prints the machines that have a quantity, by volume.
func printMachineTable(w io.Writer, view *study.VolumeView, title string, of func(study.MachineUse) float64, cell func(int, study.MachineUse) string) {
	b := term.Blocks{}
	columns := make([]term.Column, len(view.Points))
	for i, p := range view.Points {
		columns[i].Head = term.Volume(p.Volume)
	}
	for _, m := range view.Machines() {
		if !m.Has(of) {
			continue
		}
		b.Labels = append(b.Labels, m.Key)
		for i, u := range m.Uses {
			text := ""
			if of(u) > 0 {
				text = cell(i, u)
			}
			columns[i].Cells = append(columns[i].Cells, text)
		}
	}
	if len(b.Labels) == 0 {
		return
	}
	for _, c := range columns {
		b.Groups = append(b.Groups, []term.Column{c})
	}
	fmt.Fprintf(w, "\n%s\n", title)
	b.Print(w)
}

func printMachineNames(w io.Writer, view *study.VolumeView) {
	fmt.Fprintln(w)
	for _, m := range view.Machines() {
		if m.Name != "" && m.Name != m.Key {
			term.Wrap(w, "", "  ", m.Key+": "+m.Name)
		}
	}
}

// MachinesCSV prints a line for each scenario, volume and machine.
func (v *Volumes) MachinesCSV(w io.Writer) {
	t := newCSV(w, "scenario", "annual_volume", "machine", "name", "product_specific_lines", "capacity_utilisation", "busiest", "shared_lines",
		"lines_filled", "crew_shifts")
	defer t.flush()
	for _, view := range v.Views {
		busiest := view.Busiest()
		for i, p := range view.Points {
			for _, m := range p.Capacity.Machines {
				load := math.NaN()
				if m.Own > 0 {
					load = m.Load
				}
				t.row(view.Scenario, p.Volume, m.Key, m.Name, m.Own, load, yesNo(m.Key == busiest[i]), m.Shared, m.Needed, m.CrewShifts)
			}
		}
	}
}
