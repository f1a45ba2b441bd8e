package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"math"
	"path/filepath"

	"github.com/spf13/cobra"

	"piececost/costmodel"
	"piececost/scenarios"
)

type runFlags struct {
	out                       string
	json, replace, ignoreLock bool
	discardEdits              bool
}

func newRun() *cobra.Command {
	var f runFlags
	c := &cobra.Command{
		Use:   "run FILE",
		Short: "Cost every scenario and write the results into the workbook",
		Long: `run costs every scenario at its own annual volume, and over the sheet Volumes, writes the result sheets as live formulas
into the workbook, and prints the comparison, its lines rounded so that they add up to the piece cost (compare rounds each
by itself). The sheets of studies (Cross-over, its stability, Cheapest map, Cheapest combination, What must be true,
Sensitivity, Volumes and capacity, parts of Side by side) and Volume curve hold values that only the program can compute,
under a mark that says when they are stale. The sheet Studies says which studies are made.

The workbook is written in place: the result sheets of an earlier run are replaced, every other part of it - sheets,
charts, macros, notes - stays as it is, to the byte. -o names a copy that gets the results instead. The file is the old
or the new one whatever happens. A workbook that is open in another program, or was changed since it was read, is not
written. With errors in the case nothing is written; those of the sheet Uncertainty, on which no cost rests, are warnings
here, and the sheet Sensitivity is left out.

Remarks that you type in result sheets - words, numbers, formulas in cells that the run left empty, notes on cells - stay:
beside a row as long as its label is there, below a table as far below its end. A formula leads where it led. A remark
without a place goes to the sheet Overrides with its words and place, as do words typed over a label. --discard-edits
leaves remarks alone. Pictures, shapes and charts of your own can't stay on a result sheet: a run that would lose them
writes nothing but a copy (-o). Formats of your own there go.

` + caution,
		Example: `  piececost run tray.xlsx
  piececost run tray.xlsx -o tray-costed.xlsx
  piececost run tray.xlsx --json`,
		Args: oneFile,
		RunE: func(cmd *cobra.Command, args []string) error {
			return costWorkbook(cmd, args[0], f)
		},
	}
	c.Flags().StringVarP(&f.out, "output", "o", "", "write the workbook with its results to this file")
	c.Flags().BoolVar(&f.replace, "replace", false, "let -o replace a file that is there")
	c.Flags().BoolVar(&f.ignoreLock, "ignore-lock", false, "write although a lock file says that another program has the workbook open")
	c.Flags().BoolVar(&f.discardEdits, "discard-edits", false, "leave out what was changed by hand in result sheets, and empty the sheet Overrides; remarks are no such changes and stay")
	c.Flags().BoolVar(&f.json, "json", false, "print the results as JSON")
	return c
}

func costWorkbook(cmd *cobra.Command, file string, f runFlags) error {
	w, err := scenarios.Open(file)
	if err != nil {
		return err
	}
	if f.out != "" {
		if err := w.MaySaveAs(f.out, f.saving()); err != nil {
			return usageError{f.hint(err)}
		}
	}
	c, edits, err := editedCase(w, f.discardEdits)
	if err != nil {
		return err
	}
	m, plans, ds, err := costedModelOf(c, cmd.ErrOrStderr())
	printEdits(cmd.ErrOrStderr(), edits, err)
	if err != nil {
		return err
	}
	if long := scenarios.LongFormulas(plans); long.HasErrors() {
		printDiagnostics(cmd.ErrOrStderr(), long)
		return errCase
	}
	_, uncertain := m.Uncertainty()
	ds = append(ds, uncertain.AsWarnings()...).Sorted()
	r, err := result(m, plans, cmd.ErrOrStderr())
	if err != nil {
		return err
	}
	if err := w.Write(r); err != nil {
		return err
	}
	if err := refuseDrawings(w.Drawings(), f.out == "" || filepath.Clean(f.out) == filepath.Clean(file)); err != nil {
		return err
	}
	target, err := saveResults(w, file, f)
	if err != nil {
		return err
	}
	printRemarks(cmd.ErrOrStderr(), w.Remarks(), w.Drawings())
	alreadyDone(cmd.OutOrStdout(), "the results are in "+target+" all the same")
	if f.json {
		return writeRunJSON(cmd.OutOrStdout(), m, r, ds, target)
	}
	printComparison(cmd.OutOrStdout(), r)
	fmt.Fprintf(cmd.OutOrStdout(), "\nThe results are in %s, the sheet %s first.\n%s\n", target, w.Summary(), caution)
	printDiagnostics(cmd.ErrOrStderr(), ds)
	return nil
}

