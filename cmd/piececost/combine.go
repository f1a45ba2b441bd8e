package main

import (
	"context"
	"fmt"
	"math"
	"slices"

	"github.com/spf13/cobra"

	"piececost/cmd/piececost/internal/report"
	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/costmodel/table"
	"piececost/scenarios/costing"
)

type combineFlags struct {
	volume, maxMass float64
	scenarios       []string
	with, without   []string
	targets         bool
	top             int
	outputFlags
}

// mostListed is the number of combinations that are kept and compiled once more, where all are asked for.
const mostListed = 1_000

// mostCombinations is the number of valid combinations of a scenario that are costed.
const mostCombinations = 5_000_000

func newCombine() *cobra.Command {
	var f combineFlags
	c := &cobra.Command{
		Use:   "combine FILE",
		Short: "Find the cheapest combination of alternatives at a volume",
		Long: `combine costs every valid combination of the tags of the columns Alternative at one annual volume, whatever the row
Alternatives of a scenario lists, and prints the cheapest ones. The rest of a scenario stays: its product, its plant, its
changes. A combination is valid where every part counts once, children and joining operations are there, an operation that stands in
several alternatives is done in one of them, one is taken of links that stand for one another, and each tag brings something
in. Combinations that differ only in a tag without effect are counted once. A row of an alternative that has an error is said
and left out with the combinations that would have it, unless a scenario counts it. Machines that are pooled are counted for
the combination as a whole, so that the cheapest choice of a part depends on the others.

Links of one parent with different tags that join at the same operation, or join one child at several operations, stand for one another:
a link that the scenario does not list takes the place of one that it lists, unless some scenario lists both. Where the
scenario lists several at the operation, or several could take the place, a word that tags or children have in common decides (old
cover, thin cover). What is left is an extra, in or out, and so are all where the scenario lists none. The report says which.

--max-mass and --targets leave out what is too heavy or misses a target that the program computes; --with and --without
fix alternatives. Of a scenario at most five million combinations are costed. Nothing is written.

` + report.Caution,
		Example: `  piececost combine tray.xlsx --volume 60000
  piececost combine tray.xlsx --volume 60000 --scenario A --max-mass 62 --top 5
  piececost combine tray.xlsx --volume 60000 --with "thin cover" --without laser --targets
  piececost combine tray.xlsx --volume 60000 --csv > combinations.csv`,
		Args: oneFile,
		RunE: func(cmd *cobra.Command, args []string) error { return combineWorkbook(cmd, args[0], f) },
	}
	c.Flags().Float64Var(&f.volume, "volume", 0, "annual volume; must be given")
	c.Flags().StringSliceVar(&f.scenarios, "scenario", nil, "scenarios, or how they begin, with commas; all where none is given")
	c.Flags().Float64Var(&f.maxMass, "max-mass", 0, "highest net mass of a product [kg]")
	c.Flags().BoolVar(&f.targets, "targets", false, "only combinations that meet every computed target of the sheet Targets")
	c.Flags().StringSliceVar(&f.with, "with", nil, "alternatives that are in, with commas")
	c.Flags().StringSliceVar(&f.without, "without", nil, "alternatives that are out, with commas")
	c.Flags().IntVar(&f.top, "top", 10, "number of combinations to list, 0 for all, the cheapest 1,000 at most; without it CSV and JSON\n"+
		"have all, the same way")
	f.outputFlags.add(c)
	return c
}

func (f combineFlags) check(cmd *cobra.Command) error {
	switch {
	case !(f.volume > 0) || f.volume > costmodel.MostVolume:
		return fmt.Errorf("--volume must be given, an annual volume above 0 and at most %s", term.Grouped(costmodel.MostVolume, 0))
	case cmd.Flags().Changed("max-mass") && !(f.maxMass > 0):
		return fmt.Errorf("--max-mass must be above 0")
	case f.top < 0:
		return fmt.Errorf("--top must be 0 or more")
	}
	return nil
}

