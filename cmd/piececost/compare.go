package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"piececost/cmd/piececost/internal/report"
	"piececost/costmodel"
	"piececost/costmodel/study"
)

type compareFlags struct {
	base      string
	scenarios []string
	volume    float64
	by        string
	rules     bool
	outputFlags
}

func newCompare() *cobra.Command {
	var f compareFlags
	c := &cobra.Command{
		Use:   "compare FILE",
		Short: "Put scenario comparison:, with the differences to one of them",
		Long: `compare prints the scenario comparison: piece cost by element, part or operation, with mass, investment, tool sets,
lines, people and floor space, each with its difference to the base (the first scenario where none is named). A row that a
scenario does not have is empty and counts as 0. It says the cost of mass saved, whether parity with the base holds
at the allowable cost of mass saving, and which requirements of the sheet Targets are met or missed, and by how much.
Where the sheet Benchmarks has measured parts of others, each scenario's mass and cost per area, length or volume is held
against their average and the lightest or least.

--equipment-allocation costs the same scenarios with every machine shared, dedicated and pooled in turn, and says where that
reverses the ranking.

A scenario may be named by how it begins. A base that --scenario leaves out is added as the first one. Without --volume
each has its own annual volume. CSV and JSON hold all of it, unrounded, whatever --by says. Nothing is written.`,
		Example: `  piececost compare tray.xlsx
  piececost compare tray.xlsx --base A --volume 40000 --by part
  piececost compare tray.xlsx --scenario C --base A
  piececost compare tray.xlsx --scenario A,C --equipment-allocation
  piececost compare tray.xlsx --csv > comparison.csv`,
		Args: oneFile,
		RunE: func(cmd *cobra.Command, args []string) error { return compareWorkbook(cmd, args[0], f) },
	}
	c.Flags().StringVar(&f.base, "base", "", "scenario that the others are held against, or how it begins")
	c.Flags().StringSliceVar(&f.scenarios, "scenario", nil, "scenarios to compare, with commas; all where none is given")
	c.Flags().Float64Var(&f.volume, "volume", 0, "annual volume of all; each scenario's own where none is given")
	c.Flags().StringVar(&f.by, "by", "element", "rows of the cost table: element, part or operation")
	c.Flags().BoolVar(&f.rules, "equipment-allocation", false, "also with every machine shared, dedicated and pooled")
	f.outputFlags.add(c)
	return c
}

func (f compareFlags) check(cmd *cobra.Command) error {
	switch {
	case f.by != "element" && f.by != "part" && f.by != "operation":
		return fmt.Errorf("--by must be element, part or operation")
	case cmd.Flags().Changed("volume") && !(f.volume > 0):
		return fmt.Errorf("--volume must be above 0")
	case cmd.Flags().Changed("volume") && !costmodel.PossibleVolume(f.volume):
		return impossibleVolume(f.volume)
	}
	return nil
}

func compareWorkbook(cmd *cobra.Command, file string, f compareFlags) error {
	if err := f.check(cmd); err != nil {
		return usageError{err}
	}
	m, plans, ds, err := costedModel(cmd, file)
	if err != nil {
		return err
	}
	c, err := f.compare(plans)
	if err != nil {
		return err
	}
	r := report.Comparison{Comparison: c, Model: m}
	if f.rules {
		if r.Rules, r.Reversals, err = study.ChargingRules(cmd.Context(), c.Details); err != nil {
			return err
		}
	}
	return f.write(cmd, file, ds, forms{r.CSV, func() any { return r.JSON() }, func(w io.Writer) { r.Print(w, f.by) }})
}

// compare costs the scenarios that the flags name.
func (f compareFlags) compare(plans []*costmodel.Plan) (*study.Comparison, error) {
	chosen, err := pickPlans(plans, "scenario", f.scenarios)
	if err != nil {
		return nil, err
	}
	base := chosen[0]
	if f.base != "" {
		if base, chosen, err = f.withBase(plans, chosen); err != nil {
			return nil, err
		}
	}
	var details []*costmodel.Detail
	at := 0
	for i, p := range chosen {
		volume := p.Scenario.Volume
		if f.volume > 0 {
			volume = f.volume
		}
		details = append(details, p.Detail(volume))
		if p == base {
			at = i
		}
	}
	return study.Compare(details, at), nil
}

// withBase finds the base, among the chosen ones if it can; another scenario joins them as the first.
func (f compareFlags) withBase(plans, chosen []*costmodel.Plan) (*costmodel.Plan, []*costmodel.Plan, error) {
	if base, err := planNamed(chosen, f.base); err == nil {
		return base, chosen, nil
	}
	base, err := pickPlan(plans, "base", f.base)
	if err != nil {
		return nil, nil, err
	}
	return base, append([]*costmodel.Plan{base}, chosen...), nil
}
