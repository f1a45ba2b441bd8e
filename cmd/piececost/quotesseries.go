package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"piececost/cmd/piececost/internal/report"
	"piececost/costmodel/quote"
	"piececost/costmodel/table"
)

// seriesFlags ask of quotes what comes once one is taken: how a volume is shared, what a clause makes of a price, what a change costs.
type seriesFlags struct {
	split   bool
	clause  string
	notice  float64
	asked   float64
	changes []string
}

func (f *seriesFlags) add(c *cobra.Command) {
	c.Flags().BoolVar(&f.split, "split", false, "share volumes between two suppliers at least cost")
	c.Flags().StringVar(&f.clause, "clause", "", "follow the index clause of this quote through the sheet Price months")
	c.Flags().Float64Var(&f.notice, "notice", 0, "with --clause: a price a piece that is announced, in the quote's currency")
	c.Flags().StringArrayVar(&f.changes, "change", nil, "with --quote: so much more of a line, 1=0.2 of its quantity or 3=2s of its time; may be given again")
	c.Flags().Float64Var(&f.asked, "asked", 0, "with --change: the price a piece that the supplier asks for it, in his currency")
}

// check refuses flags that do not go together.
func (f seriesFlags) check(cmd *cobra.Command, quoteName string) error {
	asked := 0
	for _, is := range []bool{f.split, f.clause != "", len(f.changes) > 0} {
		if is {
			asked++
		}
	}
	switch {
	case asked > 1:
		return errors.New("--split, --clause and --change exclude each other")
	case cmd.Flags().Changed("notice") && (f.clause == "" || !(f.notice > 0)):
		return errors.New("--notice is a price above 0 and goes with --clause")
	case cmd.Flags().Changed("asked") && (len(f.changes) == 0 || !(f.asked > 0)):
		return errors.New("--asked is a price above 0 and goes with --change")
	case len(f.changes) > 0 && quoteName == "":
		return errors.New("--change goes with --quote, whose lines it prices")
	}
	return nil
}

// answer prints what was asked of a quote in series; done is false where nothing was.
func (f seriesFlags) answer(cmd *cobra.Command, a *quote.Answer, file string, q quotesFlags, ds table.Diagnostics) (done bool, err error) {
	name, currency := filepath.Base(file), a.Quotes.Model.Schema.Units.ModelCurrency()
	switch {
	case f.split:
		r := report.Splits{Currency: currency}
		if r.Splits, err = a.Splits(cmd.Context(), splitVolumes(a, q.volume)); err != nil {
			return true, err
		}
		return true, q.outputFlags.write(cmd, file, ds, forms{r.CSV, func() any { return r.JSON(name) }, r.Print})
	case f.clause != "":
		r := report.Clause{Currency: currency, Notice: f.notice}
		if r.Offer, err = offerNamed(a, f.clause); err != nil {
			return true, usageError{err}
		}
		if r.Months, err = a.Clause(r.Offer, f.notice); err != nil {
			return true, err
		}
		return true, q.outputFlags.write(cmd, file, ds, forms{r.CSV, func() any { return r.JSON(name) }, r.Print})
	case len(f.changes) > 0:
		r := report.Change{Rules: report.Quotes{Answer: a, Currency: currency}}
		if r.Offer, err = offerNamed(a, q.quote); err != nil {
			return true, usageError{err}
		}
		changes, err := readChanges(f.changes)
		if err != nil {
			return true, usageError{err}
		}
		if r.Changed, err = a.Change(r.Offer, changes, f.asked); err != nil {
			return true, err
		}
		return true, q.outputFlags.write(cmd, file, ds, forms{r.CSV, func() any { return r.JSON(name) }, r.Print})
	}
	return false, nil
}

// splitVolumes are those that --split looks at: around the volume of the request.
func splitVolumes(a *quote.Answer, asked float64) (out []float64) {
	if asked > 0 {
		return []float64{asked}
	}
	volume, _ := a.Quotes.Given(a.Quotes.Request, "annual_volume")
	for _, share := range []float64{0.25, 0.5, 0.75, 1, 1.25, 1.5, 2} {
		out = append(out, volume*share)
	}
	return out
}

// readChanges reads 1=0.2 as 0.2 more of the quantity of line 1, and 3=2s as 2 seconds more of the time of line 3.
func readChanges(texts []string) (out []quote.LineChange, err error) {
	for _, text := range texts {
		line, more, ok := strings.Cut(text, "=")
		number, seconds := strings.CutSuffix(strings.TrimSpace(more), "s")
		v, perr := strconv.ParseFloat(strings.TrimSpace(number), 64)
		if !ok || perr != nil || v != v || v > 1e9 || v < -1e9 {
			return nil, fmt.Errorf("--change is %q; write LINE=MORE, 1=0.2 for the quantity of line 1 or 3=2s for the time of line 3", text)
		}
		out = append(out, quote.LineChange{Line: strings.TrimSpace(line), More: v, Seconds: seconds})
	}
	return out, nil
}
