package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"piececost/cmd/piececost/internal/report"
	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel"
	"piececost/scenarios/costing"
)

type explainFlags struct {
	scenario, part, step, machine, material, plant, quantity string
	volume                                                   float64
	depth                                                    int
	json, whole                                              bool
}

func newExplain() *cobra.Command {
	var f explainFlags
	c := &cobra.Command{
		Use:   "explain FILE",
		Short: "Explain a number: its equation in words and numbers, down to the input cells",
		Long: `explain shows the tree of a number: the equation it comes from, in words and in numbers with units, and the same for
everything that went in, down to each input's sheet, cell and source. What was explained above is not repeated.

Without --part it is a quantity of the scenario; with --part of a part, with --part and --operation of an operation; --machine,
--material and --plant name rows of those sheets. A scenario may be named by how it begins.`,
		Example: `  piececost explain tray.xlsx --scenario A --part FRAME_A --operation 10 --quantity labour
  piececost explain tray.xlsx --scenario C --quantity piece_cost --depth 2
  piececost explain tray.xlsx --scenario A --machine E02 --quantity work_centre_hourly_rate --json`,
		Args: oneFile,
		RunE: func(cmd *cobra.Command, args []string) error { return explainNumber(cmd, args[0], f) },
	}
	c.Flags().StringVar(&f.scenario, "scenario", "", "name of the scenario, or how it begins")
	c.Flags().StringVar(&f.part, "part", "", "key of a part")
	c.Flags().StringVar(&f.step, "operation", "", "number of an operation of the part")
	c.Flags().StringVar(&f.machine, "machine", "", "key of a machine")
	c.Flags().StringVar(&f.material, "material", "", "key of a grade")
	c.Flags().StringVar(&f.plant, "plant", "", "name of a plant")
	c.Flags().StringVar(&f.quantity, "quantity", "", "name of the quantity")
	c.Flags().Float64Var(&f.volume, "volume", 0, "annual volume; the scenario's own where none is given")
	c.Flags().IntVar(&f.depth, "depth", 0, "levels to show; all where none is given")
	c.Flags().BoolVar(&f.whole, "whole", false, "print long expressions whole, not their beginning and length")
	c.Flags().BoolVar(&f.json, "json", false, "print JSON")
	return c
}

// row returns the scope and key that the flags name.
func (f explainFlags) row() (scope, key string, err error) {
	given := 0
	for _, r := range []struct{ scope, key string }{{"part", f.part}, {"machine", f.machine}, {"material", f.material}, {"plant", f.plant}} {
		if r.key != "" {
			scope, key = r.scope, r.key
			given++
		}
	}
	switch {
	case f.quantity == "":
		return "", "", errors.New("--quantity is missing; name one, such as piece_cost of a scenario, labour of an operation or " +
			"work_centre_hourly_rate of a machine")
	case given > 1:
		return "", "", fmt.Errorf("give one of --part, --machine, --material and --plant")
	case f.step != "" && f.part == "":
		return "", "", fmt.Errorf("--operation needs --part")
	case f.step != "":
		return "operation", f.part + "/" + f.step, nil
	case given == 0:
		return "", "", nil
	}
	return scope, key, nil
}

func explainNumber(cmd *cobra.Command, file string, f explainFlags) error {
	scope, key, err := f.row()
	switch {
	case err != nil:
	case cmd.Flags().Changed("volume") && !costmodel.PossibleVolume(f.volume):
		err = impossibleVolume(f.volume)
	case f.depth < 0:
		err = errors.New("--depth must be 0 or more")
	}
	if err != nil {
		return usageError{err}
	}
	r, err := costed(cmd, file)
	if err != nil {
		return err
	}
	p, err := planNamed(r.Plans(), f.scenario)
	if err != nil {
		return usageError{err}
	}
	volume := f.volume
	if volume <= 0 {
		volume = p.Scenario.Volume
	}
	x, err := r.Explain(costing.Number{Scenario: p.Scenario.Name, Scope: scope, Key: key, Quantity: f.quantity, Volume: volume})
	if err != nil {
		return usageError{err}
	}
	out := cmd.OutOrStdout()
	if f.json {
		return report.WriteJSON(out, report.ExplanationJSON(r.Model().Case.File, p.Scenario.Name, volume, x, f.depth))
	}
	term.Wrap(out, "", "  ", report.ScenarioTitle(p.Scenario.Name)+" at "+term.Grouped(volume, 0)+" per year")
	print := report.ExplanationPrint{Depth: f.depth, Whole: f.whole}
	print.Print(out, x, 0)
	if print.Shortened {
		fmt.Fprintln(out, "Long expressions are shortened; --whole prints them whole, as --json does.")
	}
	fmt.Fprintln(out, report.Caution)
	return nil
}