func combineWorkbook(cmd *cobra.Command, file string, f combineFlags) error {
	if err := f.check(cmd); err != nil {
		return usageError{err}
	}
	f.top = f.outputFlags.listed(cmd, f.top)
	if f.top == 0 || f.top > mostListed {
		f.top = mostListed
	}
	r := report.Combinations{Volume: f.volume, MaxMass: f.maxMass, Targets: f.targets}
	plans, ds, err := readForCombining(cmd, &r, file)
	if err != nil {
		return err
	}
	chosen, err := pickPlans(plans, "scenario", f.scenarios)
	if err != nil {
		return err
	}
	if err := f.known(r.Model, chosen, &r); err != nil {
		return err
	}
	r.PrintLeftOut(cmd.ErrOrStderr())
	w, stop := term.StartWatch("combinations", cmd.ErrOrStderr())
	defer stop()
	for i := range r.Scenarios {
		if err := f.combine(cmd.Context(), &r.Scenarios[i], w.Report); err != nil {
			return err
		}
		if s := &r.Scenarios[i]; len(s.Best) == mostListed && s.Fit() > mostListed {
			fmt.Fprintf(cmd.ErrOrStderr(), "%s: the cheapest %s of %s combinations are listed, which is the most; --max-mass, --with and --without "+
				"leave fewer\n",
				s.Plan.Scenario.Name, term.Whole(mostListed), term.Whole(s.Fit()))
		}
	}
	return f.write(cmd, file, ds.Without(costmodel.Unlisted), forms{r.CSV, func() any { return r.JSON() }, r.Print})
}

// readForCombining is costedModel for combinations: an error in a row of an alternative that no scenario counts leaves the row out.
func readForCombining(cmd *cobra.Command, r *report.Combinations, file string) ([]*costmodel.Plan, table.Diagnostics, error) {
	w, err := costing.Open(cmd.Context(), file, options(cmd))
	if err != nil {
		return nil, nil, err
	}
	costed, left, aside, err := w.CostForCombining(cmd.Context())
	if err != nil {
		return nil, nil, caseError(cmd, err)
	}
	r.Model, r.Left, r.Aside = costed.Model(), left, aside
	return costed.Plans(), costed.Findings, nil
}

// known prepares the scenarios and finds the alternatives that are fixed; each must be one of a scenario at least.
func (f combineFlags) known(m *costmodel.Model, plans []*costmodel.Plan, r *report.Combinations) error {
	found := map[string]bool{}
	for _, p := range plans {
		c, ds := m.Combiner(p.Scenario)
		if c == nil {
			return ds.First("the alternatives can't be combined")
		}
		if len(c.LeftOut()) > 0 {
			r.Aside = append(r.Aside, ds...)
		}
		d := p.Detail(f.volume).Scenario()
		s := report.Combined{Plan: p, Combiner: c, Fixed: make([]int, len(c.Tags())), Cost: d.Must("piece_cost"), Mass: d.Must("net_mass")}
		for _, side := range []int{1, -1} {
			names := f.with
			if side < 0 {
				names = f.without
			}
			for _, name := range names {
				t := c.Tag(name)
				if t < 0 {
					continue
				}
				if s.Fixed[t] == -side {
					return usageError{fmt.Errorf("%s is both in --with and in --without", c.Tags()[t])}
				}
				s.Fixed[t], found[name] = side, true
			}
		}
		r.Scenarios = append(r.Scenarios, s)
	}
	for _, name := range slices.Concat(f.with, f.without) {
		if !found[name] {
			return usageError{fmt.Errorf("no row has the alternative %q; there are: %s", name, r.TagWords())}
		}
	}
	return nil
}

// combine costs the combinations of a scenario.
func (f combineFlags) combine(ctx context.Context, s *report.Combined, progress study.Progress) error {
	ask := study.CombinationAsk{Volume: f.volume, MaxMass: math.Inf(1), Targets: f.targets, Fixed: s.Fixed, Keep: f.top, Most: mostCombinations,
		Progress: progress}
	if f.maxMass > 0 {
		ask.MaxMass = f.maxMass
	}
	var err error
	if s.Combinations, err = study.Combine(ctx, s.Combiner, ask); err != nil {
		return fmt.Errorf("%s: %w", s.Plan.Scenario.Name, err)
	}
	return nil
}
