package main

import (
	"errors"
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"piececost/cmd/piececost/internal/report"
	"piececost/costmodel/study"
	"piececost/scenarios/costing"
)

type fitFlags struct {
	kinds, coefficients []string
	absolute, accept    bool
	unreliable          bool // accept these as well
	confidence          float64
	day, of             string
	run                 runFlags // what may be written over
	outputFlags
}

func newFit() *cobra.Command {
	var f fitFlags
	c := &cobra.Command{
		Use:   "fit FILE",
		Short: "Fit the coefficients by which tools and machines are priced to your own past ones",
		Long: `fit finds coefficients of the sheet Tool relations from the sheet Past tools: a tool a row, with Tool kind, Tool price, Date, and the
figures on which the build-up rests, as Tool face area [cm2], Tool stages and Tool features. Least squares of the relative error, no
coefficient below 0; those that are not fitted keep the values in force. The build-up must be a sum in the coefficients that are fitted:
Toolroom rate multiplies the hours, so that it can be fitted alone or left as it is.

It shows each coefficient with its confidence interval, the residuals, what each tool would be taken for by the others alone, tools that rule
the fit, and coefficients that the data can't tell apart. With --accept the values go into Tool relations, with the day and the number of
tools; what was in force stays there as replaced. Kinds with an unreliable coefficient are left out unless --unreliable asks for them.

A row of Machines that is a price relation (Sized by is filled in) is fitted alike: Base price and Price per size of the sheet Machine relations, from
the sheet Past machines: a machine a row, with Machine (the key of the relation), Price, its size in a column of its own (Rated force [kN], Rated power
[kW], Bed length [mm]), Date, and Count where several were bought at the price. Without --of both sheets are taken, as far as they are filled.

Prices are taken as they stand: bring old ones to today's before. The CSV has a line for each coefficient and each tool.

` + report.Caution,
		Example: `  piececost fit tray.xlsx
  piececost fit tray.xlsx --kind "progressive die" --coefficients "Hours per area,Hours per stage"
  piececost fit tray.xlsx --accept
  piececost fit tray.xlsx --of machines --accept`,
		Args: oneFile,
		RunE: func(cmd *cobra.Command, args []string) error { return fitWorkbook(cmd, args[0], &f) },
	}
	c.Flags().StringSliceVar(&f.kinds, "kind", nil, "kinds of tool, or keys of machines, with commas; all that have past rows where none is given")
	c.Flags().StringVar(&f.of, "of", "", "what is fitted: tools or machines; without it both, as far as there are past ones")
	c.Flags().StringSliceVar(&f.coefficients, "coefficients", nil, "coefficients to be fitted, with commas; the hours where none is given")
	c.Flags().BoolVar(&f.absolute, "absolute", false, "make the squares of the errors in money least, not in percent")
	c.Flags().Float64Var(&f.confidence, "confidence", 0.95, "of the intervals, 0.5 to 0.999")
	c.Flags().BoolVar(&f.accept, "accept", false, "put the fitted values into the sheet Tool relations; what was in force is kept as replaced")
	c.Flags().BoolVar(&f.unreliable, "unreliable", false, "with --accept, take kinds with an unreliable coefficient as well")
	c.Flags().StringVar(&f.day, "date", "", "with --accept, the day to write, as 2026-01-31; without it today")
	c.Flags().StringVarP(&f.run.out, "output", "o", "", "with --accept, write the workbook to this file instead")
	c.Flags().BoolVar(&f.run.replace, "replace", false, "let -o replace a file that is there")
	c.Flags().BoolVar(&f.run.ignoreLock, "ignore-lock", false, "write although a lock file says that another program has the workbook open")
	f.outputFlags.add(c)
	return c
}

// check refuses flags that mean nothing together, and returns the day to write.
func (f *fitFlags) check(cmd *cobra.Command) (day string, err error) {
	if f.confidence < 0.5 || f.confidence > 0.999 {
		return "", usageError{fmt.Errorf("--confidence is between 0.5 and 0.999")}
	}
	if f.of != "" && f.of != "tools" && f.of != "machines" {
		return "", usageError{fmt.Errorf("--of is tools or machines, not %q", f.of)}
	}
	for _, name := range []string{"unreliable", "date", "output", "replace", "ignore-lock"} {
		if cmd.Flags().Changed(name) && !f.accept {
			return "", usageError{fmt.Errorf("--%s goes with --accept", name)}
		}
	}
	if f.day == "" {
		return time.Now().Format(time.DateOnly), nil
	}
	if _, err := time.Parse(time.DateOnly, f.day); err != nil {
		return "", usageError{fmt.Errorf("--date %q is no day; write it as 2026-01-31", f.day)}
	}
	return f.day, nil
}

// fits are those of tools, of machines, or of both.
func (f *fitFlags) fits(cmd *cobra.Command, w *costing.Workbook) (*costing.ToolFits, error) {
	o := study.ToolFitOptions{Kinds: f.kinds, Coefficients: f.coefficients, Absolute: f.absolute, Confidence: f.confidence}
	tools, machines := w.HasPast()
	switch {
	case f.of == "tools" || f.of == "" && !machines:
		return w.FitTools(cmd.Context(), o)
	case f.of == "machines" || !tools:
		return w.FitMachines(cmd.Context(), o)
	case f.accept || len(f.kinds)+len(f.coefficients) > 0:
		return nil, usageError{errors.New("the workbook has past tools and past machines; say which with --of tools or --of machines")}
	}
	out, err := w.FitTools(cmd.Context(), o)
	if err != nil {
		return nil, err
	}
	more, err := w.FitMachines(cmd.Context(), o)
	if err != nil {
		return nil, err
	}
	out.Kinds = append(out.Kinds, more.Kinds...)
	return out, nil
}

func fitWorkbook(cmd *cobra.Command, file string, f *fitFlags) error {
	day, err := f.check(cmd)
	if err != nil {
		return err
	}
	o := f.run.options(cmd)
	o.Edits = costing.LeaveEdits
	w, err := costing.Open(cmd.Context(), file, o)
	if err != nil {
		return f.run.hint(err)
	}
	fits, err := f.fits(cmd, w)
	if err != nil {
		return caseError(cmd, err)
	}
	var accepted *report.Accepted
	if f.accept {
		done, err := w.AcceptFits(cmd.Context(), fits, day, f.unreliable)
		if err != nil {
			return f.run.hint(err)
		}
		if done == nil {
			fmt.Fprintln(cmd.ErrOrStderr(), "nothing was fitted well enough to be accepted; nothing was written")
		} else {
			alreadyDone(cmd.OutOrStdout(), done.File+" has the coefficients all the same")
			accepted = &report.Accepted{File: done.File, Sheet: done.Sheet, Kinds: done.Kinds, First: done.First, Last: done.Last, Replaced: done.Replaced}
		}
	}
	r := report.NewFit(fits.File, fits.Currency, fits.Kinds, accepted)
	return f.write(cmd, file, nil, forms{r.CSV, func() any { return r.JSON() }, r.Print})
}
