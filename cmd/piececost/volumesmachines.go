package main

import (
	"fmt"
	"io"
	"strings"

	"piececost/costmodel/study"
)

// printMachines prints for each scenario its machines by volume: own lines with their load, shared lines charged, crew shifts.
func (v *volumesReport) printMachines(w io.Writer) {
	for i, view := range v.views {
		if i > 0 {
			fmt.Fprintln(w)
		}
		fmt.Fprintf(w, "%s\n", scenarioTitle(view.Scenario))
		busiest := view.Busiest()
		printMachineTable(w, view, "Load of own lines [%], lines in brackets, * the busiest", func(u study.MachineUse) float64 { return u.Own },
			func(at int, u study.MachineUse) string {
				mark := "  "
				if u.Key == busiest[at] {
					mark = " *"
				}
				return fmt.Sprintf("%s (%s)%s", grouped(100*u.Load, 1), grouped(u.Own, 0), mark)
			})
		printMachineTable(w, view, "Lines charged of shared machines", func(u study.MachineUse) float64 { return u.Shared },
			func(_ int, u study.MachineUse) string { return grouped(u.Shared, 2) })
		printMachineTable(w, view, "Crew shifts a day of pools", func(u study.MachineUse) float64 { return u.CrewShifts },
			func(_ int, u study.MachineUse) string { return grouped(u.CrewShifts, 0) })
		printMachineNames(w, view)
	}
	fmt.Fprintln(w)
}

// printMachineTable prints the machines that have a quantity, by volume.
func printMachineTable(w io.Writer, view *study.VolumeView, title string, of func(study.MachineUse) float64, cell func(int, study.MachineUse) string) {
	b := blocks{}
	columns := make([]column, len(view.Points))
	for i, p := range view.Points {
		columns[i].head = shownVolume(p.Volume)
	}
	for _, m := range view.Machines() {
		if !m.Has(of) {
			continue
		}
		b.labels = append(b.labels, m.Key)
		for i, u := range m.Uses {
			text := ""
			if of(u) > 0 {
				text = cell(i, u)
			}
			columns[i].cells = append(columns[i].cells, text)
		}
	}
	if len(b.labels) == 0 {
		return
	}
	for _, c := range columns {
		b.groups = append(b.groups, []column{c})
	}
	fmt.Fprintf(w, "\n%s\n", title)
	b.print(w)
}

func printMachineNames(w io.Writer, view *study.VolumeView) {
	fmt.Fprintln(w)
	for _, m := range view.Machines() {
		if m.Name != "" && m.Name != m.Key {
			printWrapped(w, "", "  ", m.Key+": "+m.Name)
		}
	}
}

// machinesCSV prints a line for each scenario, volume and machine.
func (v *volumesReport) machinesCSV(w io.Writer) {
	fmt.Fprintln(w, "scenario,annual_volume,machine,name,own_lines,own_load,busiest,shared_lines,lines_filled,crew_shifts")
	for _, view := range v.views {
		busiest := view.Busiest()
		for i, p := range view.Points {
			for _, m := range p.Capacity.Machines {
				load := ""
				if m.Own > 0 {
					load = csvNumber(m.Load)
				}
				fmt.Fprintln(w, strings.Join([]string{csvText(view.Scenario), csvNumber(p.Volume), csvText(m.Key), csvText(m.Name), csvNumber(m.Own), load, yesNo(m.Key == busiest[i]), csvNumber(m.Shared), csvNumber(m.Needed), csvNumber(m.CrewShifts)}, ","))
			}
		}
	}
}
