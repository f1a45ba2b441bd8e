package main

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"piececost/cmd/piececost/internal/report"
	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel"
	"piececost/costmodel/study"
)

type crossoverFlags struct {
	from, to   int
	tolerance  string
	continuous bool
	of         string
	stabilityFlags
	outputFlags
}

func newCrossover() *cobra.Command {
	var f crossoverFlags
	c := &cobra.Command{
		Use:   "crossover FILE",
		Short: "Find every annual volume at which another scenario becomes the cheaper one, and why",
		Long: `crossover compares the piece cost of all scenarios at every whole annual volume of a range, to one piece. It prints which
scenario is the cheapest at which volumes and what the second best costs more; every change of order of two scenarios
with what jumped there (a machine, a tool set, a crew shift, a batch) or that the curves cross; and the bands in which two
scenarios differ by no more than --tolerance of the cheaper one. Integer quantities (capacity steps) make costs jump, so two
scenarios often change order several times.

The range goes from a tenth of the smallest to three times the largest volume of the scenarios, and as far as the sheet
Volumes does. Where two costs are equal, the scenario that was cheaper at the volume before still counts as the cheaper
one; at the first volume the first of the sheet does. Nothing is written.

--continuous-batches takes the number of batches as a fraction, which leaves the many small jumps of set-up out.

The CSV has one of the three tables, in model currency per good piece; JSON and the terminal have all three:

  --of changes   (without --of) a line for each change of order: the two scenarios in the order of the sheet, the first
                 volume of the new order, and the scenario that is cheaper from there on; then the piece cost of both
                 at the volume before and at this one, and what jumped
  --of envelope  a line for each stretch of volumes in which one scenario is the cheapest of all: the scenario, its
                 first and last volume; then four times - at the first volume, at the last, and where the second best
                 costs least and most more - the volume, the cost of the cheapest, the second best, what it costs more
  --of bands     a line for each stretch in which two scenarios differ by no more than --tolerance: both, the first
                 and the last volume

--stability asks instead whether the cross-overs hold where an input is a bit different: one input after the other at its
low and its high, all else unchanged and the same in both scenarios, at every whole volume again. Low and high are the
input's row of the sheet Uncertainty; with --range, or without that sheet, the inputs that move the difference of the two
most around the cross-over nearest to the second one's own volume, by plus and minus a share of the base value, kept within
the plausible range; a cell that follows the volume goes on following it. Each scenario is compared with the first one,
unless --scenario and --against name two. It prints how many cross-overs there are, the first and the last, and by how
many pieces they move; first those inputs with which the cross-over vanishes, then by how far it moves. Low and high alone
are looked at, nothing between them.

The CSV of --stability has a line for each pair at the base values and for each input at its low and high: value in the unit of
the cell, number of cross-overs, first and last and by how many pieces they move, and which is cheaper at the first volume.`,
		Example: `  piececost crossover tray.xlsx
  piececost crossover tray.xlsx --from 30000 --to 60000 --tolerance 1%
  piececost crossover tray.xlsx --continuous-batches --csv > changes.csv
  piececost crossover tray.xlsx --csv --of envelope > cheapest.csv
  piececost crossover tray.xlsx --stability --scenario C --against A`,
		Args: oneFile,
		RunE: func(cmd *cobra.Command, args []string) error { return crossoverWorkbook(cmd, args[0], f) },
	}
	c.Flags().IntVar(&f.from, "from", 0, "first whole annual volume")
	c.Flags().IntVar(&f.to, "to", 0, "last whole annual volume")
	c.Flags().StringVar(&f.tolerance, "tolerance", "0.5%", "share of the cheaper cost up to which two scenarios cost the same")
	c.Flags().BoolVar(&f.continuous, "continuous-batches", false, "take the number of batches as a fraction")
	c.Flags().StringVar(&f.of, "of", "changes", "with --csv: the table to print, changes, envelope or bands")
	f.stabilityFlags.add(c)
	f.outputFlags.add(c)
	return c
}

// readTolerance reads a share such as 0.5%.
func readTolerance(text string) (float64, error) {
	number, ok := strings.CutSuffix(strings.TrimSpace(text), "%")
	v, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
	if !ok || err != nil || !(v >= 0 && v <= 50) {
		return 0, fmt.Errorf("--tolerance must be a share from 0%% to 50%%, such as 0.5%%")
	}
	return v / 100, nil
}

