package main

import (
	"errors"
	"fmt"
	"math"

	"github.com/spf13/cobra"

	"piececost/cmd/piececost/internal/report"
	"piececost/costmodel"
	"piececost/costmodel/study"
)

type trialFlags struct {
	scenario, part string
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
part has, and the gauge at which a grade equals it. Minimum yield strengths are taken where they are known. They verify nothing: simulation and
test do.

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
	c.Flags().Float64Var(&f.volume, "volume", 0, "annual volume; the scenario's own where none is given")
	f.outputFlags.add(c)
	return c
}

// mostTried is how many cells a trial may have.
const mostTried = 2000

func (f trialFlags) check(cmd *cobra.Command) error {
	if f.part == "" {
		return errors.New("--part is missing; name the part that is tried")
	}
	for _, g := range f.gauges {
		if !(g > 0) || g > 1000 {
			return fmt.Errorf("--gauges has %v; a gauge is above 0 and at most 1,000 mm", g)
		}
	}
	if cmd.Flags().Changed("gauges") && len(f.gauges) == 0 || len(f.gauges)*max(1, len(f.grades)) > mostTried {
		return fmt.Errorf("a trial has 1 to %d cells", mostTried)
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
	grades, gauges, err := f.matrix(m, p)
	if err != nil {
		return usageError{err}
	}
	t, err := study.Try(cmd.Context(), m, p, f.part, grades, gauges, f.volume)
	if err != nil {
		return err
	}
	r := &report.Trial{Trial: t, Model: m, Currency: m.Schema.Units.ModelCurrency(), File: m.Case.File}
	return f.write(cmd, file, warnings, forms{r.CSV, func() any { return r.JSON() }, r.Print})
}

// matrix returns the grades and gauges that are tried; gauges in metres.
func (f trialFlags) matrix(m *costmodel.Model, p *costmodel.Plan) (grades []string, gauges []float64, err error) {
	grade, gauge, err := study.BaseOf(p, f.part)
	if err != nil {
		return nil, nil, err
	}
	if grades = f.grades; len(grades) == 0 {
		grades = m.MaterialsOfForm(m.FormOf(grade))
	}
	for _, key := range grades {
		if _, err := m.Trying(p.Scenario, f.part, key, gauge); err != nil {
			return nil, nil, err
		}
	}
	for _, g := range f.gauges {
		gauges = append(gauges, g/1000)
	}
	if len(gauges) == 0 {
		for _, share := range []float64{0.8, 0.9, 1, 1.1, 1.2} {
			gauges = append(gauges, math.Round(gauge*share*1e5)/1e5)
		}
	}
	if len(grades)*len(gauges) > mostTried {
		return nil, nil, fmt.Errorf("a trial has 1 to %d cells", mostTried)
	}
	return grades, gauges, nil
}
