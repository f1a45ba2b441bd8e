package main

import (
	"fmt"
	"io"
	"slices"

	"github.com/spf13/cobra"

	"piececost/cmd/piececost/internal/report"
	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel"
)

type sweepFlags struct {
	volumes  []float64
	from, to float64
	points   int
	plot     bool
	choose   bool
	outputFlags
}

func newSweep() *cobra.Command {
	var f sweepFlags
	c := &cobra.Command{
		Use:   "sweep FILE",
		Short: "Cost every scenario over a range of annual volumes",
		Long: `sweep costs every scenario at each of the given annual volumes (good products per year) and prints piece cost by scenario,
the cheapest marked. --from, --to and --points give whole volumes evenly spaced by ratio. Without volumes, those of the
sheet Volumes are taken. Nothing is written.

A machine that was chosen for an operation without one holds over all volumes. --choose chooses anew at each volume and says where another
machine takes over; such a cost is marked m. The CSV then has a column machines, the JSON the machines of each point.

The CSV has a line for each scenario and volume: unrounded money in model currency per good piece, the scrap credit
negative, the elements adding up to piece_cost.`,
		Example: `  piececost sweep tray.xlsx --volumes 5000,20000
  piececost sweep tray.xlsx --choose
  piececost sweep tray.xlsx --from 3000 --to 300000 --points 60 --csv > curve.csv`,
		Args: oneFile,
		RunE: func(cmd *cobra.Command, args []string) error { return sweepWorkbook(cmd, args[0], f) },
	}
	c.Flags().Float64SliceVar(&f.volumes, "volumes", nil, "annual volumes, with commas")
	c.Flags().Float64Var(&f.from, "from", 0, "first annual volume")
	c.Flags().Float64Var(&f.to, "to", 0, "last annual volume")
	c.Flags().BoolVar(&f.plot, "plot", false, "draw the curves below the table")
	c.Flags().BoolVar(&f.choose, "choose", false, "choose machines anew at each volume, for operations that name none")
	c.Flags().IntVar(&f.points, "points", 20, "number of volumes from --from to --to, evenly spaced by ratio: both ends as given, whole volumes "+
		"between, each once")
	f.outputFlags.add(c)
	return c
}

// wanted returns the volumes that the flags ask for, nil where they ask for none.
func (f sweepFlags) wanted(cmd *cobra.Command) ([]float64, error) {
	ranged := cmd.Flags().Changed("from") || cmd.Flags().Changed("to") || cmd.Flags().Changed("points")
	switch {
	case f.choose && f.plot:
		return nil, fmt.Errorf("--plot draws the curves of the machines as chosen at the scenarios' own volumes; give it without --choose")
	case ranged && f.volumes != nil:
		return nil, fmt.Errorf("give either --volumes or --from and --to")
	case ranged && !(f.from > 0 && f.to > f.from):
		return nil, fmt.Errorf("--from must be above 0 and below --to")
	case ranged && !costmodel.PossibleVolume(f.to):
		return nil, impossibleVolume(f.to)
	case ranged && (f.points < 2 || f.points > 10_000_000):
		return nil, fmt.Errorf("--points must be 2 or more, and at most 10,000,000")
	case ranged:
		return costmodel.VolumeRange(f.from, f.to, f.points), nil
	}
	for _, v := range f.volumes {
		if !costmodel.PossibleVolume(v) {
			return nil, impossibleVolume(v)
		}
	}
	return f.volumes, nil
}

// impossibleVolume words the refusal of an annual volume.
func impossibleVolume(v float64) error {
	if v > 0 {
		return fmt.Errorf("a volume of %v can't be costed; it must be at most %s", v, term.Grouped(costmodel.HighestPossible, 0))
	}
	return fmt.Errorf("a volume of %v can't be costed; it must be above 0", v)
}

func sweepWorkbook(cmd *cobra.Command, file string, f sweepFlags) error {
	volumes, err := f.wanted(cmd)
	if err != nil {
		return usageError{err}
	}
	r, err := costed(cmd, file)
	if err != nil {
		return err
	}
	var chosen []*costmodel.ChosenSweep
	var sweeps []*costmodel.Sweep
	if f.choose {
		chosen, err = r.SweepsChosen(cmd.Context(), volumes...)
		for _, s := range chosen {
			sweeps = append(sweeps, s.Sweep)
		}
	} else {
		sweeps, err = r.Sweeps(cmd.Context(), volumes...)
	}
	if err != nil {
		return err
	}
	return f.write(cmd, file, r.Findings, forms{
		func(w io.Writer) { report.SweepCSV(w, r.Model().Schema.Elements, sweeps, chosen) },
		func() any { return report.SweepJSON(r.Model(), sweeps, chosen) },
		func(w io.Writer) {
			report.PrintSweep(w, sweeps, chosen, r.Currency)
			if lo, hi := slices.Min(sweeps[0].Volumes), slices.Max(sweeps[0].Volumes); f.plot && hi > lo {
				fmt.Fprintln(w)
				report.PlotPlans(w, r.Plans(), lo, hi, r.Currency)
			}
		},
	})
}
