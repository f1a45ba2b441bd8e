package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"piececost/cmd/piececost/internal/report"
	"piececost/cmd/piececost/internal/term"
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
		Long: `volumes shows every scenario at each annual volume: lines, their capacity utilisation, people, tool sets and
investment; the piece cost and the marginal cost; the piece cost at 20 % less and more with the lines and tool sets that are installed for
the volume; the piece cost with 1, 2 and 3 shifts per day, the cheapest marked; and pooled operations that could not in fact
share their stations.

Installed capacity is the whole lines of pooled and dedicated machines and the tool sets. Shared machines are paid by
the hour and are taken as filled by others, whatever the volume and the shifts. A premium for shifts is an expression in
the sheet Plants: the direct labour rate as  shifts > 2 ? 41 : 38

--machines prints instead each machine at each volume: product-specific lines and their capacity utilisation, the lines
charged of shared machines, and crew shifts of pools; the busiest product-specific machine is what runs short first.

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
	c.Flags().IntVar(&f.points, "points", 20, "number of volumes from --from to --to, evenly spaced by ratio: both ends as given, whole volumes "+
		"between, each once")
	c.Flags().StringSliceVar(&f.scenarios, "scenario", nil, "scenarios, or how they begin, with commas; all where none is given")
	c.Flags().Float64Var(&f.share, "within", 20, "percent by which the volume falls and rises on the installed capacity")
	c.Flags().Float64SliceVar(&f.shifts, "shifts", []float64{1, 2, 3}, "shifts per day to try")
	c.Flags().BoolVar(&f.machines, "machines", false, "print lines, capacity utilisation and crew shifts of each machine instead")
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
	m, plans, ds, err := costedModel(cmd, file)
	if err != nil {
		return err
	}
	chosen, err := pickPlans(plans, "scenario", f.scenarios)
	if err != nil {
		return err
	}
	if volumes == nil {
		volumes = study.UsualVolumes(m, plans)
		if err := f.check(volumes); err != nil {
			return err
		}
	}
	v := report.Volumes{File: m.Case.File, Currency: m.Schema.Units.ModelCurrency(), Share: f.share}
	w, stop := term.StartWatch("volumes", cmd.ErrOrStderr())
	defer stop()
	for i, plan := range chosen {
		view, err := study.ViewVolumes(cmd.Context(), plan, volumes, study.VolumeOptions{Share: f.share / 100, Shifts: f.shifts}, w.Part(i, len(chosen)))
		if err != nil {
			return err
		}
		v.Views = append(v.Views, view)
	}
	if f.machines {
		return f.write(cmd, file, ds, forms{v.MachinesCSV, func() any { return v.JSON() }, v.PrintMachines})
	}
	return f.write(cmd, file, ds, forms{v.CSV, func() any { return v.JSON() }, v.Print})
}
