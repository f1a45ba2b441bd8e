package main

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

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
double today's value, the annual volume over those of the sheet Volumes. As text a map has room for about 35 points
across; CSV and JSON take any number.

The CSV has a line for each pair of values: the cheapest scenario, margin (what the second best costs more, model currency a
good piece), and the piece cost of every scenario, empty where it can't be costed.

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

// axesOf makes the axes of two inputs from the flags of their ranges.
func axesOf(m *costmodel.Model, xRange, yRange string, points [2]int) study.AxisOf {
	return func(which int, v *costmodel.Varied) ([]float64, error) {
		flag := []string{"x", "y"}[which]
		a, err := axisOf(m, v, flag, []string{xRange, yRange}[which], points[which])
		if err != nil {
			return nil, err
		}
		values, err := a.Values()
		if err != nil {
			return nil, fmt.Errorf("--%s-range: %w", flag, err)
		}
		return values, nil
	}
}

// pairNamed reads the two inputs of a map or table.
func pairNamed(x, y string) (a, b costmodel.Input, err error) {
	inputs, err := inputsNamed([]string{x, y})
	if err != nil {
		return a, b, err
	}
	return inputs[0], inputs[1], nil
}

// axisError turns what is wrong with the axes of the command line into wrong usage.
func axisError(err error) error {
	var d costmodel.Diagnostic
	if errors.As(err, &d) {
		return inputError(costmodel.Diagnostics{d})
	}
	return usageError{err}
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
	x, y, err := pairNamed(f.x, f.y)
	if err != nil {
		return err
	}
	route, err := study.MapOver(m, list, x, y, f.volume, f.fitting(axesOf(m, f.xRange, f.yRange, [2]int{12, 11})))
	if err != nil {
		return axisError(err)
	}
	r := mapReport{Map: route, model: m, volume: f.volume, xs: shownAll(&route.X, route.Xs), ys: shownAll(&route.Y, route.Ys)}
	return f.write(cmd, file, warnings, forms{r.csv, func() any { return r.json() }, r.print})
}

// fitting refuses more points across than a map of letters has room for; the other forms take any number.
func (f mapFlags) fitting(axes study.AxisOf) study.AxisOf {
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
		if room := mostAcross(axisLabels(values)); across > room {
			return nil, fmt.Errorf("--x-range: %s points across are more than the %d that a map of letters has room for; give fewer, or --csv or --json, which take any number", grouped(float64(across), 0), room)
		}
		return values, nil
	}
}

// mostAcross is how many columns a grid with these labels upward has room for.
func mostAcross(labels []string) int {
	left := 0
	for _, l := range labels {
		left = max(left, utf8.RuneCountInString(l))
	}
	return (terminalWidth - left - len(" |")) / leastMapColumn
}

// leastMapColumn is the room of a letter in a map with its gap.
const leastMapColumn = 2

// shownAll turns values of an axis into the unit of the cells.
func shownAll(v *costmodel.Varied, values []float64) []float64 {
	out := make([]float64, len(values))
	for i, x := range values {
		out[i] = v.Shown(x)
	}
	return out
}