// editedCase reads the case with what was changed by hand in result sheets since the last run, or without it.
func editedCase(w *scenarios.Workbook, discard bool) (*costmodel.Case, []scenarios.Edit, error) {
	c, err := w.Case()
	if err != nil {
		return nil, nil, err
	}
	if discard {
		return c, nil, w.DiscardEdits(c)
	}
	lib, err := library()
	if err != nil {
		return nil, nil, err
	}
	edits, err := w.TakeOver(c, lib)
	return c, edits, err
}

// mostEdits is how many edits the terminal lists; Overrides has them all.
const mostEdits = 20

// printEdits lists what was changed by hand; failed is the error of the run, if any.
func printEdits(out io.Writer, edits []scenarios.Edit, failed error) {
	if len(edits) == 0 {
		return
	}
	kept := ", kept in the sheet Overrides"
	if failed != nil {
		kept = ""
	}
	fmt.Fprintf(out, "%s changed by hand in the result sheets%s (--discard-edits leaves them out):\n", plural(len(edits), "cell"), kept)
	for i, e := range edits {
		if i == mostEdits {
			fmt.Fprintf(out, "  ... and %d more\n", len(edits)-i)
			break
		}
		fmt.Fprintf(out, "  %s\n", e)
	}
	if failed != nil {
		fmt.Fprintln(out, "Nothing was written; the edits are still in the result sheets.")
	}
}

// saveResults writes the workbook in place, or to the file of -o, and returns its name.
func saveResults(w *scenarios.Workbook, file string, f runFlags) (string, error) {
	target := cmp.Or(f.out, file)
	return target, f.hint(w.Save(target, f.saving()))
}

// saving says what may be written over: in place the workbook itself.
func (f runFlags) saving() scenarios.SaveOptions {
	return scenarios.SaveOptions{Replace: f.replace || f.out == "", IgnoreLock: f.ignoreLock}
}

// hint adds to a refusal which flag lifts it.
func (f runFlags) hint(err error) error {
	if errors.Is(err, scenarios.ErrThere) {
		return fmt.Errorf("%w, or let it be replaced with --replace", err)
	}
	return err
}

// result costs every scenario at its own volume and over the volumes of the case, and makes the studies.
func result(m *costmodel.Model, plans []*costmodel.Plan, stderr io.Writer) (*scenarios.Result, error) {
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
	studies := runStudies{m: m, plans: plans, r: r, stderr: stderr}
	return r, studies.add(volumes)
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
	t := elementsTable(r.Details)
	t.corner = currency + " a good piece"
	t.printWhole(w)
	if len(r.Details) > 1 {
		fmt.Fprintln(w)
		printWrapped(w, "", "  ", "Cost of mass saved against "+r.Details[0].Plan.Scenario.Name)
		for i := range r.Details[1:] {
			printWrapped(w, "  ", "    ", r.Details[i+1].Plan.Scenario.Name+" "+scenarios.Verdict(r.Details, i+1).Words)
		}
	}
	fmt.Fprintln(w)
	printSweep(w, r.Sweeps, currency)
}

// elementsTable has a column for each scenario: its piece cost by element, which adds up, then mass and investment.
func elementsTable(ds []*costmodel.Detail) *blocks {
	b := &blocks{}
	statements := make([]costmodel.Statement, len(ds))
	for i, d := range ds {
		statements[i] = d.Statement()
		b.groups = append(b.groups, []column{{head: d.Plan.Scenario.Name}})
	}
	row := func(label string, value func(i int) string) {
		b.labels = append(b.labels, label)
		for i := range ds {
			b.groups[i][0].cells = append(b.groups[i][0].cells, value(i))
		}
	}
	money := func(a costmodel.Amount, i int) string { return groupDigits(a.Money.StringFixed(statements[i].Digits)) }
	quantity := func(label, key string, digits int) {
		row(label, func(i int) string { return grouped(ds[i].Scenario().Must(key), digits) })
	}
	row("Annual volume [1/yr]", func(i int) string { return grouped(ds[i].Volume, 0) })
	for n, e := range ds[0].Plan.Model.Schema.Elements {
		row(e.Label, func(i int) string { return money(statements[i].Lines[n], i) })
	}
	b.line()
	row("Piece cost", func(i int) string { return money(statements[i].Total, i) })
	b.line()
	row("Price", func(i int) string { return grouped(ds[i].Scenario().Must("price"), int(statements[i].Digits)) })
	quantity("Net mass [kg]", "net_mass", 3)
	quantity("Gross mass [kg]", "gross_mass", 3)
	quantity("Tooling investment", "tooling_investment", 0)
	quantity("Own equipment investment", "own_equipment_investment", 0)
	return b
}
