package main

import (
	"context"
	"errors"
	"fmt"
	"math"

	"github.com/spf13/cobra"

	"piececost/cmd/piececost/internal/report"
	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel"
	"piececost/costmodel/study"
)

type solveFlags struct {
	inputs                   []string
	scenario, equals, parity string
	target, volume           float64
	from, to                 float64
	top                      int
	outputFlags
}

func newSolve() *cobra.Command {
	var f solveFlags
	c := &cobra.Command{
		Use:   "solve FILE",
		Short: "Find break-even values: the value of an input at which a target holds",
		Long: `solve finds the value of an input at which a scenario costs what is wanted, all else unchanged: an amount (--target),
what another scenario costs (--equals), or that with mass saved counted at the allowable cost of the sheet Case (--parity). The
input has the same value in both scenarios.

An input is written sheet/row/column, such as "Materials/M04/Base price", "Operations/A01/20/Reject rate",
"Case/Interest rate" or "Annual volume"; any quantity of a row may be named, also one that is computed. Every value in its
plausible range is found, or in --from to --to, in the unit of its cell. Capacity steps make costs jump: where the target is
jumped over, the jump is shown. Without --input each input is tried in turn, and those that need the smallest change come
first; they are those of the scenario, without what nature or the design fixes (densities, the counts of the bill of
materials). A value holds in the workbook where no scenario changes that cell.

The CSV has a line for each value found, of all inputs unless --top asks for fewer: base_value, from and to in the unit of the cell; found
is value, stretch (it holds from value until until), jump (below and above: what is wanted is missed by so much before and
after it, money per good piece), nearest (no value does it; below is what it misses by) or moves nothing. JSON holds the same.

` + report.Caution,
		Example: `  piececost solve tray.xlsx --input "Materials/M04/Base price" --scenario B --equals A --volume 60000
  piececost solve tray.xlsx --scenario B --target 180
  piececost solve tray.xlsx --input "Annual volume" --scenario C --equals A --from 20000 --to 100000`,
		Args: oneFile,
		RunE: func(cmd *cobra.Command, args []string) error { return solveWorkbook(cmd, args[0], f) },
	}
	c.Flags().StringArrayVar(&f.inputs, "input", nil, "input to solve for, sheet/row/column; may be given again")
	c.Flags().StringVar(&f.scenario, "scenario", "", "name of the scenario, or how it begins")
	c.Flags().StringVar(&f.equals, "equals", "", "scenario whose cost is wanted")
	c.Flags().StringVar(&f.parity, "parity", "", "scenario whose cost is wanted, mass saved counted at its allowable cost")
	c.Flags().Float64Var(&f.target, "target", 0, "piece cost that is wanted")
	c.Flags().Float64Var(&f.volume, "volume", 0, "annual volume; each scenario's own where none is given")
	c.Flags().Float64Var(&f.from, "from", 0, "lowest value to look at, in the unit of the cell")
	c.Flags().Float64Var(&f.to, "to", 0, "highest value to look at")
	c.Flags().IntVar(&f.top, "top", 20, topInputs)
	f.outputFlags.add(c)
	return c
}

// check refuses flags that do not go together.
func (f solveFlags) check(cmd *cobra.Command) error {
	ranged := cmd.Flags().Changed("from") || cmd.Flags().Changed("to")
	wanted := 0
	for _, name := range []string{"target", "equals", "parity"} {
		if cmd.Flags().Changed(name) {
			wanted++
		}
	}
	switch {
	case wanted != 1:
		return fmt.Errorf("give one of --target, --equals and --parity")
	case !costmodel.PossibleNumber(f.target):
		return fmt.Errorf("--target is %s; write what a piece is to cost, in the currency of the model", costmodel.Beyond(f.target))
	case !costmodel.PossibleNumber(f.from) || !costmodel.PossibleNumber(f.to):
		return fmt.Errorf("--from or --to is %s; they are in the unit of the input's cell", costmodel.Beyond(max(math.Abs(f.from), math.Abs(f.to))))
	case ranged && len(f.inputs) != 1:
		return fmt.Errorf("--from and --to need exactly one --input")
	case ranged && !(cmd.Flags().Changed("from") && cmd.Flags().Changed("to") && f.from < f.to):
		return fmt.Errorf("--from must be below --to, and both be given")
	}
	return checkStudyFlags(cmd, f.volume, f.top)
}

// measure makes what is solved for of the flags.
func (f solveFlags) measure(m *costmodel.Model, plans []*costmodel.Plan) (study.Measure, error) {
	out := study.Measure{Model: m, Volume: f.volume, PayMass: f.parity != ""}
	p, err := pickPlan(plans, "scenario", f.scenario)
	if err != nil {
		return out, err
	}
	out.Scenario = p.Scenario
	for _, given := range [][2]string{{"equals", f.equals}, {"parity", f.parity}} {
		flag, name := given[0], given[1]
		if name == "" {
			continue
		}
		other, err := pickPlan(plans, flag, name)
		if err != nil {
			return out, err
		}
		if other == p {
			return out, usageError{fmt.Errorf("--%s names the same scenario as --scenario", flag)}
		}
		out.Against = other.Scenario
	}
	return out, nil
}

func solveWorkbook(cmd *cobra.Command, file string, f solveFlags) error {
	if err := f.check(cmd); err != nil {
		return usageError{err}
	}
	inputs, err := inputsNamed(f.inputs)
	if err != nil {
		return err
	}
	m, plans, warnings, err := costedModel(cmd, file)
	if err != nil {
		return err
	}
	q, err := f.measure(m, plans)
	if err != nil {
		return err
	}
	w, stop := term.StartWatch("break-even values", cmd.ErrOrStderr())
	defer stop()
	q.Progress = w.Report
	s := report.Solve{Top: f.top}
	print := s.PrintAll
	if len(inputs) == 0 {
		print = s.PrintEach
		s.SolveAnswer, err = q.SolveEachLever(cmd.Context(), f.target)
	} else {
		s.SolveAnswer, err = f.solveAsked(cmd.Context(), q, inputs)
	}
	if errors.Is(err, study.ErrNoRange) {
		err = fmt.Errorf("%w; give --from and --to", err)
	}
	if err != nil {
		return axisError(err)
	}
	stop()
	if asked := cmd.Flags().Changed("top") && f.top > 0 && len(inputs) == 0; asked && (f.csv || f.json) {
		s.Solutions = s.Solutions[:min(len(s.Solutions), f.top)]
	}
	return f.write(cmd, file, warnings, forms{s.CSV, func() any { return s.JSON() }, print})
}

// solveAsked solves for each input that was asked for, in the range asked for where there is one.
func (f solveFlags) solveAsked(ctx context.Context, q study.Measure, inputs []costmodel.Input) (*study.SolveAnswer, error) {
	from, to := math.NaN(), math.NaN()
	if f.from < f.to {
		from, to = f.from, f.to
	}
	var out *study.SolveAnswer
	for _, in := range inputs {
		a, err := q.SolveFor(ctx, f.target, in, from, to)
		if err != nil {
			return nil, err
		}
		if out != nil {
			a.Solutions = append(out.Solutions, a.Solutions...)
		}
		out = a
	}
	return out, nil
}
