package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"piececost/cmd/piececost/internal/report"
	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel"
	"piececost/costmodel/study"
)

type mapFlags struct {
	x, y, xRange, yRange string
	scenarios            []string
	volume               float64
	outputFlags
}

func newMap() *cobra.Command {
	var f mapFlags
	c := &cobra.Command{
		Use:   "map FILE",
		Short: "Show which scenario is cheapest over any two inputs",
		Long: `map costs every scenario at each pair of values of two inputs and shows the cheapest as a letter; a small letter stands
where the second best costs less than 1 % more. Inputs are written sheet/row/column, or "Annual volume". A range is
from:to:points in the unit of the cells, with :ratio behind it for steps by ratio; without one the axis runs over half to
double the base value, the annual volume over those of the sheet Volumes. As text a map has room for about 35 points
across; CSV and JSON take any number.

The CSV has a line for each pair of values: the cheapest scenario, margin (what the second best costs more, model currency per
good piece), and the piece cost of every scenario, empty where it can't be costed.

` + report.Caution,
		Example: `  piececost map tray.xlsx --x "Annual volume" --y "Materials/M04/Base price"
  piececost map tray.xlsx --x "Annual volume" --x-range 5000:300000:12:ratio --y "Plants/Van plant/Direct labour rate" --y-range 20:60:9
  piececost map tray.xlsx --x "Annual volume" --y Case/Interest rate --csv`,
		Args: oneFile,
		RunE: func(cmd *cobra.Command, args []string) error { return mapWorkbook(cmd, args[0], f) },
	}
	c.Flags().StringVar(&f.x, "x", "", "input across")
	c.Flags().StringVar(&f.y, "y", "", "input upward")
	c.Flags().StringVar(&f.xRange, "x-range", "", "from:to:points across, with :ratio behind for steps by ratio")
	c.Flags().StringVar(&f.yRange, "y-range", "", "from:to:points upward")
	c.Flags().StringSliceVar(&f.scenarios, "scenario", nil, "scenarios, or how they begin, with commas; all where none is given")
	c.Flags().Float64Var(&f.volume, "volume", 0, "annual volume where it is no axis; each scenario's own where none is given")
	f.outputFlags.add(c)
	return c
}

func mapWorkbook(cmd *cobra.Command, file string, f mapFlags) error {
	if f.x == "" || f.y == "" {
		return usageError{fmt.Errorf("a map needs --x and --y")}
	}
	if err := checkStudyFlags(cmd, f.volume, 0); err != nil {
		return usageError{err}
	}
	m, plans, warnings, err := costedModel(cmd, file)
	if err != nil {
		return err
	}
	chosen, err := pickPlans(plans, "scenario", f.scenarios)
	if err != nil {
		return err
	}
	list := make([]*costmodel.Scenario, len(chosen))
	for i, p := range chosen {
		list[i] = p.Scenario
	}
	x, y, err := pairNamed(f.x, f.y)
	if err != nil {
		return err
	}
	route, err := study.MapOver(cmd.Context(), m, list, x, y, f.volume, f.fitting(axesOf(m, f.xRange, f.yRange, [2]int{12, 11}),
		term.Columns(cmd.OutOrStdout())))
	if err != nil {
		return axisError(err)
	}
	r := report.NewMap(route, m, f.volume)
	return f.write(cmd, file, warnings, forms{r.CSV, func() any { return r.JSON() }, r.Print})
}

// fitting refuses more points across than a map of letters has room for in so many columns; the other forms take any number.
func (f mapFlags) fitting(axes study.AxisOf, columns int) study.AxisOf {
	if f.csv || f.json {
		return axes
	}
	across := 0
	return func(which int, v *costmodel.Varied) ([]float64, error) {
		values, err := axes(which, v)
		if err != nil || which == 0 {
			across = len(values)
			return values, err
		}
		if room := term.MostAcross(report.AxisLabels(values), columns); across > room {
			return nil, fmt.Errorf("--x-range: %s points across are more than the %d that a map of letters has room for; "+
				"give fewer, or --csv or --json, which take any number", term.Whole(across), room)
		}
		return values, nil
	}
}
