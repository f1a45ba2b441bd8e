package main

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"piececost/costmodel/study"
)

type volumesFlags struct {
	sweepFlags
	scenarios []string
	share     float64
	shifts    []float64
	machines  bool
}

// mostViewed is the number of volumes that are viewed in one go: each is compiled with its own installed capacity.
const mostViewed = 1000

func newVolumes() *cobra.Command {
	var f volumesFlags
	c := &cobra.Command{
		Use:   "volumes FILE",
		Short: "Show what each annual volume takes: lines, people, tools, money, and what one more piece costs",
		Long: `volumes shows every scenario at each annual volume: lines, their load, people, tool sets and investment; the piece cost
and what the next piece costs; the piece cost at 20 % less and more with the lines and tool sets that are installed for
the volume; the piece cost with 1, 2 and 3 shifts a day, the cheapest marked; and pooled steps that could not in fact
share their stations.

Installed capacity is the whole lines of pooled and dedicated machines and the tool sets. Shared machines are paid by
the hour and are taken as filled by others, whatever the volume and the shifts. A premium for shifts is an expression in
the sheet Plants: the direct labour rate as  shifts > 2 ? 41 : 38

--machines prints instead each machine at each volume: own lines and their load, the lines charged of shared machines,
and crew shifts of pools; the busiest own machine is what runs short first.

Without volumes, those of the sheet Volumes are taken. CSV has a line for each scenario and volume, with --machines one
for each machine. JSON has everything. Nothing is written.`,
		Example: `  piececost volumes tray.xlsx
  piececost volumes tray.xlsx --volumes 5000,20000 --scenario A
  piececost volumes tray.xlsx --from 10000 --to 200000 --points 12 --csv
  piececost volumes tray.xlsx --within 30 --shifts 2,3,4
  piececost volumes tray.xlsx --scenario A --machines`,
		Args: oneFile,
		RunE: func(cmd *cobra.Command, args []string) error { return viewVolumes(cmd, args[0], f) },
	}
	c.Flags().Float64SliceVar(&f.volumes, "volumes", nil, "annual volumes, with commas")
	c.Flags().Float64Var(&f.from, "from", 0, "first annual volume")
	c.Flags().Float64Var(&f.to, "to", 0, "last annual volume")
	c.Flags().IntVar(&f.points, "points", 20, "number of volumes from --from to --to, evenly spaced by ratio: both ends as given, whole volumes between, each once")
	c.Flags().StringSliceVar(&f.scenarios, "scenario", nil, "scenarios, or how they begin, with commas; all where none is given")
	c.Flags().Float64Var(&f.share, "within", 20, "percent by which the volume falls and rises on the installed capacity")
	c.Flags().Float64SliceVar(&f.shifts, "shifts", []float64{1, 2, 3}, "shifts a day to try")
	c.Flags().BoolVar(&f.machines, "machines", false, "print lines, load and crew shifts of each machine instead")
	f.outputFlags.add(c)
	return c
}

func (f volumesFlags) check(volumes []float64) error {
	switch {
	case !(f.share > 0 && f.share < 100):
		return fmt.Errorf("--within must lie between 0 and 100")
	case len(f.shifts) == 0 || len(f.shifts) > 8:
		return fmt.Errorf("--shifts takes 1 to 8 numbers")
	case len(volumes) > mostViewed:
		return fmt.Errorf("%d volumes are too many; at most %d are viewed in one go", len(volumes), mostViewed)
	}
	seen := map[float64]bool{}
	for _, s := range f.shifts {
		if !(s > 0) || s > 24 || seen[s] {
			return fmt.Errorf("--shifts takes different numbers above 0, at most 24")
		}
		seen[s] = true
	}
	return nil
}

func viewVolumes(cmd *cobra.Command, file string, f volumesFlags) error {
	volumes, err := f.wanted(cmd)
	if err == nil {
		err = f.check(volumes)
	}
	if err != nil {
		return usageError{err}
	}
	m, plans, ds, err := costedModel(file, cmd.ErrOrStderr())
	if err != nil {
		return err
	}
	chosen, err := pickPlans(plans, "scenario", f.scenarios)
	if err != nil {
		return err
	}
	if volumes == nil {
		if volumes = m.Volumes; len(volumes) == 0 {
			volumes = defaultVolumes(plans)
		}
		if err := f.check(volumes); err != nil {
			return err
		}
	}
	v := volumesReport{file: m.Case.File, currency: m.Schema.Units.ModelCurrency(), share: f.share}
	w, stop := startWatch("volumes", cmd.ErrOrStderr())
	defer stop()
	done, all := 0, len(volumes)*len(chosen)
	for _, plan := range chosen {
		view, err := study.ViewVolumes(plan, volumes, study.VolumeOptions{Share: f.share / 100, Shifts: f.shifts}, func() error {
			done++
			return w.report(float64(done) / float64(all))
		})
		if err != nil {
			return err
		}
		v.views = append(v.views, view)
	}
	if f.machines {
		return f.write(cmd, file, ds, forms{v.machinesCSV, func() any { return v.json() }, v.printMachines})
	}
	return f.write(cmd, file, ds, forms{v.csv, func() any { return v.json() }, v.print})
}

// volumesReport is the views to be printed.
type volumesReport struct {
	file, currency string
	share          float64 // percent
	views          []*study.VolumeView
}

// csv prints a line for each scenario and volume.
func (v *volumesReport) csv(w io.Writer) {
	head := []string{"scenario", "annual_volume", "own_lines", "shared_lines", "own_load", "people", "tool_sets", "floor_area_m2", "equipment_investment", "tooling_investment", "annual_cost", "piece_cost", "next_piece",
		"volume_less", "piece_cost_less", "volume_more", "piece_cost_more", "more_possible"}
	for _, o := range v.views[0].Points[0].Shifts {
		head = append(head, fmt.Sprintf("piece_cost_%g_shifts", o.Shifts))
	}
	fmt.Fprintln(w, strings.Join(append(head, "cheapest_shifts"), ","))
	for _, view := range v.views {
		for _, p := range view.Points {
			c := p.Capacity
			cells := []string{csvText(view.Scenario)}
			for _, x := range []float64{p.Volume, c.OwnLines, c.SharedLines, c.Load, c.People, c.ToolSets, c.Floor, p.Own, p.Tooling, p.Annual, p.Cost, p.Next, p.Less.Volume, p.Less.PieceCost, p.More.Volume, p.More.PieceCost} {
				cells = append(cells, csvNumber(x))
			}
			cells = append(cells, yesNo(p.More.Possible()))
			for _, o := range p.Shifts {
				cost := math.NaN()
				if o.Possible {
					cost = o.PieceCost
				}
				cells = append(cells, csvNumber(cost))
			}
			cheapest := math.NaN()
			if p.Cheapest >= 0 {
				cheapest = p.Shifts[p.Cheapest].Shifts
			}
			fmt.Fprintln(w, strings.Join(append(cells, csvNumber(cheapest)), ","))
		}
	}
}

// csvNumber writes a number without an exponent, nothing where there is none.
func csvNumber(v float64) string {
	if math.IsNaN(v) {
		return ""
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

func yesNo(yes bool) string {
	if yes {
		return "yes"
	}
	return "no"
}
