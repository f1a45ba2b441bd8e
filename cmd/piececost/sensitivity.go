package main

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"piececost/cmd/piececost/internal/report"
	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel"
	"piececost/costmodel/study"
)

type sensitivityFlags struct {
	scenario, difference string
	volume               float64
	share                string
	top                  int
	elasticities         bool
	x, y, xRange, yRange string
	outputFlags
}

func newSensitivity() *cobra.Command {
	var f sensitivityFlags
	c := &cobra.Command{
		Use:   "sensitivity FILE",
		Short: "Rank what moves the piece cost of a scenario, or the difference of two",
		Long: `sensitivity moves one input at a time, all else unchanged, and ranks the inputs by how far the piece cost of a scenario
swings, or the difference of two scenarios, in both of which the input is moved. The range of an input is its row of the
sheet Uncertainty (Sheet, Row, Column, Distribution, Low, Likely, High) where the workbook has that sheet; with --range, or
without the sheet, plus and minus a share of the base value, kept within the plausible range, of all inputs but those that
nature or the design fixes (densities, the counts of the bill of materials). Each range is looked at in eleven values or
more: capacity steps make costs jump, so that low and high alone would miss a swing between them.

In the sheet Uncertainty, Low, Likely and High are numbers in the unit of the cells, or of base, the base value: base * 0.9,
or base + a difference (of a share with its unit: base + "1 %"). So several rows move together, each from its own value, as
one input: Materials, *, Base price, base * 0.9 to base * 1.1. Row is a key, a list, *, or * except a list; of rows that name
the same cell the more specific wins.

The CSV has a line for each input: base_value, low and high in the unit of the cell; at_low, at_high, least, most and swing of the
cost or difference in model currency per good piece; of elasticities the effect of +1 % of the input, by steps of a tenth and of
five percent.

A level of temperature has no share: it is moved by 10 K where others are moved by 10 %, and by 1 K where they are by 1 %.

--elasticities ranks all inputs at once by elasticity, the effect of +1 % of each. --x and --y print a table over two inputs; their
ranges are from:to:points in the unit of the cells.

` + report.Caution,
		Example: `  piececost sensitivity tray.xlsx --difference A,C
  piececost sensitivity tray.xlsx --scenario A --range 20% --top 10
  piececost sensitivity tray.xlsx --scenario A --elasticities
  piececost sensitivity tray.xlsx --scenario A --x "Annual volume" --y "Plants/Van plant/Direct labour rate"`,
		Args: oneFile,
		RunE: func(cmd *cobra.Command, args []string) error { return sensitivityOf(cmd, args[0], f) },
	}
	c.Flags().StringVar(&f.scenario, "scenario", "", "name of the scenario, or how it begins; the first where none is given")
	c.Flags().StringVar(&f.difference, "difference", "", "two scenarios with a comma: how much the second costs more than the first")
	c.Flags().Float64Var(&f.volume, "volume", 0, "annual volume; each scenario's own where none is given")
	c.Flags().StringVar(&f.share, "range", "", "plus and minus this share of the base value (10% where the case has no sheet Uncertainty)")
	c.Flags().IntVar(&f.top, "top", 20, topInputs)
	c.Flags().BoolVar(&f.elasticities, "elasticities", false, "rank all inputs by elasticity, the effect of +1 %")
	c.Flags().StringVar(&f.x, "x", "", "input across a table of two")
	c.Flags().StringVar(&f.y, "y", "", "input down a table of two")
	c.Flags().StringVar(&f.xRange, "x-range", "", "from:to:points across, with :ratio behind for steps by ratio")
	c.Flags().StringVar(&f.yRange, "y-range", "", "from:to:points down")
	f.outputFlags.add(c)
	return c
}

func (f sensitivityFlags) check(cmd *cobra.Command) error {
	switch {
	case f.scenario != "" && f.difference != "":
		return fmt.Errorf("give either --scenario or --difference")
	case (f.x == "") != (f.y == ""):
		return fmt.Errorf("a table needs --x and --y")
	case f.x != "" && f.elasticities:
		return fmt.Errorf("--elasticities and a table exclude each other")
	case f.x == "" && (f.xRange != "" || f.yRange != ""):
		return fmt.Errorf("--x-range and --y-range need --x and --y")
	}
	return checkStudyFlags(cmd, f.volume, f.top)
}

