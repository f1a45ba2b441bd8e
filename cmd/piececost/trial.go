package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"piececost/cmd/piececost/internal/report"
	"piececost/costmodel"
	"piececost/costmodel/study"
)

type trialFlags struct {
	scenario, part string
	baseGrade      string
	baseGauge      float64 // mm; 0 for none
	grades         []string
	gauges         []float64
	volume         float64
	outputFlags
}

func newTrial() *cobra.Command {
	var f trialFlags
	c := &cobra.Command{
		Use:   "trial FILE",
		Short: "Try a part in other grades and gauges: cost, mass, what the process says, stiffness and strength against the base",
		Long: `trial costs a part of a scenario in each grade at each gauge. For every cell of the matrix it shows the piece cost of the product, the mass
of the part, which checks of its process and which targets of the sheet Targets do not hold, the least cost of those that pass, and the front
of cost against mass. Machines that are chosen, and whatever else rests on grade and gauge, are found anew for each cell.

Beside it stand screening relations: bending stiffness of a panel, dent resistance and section strength against the grade and gauge that the
part has, or against --base-grade and --base-gauge, and the gauge at which a grade equals it. Minimum yield strengths are taken where they are
known. They verify nothing: simulation and test do.

The sheet Trial values holds what is asked of the part and what was measured, by grade and gauge: bending stiffness, dent resistance, section
strength, a quantity of the part that is computed, as Net mass of this level, or one of your own. A measured value goes before a computed one,
and that before one carried over from the base by a screening ratio; each is marked. A target of which nothing is known leaves a cell open (?).

Grades are keys of the sheet Materials, since a price is needed; without --grades all of the form that the part's grade has. Gauges are in mm;
without --gauges five around that of the part.

` + report.Caution,
		Example: `  piececost trial tray.xlsx --scenario A --part A01
  piececost trial tray.xlsx --scenario B --part B05 --grades M05,M07 --gauges 1.6,1.8,2.0,2.2
  piececost trial tray.xlsx --scenario B --part B05 --csv > trial.csv`,
		Args: oneFile,
		RunE: func(cmd *cobra.Command, args []string) error { return trialWorkbook(cmd, args[0], f) },
	}
	c.Flags().StringVar(&f.scenario, "scenario", "", "name of the scenario, or how it begins")
	c.Flags().StringVar(&f.part, "part", "", "key of the part")
	c.Flags().StringSliceVar(&f.grades, "grades", nil, "keys of the sheet Materials, with commas")
	c.Flags().Float64SliceVar(&f.gauges, "gauges", nil, "gauges in mm, with commas")
	c.Flags().StringVar(&f.baseGrade, "base-grade", "", "key of the grade to hold the others against; that of the part where none is given")
	c.Flags().Float64Var(&f.baseGauge, "base-gauge", 0, "gauge in mm to hold the others against; that of the part where none is given")
	c.Flags().Float64Var(&f.volume, "volume", 0, "annual volume; the scenario's own where none is given")
	f.outputFlags.add(c)
	return c
}

func (f trialFlags) check(cmd *cobra.Command) error {
	if f.part == "" {
		return errors.New("--part is missing; name the part that is tried")
	}
	for _, g := range f.gauges {
		if !(g > 0) || g > 1000 {
			return fmt.Errorf("--gauges has %v; a gauge is above 0 and at most 1,000 mm", g)
		}
	}
	if cmd.Flags().Changed("base-gauge") && (!(f.baseGauge > 0) || f.baseGauge > 1000) {
		return fmt.Errorf("--base-gauge is %v; a gauge is above 0 and at most 1,000 mm", f.baseGauge)
	}
	if cmd.Flags().Changed("gauges") && len(f.gauges) == 0 || len(f.gauges)*max(1, len(f.grades)) > costmodel.MostTried {
		return fmt.Errorf("a trial has 1 to %d cells", costmodel.MostTried)
	}
	return checkStudyFlags(cmd, f.volume, 0)
}

func trialWorkbook(cmd *cobra.Command, file string, f trialFlags) error {
	if err := f.check(cmd); err != nil {
		return usageError{err}
	}
	m, plans, warnings, err := costedModel(cmd, file)
	if err != nil {
		return err
	}
	p, err := pickPlan(plans, "scenario", f.scenario)
	if err != nil {
		return err
	}
	t, err := study.Try(cmd.Context(), m, p, f.ask())
	switch {
	case cmd.Context().Err() != nil:
		return err
	case err != nil:
		return usageError{err}
	}
	r := &report.Trial{Trial: t, Model: m, Currency: m.Schema.Units.ModelCurrency(), File: m.Case.File}
	return f.write(cmd, file, warnings, forms{r.CSV, func() any { return r.JSON() }, r.Print})
}

// ask is what is tried, in metres.
func (f trialFlags) ask() study.TrialAsk {
	out := study.TrialAsk{Part: f.part, Grades: f.grades, BaseGrade: f.baseGrade, BaseGauge: f.baseGauge / 1000, Volume: f.volume}
	for _, g := range f.gauges {
		out.Gauges = append(out.Gauges, g/1000)
	}
	return out
}