// check refuses flags that do not go together.
func (f crossoverFlags) check(cmd *cobra.Command) error {
	from, to := cmd.Flags().Changed("from"), cmd.Flags().Changed("to")
	switch {
	case from && f.from < 1:
		return fmt.Errorf("--from must be a whole volume of 1 or more")
	case to && (f.to < 1 || f.to > costmodel.MostVolume):
		return fmt.Errorf("--to must be a whole volume from 1 to %s", term.Grouped(costmodel.MostVolume, 0))
	case from && to && f.from == f.to:
		return fmt.Errorf("a range of one volume has no cross-over; name two volumes with --from and --to")
	case from && to && f.from > f.to:
		return fmt.Errorf("--from must be below --to")
	}
	if err := f.checkTable(cmd); err != nil {
		return err
	}
	return f.stabilityFlags.check(cmd)
}

// checkTable checks the table that CSV is asked for.
func (f crossoverFlags) checkTable(cmd *cobra.Command) error {
	switch {
	case f.of != "changes" && f.of != "envelope" && f.of != "bands":
		return fmt.Errorf("--of must be changes, envelope or bands")
	case !cmd.Flags().Changed("of"):
		return nil
	case f.stability:
		return fmt.Errorf("--of has no part in --stability, whose CSV is one table")
	case !f.csv:
		return fmt.Errorf("--of goes with --csv; the other forms have all three tables")
	}
	return nil
}

func crossoverWorkbook(cmd *cobra.Command, file string, f crossoverFlags) error {
	tolerance, err := readTolerance(f.tolerance)
	if err == nil {
		err = f.check(cmd)
	}
	if err != nil {
		return usageError{err}
	}
	m, plans, ds, err := costedModel(cmd, file)
	if err != nil {
		return err
	}
	if len(plans) < 2 {
		return fmt.Errorf("a cross-over needs two scenarios; %s has one", file)
	}
	ask := study.CrossoverAsk{Tolerance: tolerance}
	ask.From, ask.To = study.VolumeSpan(m, plans)
	if cmd.Flags().Changed("from") {
		ask.From = f.from
	}
	if cmd.Flags().Changed("to") {
		ask.To = f.to
	}
	switch {
	case ask.From < ask.To:
	case cmd.Flags().Changed("from"):
		return usageError{fmt.Errorf("without --to the range ends at %s, not above --from; give --to too", term.Whole(ask.To))}
	default:
		return usageError{fmt.Errorf("without --from the range begins at %s, not below --to; give --from too", term.Whole(ask.From))}
	}
	if f.continuous {
		if plans, err = continuousPlans(m, plans); err != nil {
			return err
		}
	}
	if f.stability {
		r, err := f.find(cmd, m, plans, ask.From, ask.To, f.csv)
		if err != nil {
			return err
		}
		r.Continuous = f.continuous
		return f.write(cmd, file, ds, forms{r.CSV, func() any { return r.JSON() }, r.Print})
	}
	p, stop := term.StartWatch("cross-overs", cmd.ErrOrStderr())
	ask.Progress = p.Report
	c, err := study.Crossovers(cmd.Context(), plans, ask)
	stop()
	if err != nil {
		return err
	}
	fmt.Fprintf(cmd.ErrOrStderr(), "%s compared at %s whole volumes in %.2f s\n", term.Plural(len(plans), "scenario"), term.Whole(ask.To-ask.From+1),
		p.Spent().Seconds())
	r := report.Crossover{Found: c, Plans: plans, Ask: ask, Currency: m.Schema.Units.ModelCurrency(), Continuous: f.continuous}
	return f.write(cmd, file, ds, forms{r.CSVOf(f.of), func() any { return r.JSON(m.Case.File) }, r.Print})
}

// continuousPlans compiles the scenarios anew without set-up rounding.
func continuousPlans(m *costmodel.Model, plans []*costmodel.Plan) ([]*costmodel.Plan, error) {
	out := make([]*costmodel.Plan, len(plans))
	for i, p := range plans {
		again, ds := m.Compile(p.Scenario, costmodel.CompileOptions{ContinuousBatches: true})
		if again == nil {
			return nil, ds[0]
		}
		out[i] = again
	}
	return out, nil
}
