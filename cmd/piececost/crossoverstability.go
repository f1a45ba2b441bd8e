package main

import (
	"errors"
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"piececost/cmd/piececost/internal/report"
	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel"
	"piececost/costmodel/study"
)

// stabilityFlags ask how cross-overs move with inputs.
type stabilityFlags struct {
	stability         bool
	scenario, against string
	share             string
	top               int
}

func (f *stabilityFlags) add(c *cobra.Command) {
	c.Flags().BoolVar(&f.stability, "stability", false, "how far the cross-overs move when one input is at its low or high")
	c.Flags().StringVar(&f.scenario, "scenario", "", "with --stability: this scenario alone, by its name or how it begins")
	c.Flags().StringVar(&f.against, "against", "", "with --stability: compared with this one; the first where none is given")
	c.Flags().StringVar(&f.share, "range", "", "with --stability: plus and minus this share of the base value (10% where the case\nhas no sheet Uncertainty)")
	c.Flags().IntVar(&f.top, "top", 10, "with --stability and without that sheet: number of inputs looked at, those that move the difference most;\n"+
		"0 for all, which may take minutes: how much it is comes first")
}

func (f *stabilityFlags) check(cmd *cobra.Command) error {
	if f.stability {
		switch {
		case cmd.Flags().Changed("tolerance"):
			return errors.New("--tolerance has no part in --stability")
		case f.top < 0:
			return errors.New("--top must be 0 or more")
		}
		return nil
	}
	for _, name := range []string{"scenario", "against", "range", "top"} {
		if cmd.Flags().Changed(name) {
			return fmt.Errorf("--%s goes with --stability", name)
		}
	}
	return nil
}

// pairs lists the pairs to be looked at: one scenario, or each, against another one or the first.
func (f *stabilityFlags) pairs(plans []*costmodel.Plan) ([][2]int, error) {
	against := 0
	if f.against != "" {
		p, err := pickPlan(plans, "against", f.against)
		if err != nil {
			return nil, err
		}
		against = slices.Index(plans, p)
	}
	if f.scenario != "" {
		p, err := pickPlan(plans, "scenario", f.scenario)
		if err != nil {
			return nil, err
		}
		if n := slices.Index(plans, p); n != against {
			return [][2]int{{against, n}}, nil
		}
		return nil, usageError{fmt.Errorf("--scenario is %s, which is compared with itself; name another one with --against", p.Scenario.Name)}
	}
	return study.EachAgainst(len(plans), against), nil
}

// find finds the stability of the cross-overs of scenarios in a range of volumes.
func (f *stabilityFlags) find(cmd *cobra.Command, m *costmodel.Model, plans []*costmodel.Plan, from, to int,
	csv bool) (*report.Stability, error) {
	pairs, err := f.pairs(plans)
	if err != nil {
		return nil, err
	}
	s := study.StabilityAsk{From: from, To: to, Pairs: pairs, Share: 0.1, Top: f.top}
	if f.share != "" {
		if s.Share, err = shareOf(f.share); err != nil {
			return nil, usageError{err}
		}
	} else {
		list, found := m.Uncertainty()
		if found.HasErrors() {
			report.PrintDiagnostics(cmd.ErrOrStderr(), found)
			return nil, errCase
		}
		s.Stated = list
	}
	if f.top == 0 && len(s.Stated) == 0 {
		s.Sized = func(runs int) {
			fmt.Fprintf(cmd.ErrOrStderr(), "%s, each over %s volumes, which may take long; --top 20 looks at the inputs that matter most, --scenario "+
				"at one pair, --from and --to at fewer volumes\n",
				term.Plural(runs, "run"), term.Whole(to-from+1))
		}
	}
	w, stop := term.StartWatch("stability", cmd.ErrOrStderr())
	s.Progress = w.Report
	found, err := study.Stabilities(cmd.Context(), plans, s)
	stop()
	if err != nil {
		return nil, err
	}
	if n := othersOf(found); n > 0 && csv {
		fmt.Fprintf(cmd.ErrOrStderr(), "%s a pair, %s that move the difference less are left out; --top 0 looks at all\n", term.Plural(f.top, "input"),
			term.Plural(n, "input"))
	}
	return &report.Stability{Found: found, Ask: s, Model: m, Plans: plans}, nil
}