func (f sensitivityFlags) measure(m *costmodel.Model, plans []*costmodel.Plan) (study.Measure, error) {
	out := study.Measure{Model: m, Volume: f.volume}
	if f.difference == "" {
		p, err := plans[0], error(nil)
		if f.scenario != "" {
			if p, err = pickPlan(plans, "scenario", f.scenario); err != nil {
				return out, err
			}
		}
		out.Scenario = p.Scenario
		return out, nil
	}
	first, second, ok := splitPair(plans, f.difference)
	if !ok {
		return out, usageError{fmt.Errorf("--difference takes two scenarios with a comma, such as A,C")}
	}
	pair, err := pickPlans(plans, "difference", []string{first, second})
	if err != nil {
		return out, err
	}
	out.Against, out.Scenario = pair[0].Scenario, pair[1].Scenario
	return out, nil
}

func sensitivityOf(cmd *cobra.Command, file string, f sensitivityFlags) error {
	if err := f.check(cmd); err != nil {
		return usageError{err}
	}
	share := 0.1
	if f.share != "" {
		var err error
		if share, err = shareOf(f.share); err != nil {
			return usageError{err}
		}
	}
	m, plans, warnings, err := costedModel(cmd, file)
	if err != nil {
		return err
	}
	q, err := f.measure(m, plans)
	if err != nil {
		return err
	}
	if f.x != "" {
		p, err := twoWay(cmd.Context(), q, f)
		if err != nil {
			return err
		}
		return f.write(cmd, file, warnings, forms{p.CSV, func() any { return p.JSON() }, p.Print})
	}
	s := report.Sensitivity{Measure: q, Top: f.outputFlags.listed(cmd, f.top), Share: share}
	if err := respond(&s, cmd, f); err != nil {
		return err
	}
	if f.elasticities {
		s.Elasticities = s.Response.Elasticities()
		return f.write(cmd, file, warnings, forms{s.ElasticityCSV, func() any { return s.ElasticityJSON() }, s.PrintElasticities})
	}
	return f.write(cmd, file, warnings, forms{s.TornadoCSV, func() any { return s.TornadoJSON() }, s.PrintTornado})
}

// twoWay makes the table over two inputs.
func twoWay(ctx context.Context, q study.Measure, f sensitivityFlags) (*report.TwoWay, error) {
	x, y, err := pairNamed(f.x, f.y)
	if err != nil {
		return nil, err
	}
	t, r, err := q.TableOver(ctx, x, y, axesOf(q.Model, f.xRange, f.yRange, [2]int{6, 9}))
	if err != nil {
		return nil, axisError(err)
	}
	return report.NewTwoWay(t, q, r), nil
}

// respond compiles the inputs that are moved: those of the sheet Uncertainty, or all.
func respond(s *report.Sensitivity, cmd *cobra.Command, f sensitivityFlags) error {
	list, ds := s.Measure.Model.Uncertainty()
	if f.share != "" || f.elasticities {
		list, ds = nil, nil
	}
	if ds.HasErrors() {
		report.PrintDiagnostics(cmd.ErrOrStderr(), ds)
		return errCase
	}
	w, stop := term.StartWatch("sensitivity", cmd.ErrOrStderr())
	defer stop()
	s.Measure.Progress = w.Report
	s.Stated = len(list) > 0
	var err error
	if f.elasticities {
		s.Response, ds = s.Measure.RespondAll(cmd.Context())
	} else {
		var inputs []costmodel.Input
		if inputs, ds = s.Measure.Moved(list); len(ds) > 0 {
			return ds[0]
		}
		s.Response, s.Bars, ds, err = s.Measure.Swings(cmd.Context(), inputs, list, s.Share)
	}
	if err == nil {
		err = cmd.Context().Err()
	}
	if err == nil && s.Response == nil {
		report.PrintDiagnostics(cmd.ErrOrStderr(), ds)
		err = errCase
	}
	return err
}
