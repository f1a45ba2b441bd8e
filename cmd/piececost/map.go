package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

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
double today's value, the annual volume over those of the sheet Volumes.

` + caution,
		Example: `  piececost map tray.xlsx --x "Annual volume" --y "Materials/M04/Base price"
  piececost map tray.xlsx --x "Annual volume" --x-range 5000:300000:12:ratio --y "Plants/Van plant/Direct labour rate" --y-range 20:60:9
  piececost map tray.xlsx --x "Annual volume" --y Case/Interest --csv`,
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

// axisOf reads from:to:points, with :ratio or :even behind; without a text the usual axis. Steps go by ratio without a word
// where the range spans more than a decade.
func axisOf(m *costmodel.Model, v *costmodel.Varied, flag, text string, points int) (study.Axis, error) {
	if text == "" {
		a, ok := study.UsualAxis(m, v, points)
		if !ok {
			return a, fmt.Errorf("%s has no value above 0 today; give --%s-range", v.Input, flag)
		}
		return a, nil
	}
	parts := strings.Split(text, ":")
	bad := fmt.Errorf("--%s-range is %q, wanted is from:to:points, such as 5000:300000:12 or 0.5:1.5:11:even", flag, text)
	if len(parts) < 3 || len(parts) > 4 {
		return study.Axis{}, bad
	}
	var n [2]float64
	for i := range n {
		var err error
		if n[i], err = strconv.ParseFloat(strings.TrimSpace(parts[i]), 64); err != nil || math.IsNaN(n[i]) {
			return study.Axis{}, bad
		}
	}
	count, err := strconv.Atoi(strings.TrimSpace(parts[2]))
	if err != nil {
		return study.Axis{}, bad
	}
	a := study.Axis{From: n[0], To: n[1], Points: count, ByRatio: n[0] > 0 && n[1]/n[0] >= 10}
	if len(parts) == 4 {
		if a.ByRatio = parts[3] == "ratio"; !a.ByRatio && parts[3] != "even" {
			return study.Axis{}, bad
		}
	}
	return a, nil
}

// axes finds the two inputs of a measure and their values, in the unit of the cells.
func axes(q study.Measure, x, y, xRange, yRange string, points [2]int) (r *study.Response, values [2][]float64, err error) {
	inputs, err := inputsNamed([]string{x, y})
	if err != nil {
		return nil, values, err
	}
	r, ds := q.Respond(inputs)
	if r == nil || len(r.Inputs) < 2 {
		return nil, values, inputError(ds)
	}
	for i, text := range []string{xRange, yRange} {
		v := &r.Inputs[i]
		if !v.Present {
			return nil, values, usageError{fmt.Errorf("no scenario in question has the row of %s", v.Input)}
		}
		a, err := axisOf(q.Model, v, []string{"x", "y"}[i], text, points[i])
		if err != nil {
			return nil, values, usageError{err}
		}
		if values[i], err = a.Values(); err != nil {
			return nil, values, usageError{fmt.Errorf("--%s-range: %w", []string{"x", "y"}[i], err)}
		}
	}
	return r, values, nil
}

func mapWorkbook(cmd *cobra.Command, file string, f mapFlags) error {
	if f.x == "" || f.y == "" {
		return usageError{fmt.Errorf("a map needs --x and --y")}
	}
	if err := checkStudyFlags(cmd, f.volume, 0); err != nil {
		return usageError{err}
	}
	m, plans, warnings, err := costedModel(file, cmd.ErrOrStderr())
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
	values, inputs, err := f.axes(m, list)
	if err != nil {
		return err
	}
	route, ds := study.BestRoute(m, list, inputs[0].Input, inputs[1].Input, study.Coherent(&inputs[0], values[0]), study.Coherent(&inputs[1], values[1]), f.volume)
	if route == nil {
		return inputError(ds)
	}
	r := mapReport{Map: route, model: m, volume: f.volume, xs: values[0], ys: values[1]}
	return f.write(cmd, file, warnings, forms{r.csv, func() any { return r.json() }, r.print})
}

// axes finds the axes in the first scenario that has both rows, or the first with each.
func (f mapFlags) axes(m *costmodel.Model, list []*costmodel.Scenario) (values [2][]float64, inputs [2]costmodel.Varied, err error) {
	for i, s := range list {
		q := study.Measure{Model: m, Scenario: s, Volume: f.volume}
		if i > 0 {
			q.Against = list[0]
		}
		var r *study.Response
		if r, values, err = axes(q, f.x, f.y, f.xRange, f.yRange, [2]int{12, 11}); err == nil {
			return values, [2]costmodel.Varied{r.Inputs[0], r.Inputs[1]}, nil
		}
	}
	return values, inputs, err
}
