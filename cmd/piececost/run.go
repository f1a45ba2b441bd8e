package main

import (
	"errors"
	"fmt"
	"io"
	"math"

	"github.com/spf13/cobra"

	"piececost/costmodel"
	"piececost/scenarios"
)

func newRun() *cobra.Command {
	var out string
	var asJSON, replace bool
	c := &cobra.Command{
		Use:   "run FILE",
		Short: "Cost every scenario and write the results into the workbook",
		Long: `run costs every scenario at its own annual volume, and over the sheet Volumes, writes the result sheets as live formulas
into the workbook, and prints the comparison.

A workbook made by ` + "`piececost new`" + ` is written in place; of any other, -o names a copy that gets the results.
With errors in the case nothing is written.

` + caution,
		Example: `  piececost run tray.xlsx
  piececost run tray.xlsx -o tray-costed.xlsx
  piececost run tray.xlsx --json`,
		Args: oneFile,
		RunE: func(cmd *cobra.Command, args []string) error {
			return costWorkbook(cmd, args[0], out, replace, asJSON)
		},
	}
	c.Flags().StringVarP(&out, "output", "o", "", "write the workbook with its results to this file")
	c.Flags().BoolVar(&replace, "replace", false, "let -o replace a file that is there")
	c.Flags().BoolVar(&asJSON, "json", false, "print the results as JSON")
	return c
}

func costWorkbook(cmd *cobra.Command, file, out string, replace, asJSON bool) error {
	m, plans, ds, err := costedModel(file, cmd.ErrOrStderr())
	if err != nil {
		return err
	}
	w, err := scenarios.Open(file)
	if err != nil {
		return err
	}
	target := out
	if target == "" {
		target, replace = file, true
		if !w.IsStarter() {
			return fmt.Errorf("%s was not made by `piececost new`, so it is not written in place; name a file for the results with -o", file)
		}
	}
	r, err := result(m, plans)
	if err != nil {
		return err
	}
	if err := w.Write(r); err != nil {
		return err
	}
	if err := w.Save(target, replace); err != nil {
		if !replace && errors.Is(err, scenarios.ErrThere) {
			err = fmt.Errorf("%w, or let it be replaced with --replace", err)
		}
		return err
	}
	if asJSON {
		return writeRunJSON(cmd.OutOrStdout(), m, r, ds, target)
	}
	printComparison(cmd.OutOrStdout(), r)
	fmt.Fprintf(cmd.OutOrStdout(), "\nThe results are in %s, the sheet Summary first.\n%s\n", target, caution)
	printDiagnostics(cmd.ErrOrStderr(), ds)
	return nil
}

// result costs every scenario at its own volume and over the volumes of the case.
func result(m *costmodel.Model, plans []*costmodel.Plan) (*scenarios.Result, error) {
	r := &scenarios.Result{Program: "piececost " + version}
	volumes := m.Volumes
	if len(volumes) == 0 {
		volumes = defaultVolumes(plans)
	}
	for _, p := range plans {
		r.Details = append(r.Details, p.Detail(p.Scenario.Volume))
		s, err := p.Sweep(volumes)
		if err != nil {
			return nil, err
		}
		r.Sweeps = append(r.Sweeps, s)
	}
	return r, nil
}

// defaultVolumes goes from a tenth to three times the scenarios' own volumes in round numbers, for a case without
// volumes.
func defaultVolumes(plans []*costmodel.Plan) []float64 {
	lo, hi := plans[0].Scenario.Volume, plans[0].Scenario.Volume
	for _, p := range plans {
		lo, hi = min(lo, p.Scenario.Volume), max(hi, p.Scenario.Volume)
	}
	var out []float64
	for _, v := range costmodel.VolumeRange(max(1, lo/10), 3*hi, 10) {
		scale := math.Pow(10, max(0, math.Floor(math.Log10(v))-1))
		if v = math.Round(v/scale) * scale; len(out) == 0 || v > out[len(out)-1] {
			out = append(out, v)
		}
	}
	return out
}

func writeRunJSON(w io.Writer, m *costmodel.Model, r *scenarios.Result, ds costmodel.Diagnostics, target string) error {
	currency := m.Schema.Units.ModelCurrency()
	out := runJSON{Format: "piececost run", Version: 1, Program: version, File: m.Case.File, Workbook: target, Currency: currency, Findings: findingsJSON(ds), Caution: caution}
	for i := range r.Details {
		out.Scenarios = append(out.Scenarios, scenarioOf(r.Details, i))
	}
	return writeJSON(w, out)
}

// printComparison prints the scenarios side by side, what the saved mass costs, and the piece cost over volume.
func printComparison(w io.Writer, r *scenarios.Result) {
	currency := r.Details[0].Plan.Model.Schema.Units.ModelCurrency()
	t := &table{}
	head := []string{currency + " a good piece"}
	for _, d := range r.Details {
		head = append(head, d.Plan.Scenario.Name)
	}
	t.add(head...)
	t.line()
	t.add(each(r, "Annual volume [1/yr]", func(d *costmodel.Detail) string { return grouped(d.Volume, 0) })...)
	statements := make([]costmodel.Statement, len(r.Details))
	for i, d := range r.Details {
		statements[i] = d.Statement()
	}
	for i, e := range costmodel.Elements {
		row := []string{costmodel.ElementLabel(e)}
		for _, st := range statements {
			row = append(row, groupDigits(st.Lines[i].Money.StringFixed(st.Digits)))
		}
		t.add(row...)
	}
	t.line()
	row := []string{"Piece cost"}
	for _, st := range statements {
		row = append(row, groupDigits(st.Total.Money.StringFixed(st.Digits)))
	}
	t.add(row...)
	t.line()
	t.add(each(r, "Price", func(d *costmodel.Detail) string {
		return grouped(d.Scenario().Must("price"), int(d.Statement().Digits))
	})...)
	t.add(each(r, "Net mass [kg]", func(d *costmodel.Detail) string { return grouped(d.Scenario().Must("net_mass"), 3) })...)
	t.add(each(r, "Gross mass [kg]", func(d *costmodel.Detail) string { return grouped(d.Scenario().Must("gross_mass"), 3) })...)
	t.add(each(r, "Tooling investment", func(d *costmodel.Detail) string { return grouped(d.Scenario().Must("tooling_investment"), 0) })...)
	t.add(each(r, "Own equipment investment", func(d *costmodel.Detail) string {
		return grouped(d.Scenario().Must("own_equipment_investment"), 0)
	})...)
	t.print(w)
	if len(r.Details) > 1 {
		fmt.Fprintf(w, "\nCost of mass saved against %s\n", r.Details[0].Plan.Scenario.Name)
		for i := range r.Details[1:] {
			fmt.Fprintf(w, "  %s %s\n", r.Details[i+1].Plan.Scenario.Name, scenarios.Verdict(r.Details, i+1).Words)
		}
	}
	fmt.Fprintln(w)
	printSweep(w, r.Sweeps, currency)
}

func each(r *scenarios.Result, label string, value func(*costmodel.Detail) string) []string {
	out := []string{label}
	for _, d := range r.Details {
		out = append(out, value(d))
	}
	return out
}
