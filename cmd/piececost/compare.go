package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

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
		Short: "Put scenarios side by side, with the differences to one of them",
		Long: `compare puts the scenarios side by side: piece cost by element, part or step, with mass, investment, tool sets, lines,
people and floor space, each with its difference to the base (the first scenario where none is named). A row that a
scenario does not have is empty and counts as 0. It says what a saved kilogram costs, whether parity with the base holds
at the agreed value of a kilogram, and which requirements of the sheet Targets are met or missed, and by how much.

--charging-rules costs the same scenarios with every machine shared, dedicated and pooled in turn, and says where the
rule turns the ranking round.

A scenario may be named by how it begins. A base that --scenario leaves out is added as the first one. Without --volume
each has its own annual volume. CSV and JSON hold all of it, unrounded, whatever --by says. Nothing is written.`,
		Example: `  piececost compare tray.xlsx
  piececost compare tray.xlsx --base A --volume 40000 --by part
  piececost compare tray.xlsx --scenario C --base A
  piececost compare tray.xlsx --scenario A,C --charging-rules
  piececost compare tray.xlsx --csv > side-by-side.csv`,
		Args: oneFile,
		RunE: func(cmd *cobra.Command, args []string) error { return compareWorkbook(cmd, args[0], f) },
	}
	c.Flags().StringVar(&f.base, "base", "", "scenario that the others are held against, or how it begins")
	c.Flags().StringSliceVar(&f.scenarios, "scenario", nil, "scenarios to compare, with commas; all where none is given")
	c.Flags().Float64Var(&f.volume, "volume", 0, "annual volume of all; each scenario's own where none is given")
	c.Flags().StringVar(&f.by, "by", "element", "rows of the cost table: element, part or step")
	c.Flags().BoolVar(&f.rules, "charging-rules", false, "also with every machine shared, dedicated and pooled")
	f.outputFlags.add(c)
	return c
}

func (f compareFlags) check(cmd *cobra.Command) error {
	switch {
	case f.by != "element" && f.by != "part" && f.by != "step":
		return fmt.Errorf("--by must be element, part or step")
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
	m, plans, ds, err := costedModel(file, cmd.ErrOrStderr())
	if err != nil {
		return err
	}
	c, err := f.compare(plans)
	if err != nil {
		return err
	}
	r := comparison{Comparison: c, model: m}
	if f.rules {
		if r.rules, r.reversals, err = study.ChargingRules(c.Details); err != nil {
			return err
		}
	}
	return f.write(cmd, file, ds, forms{r.csv, func() any { return r.json() }, func(w io.Writer) { r.print(w, f.by) }})
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

// comparison is a comparison to be printed.
type comparison struct {
	*study.Comparison
	model     *costmodel.Model
	rules     []study.RuleCosting
	reversals []study.Reversal
}

func (c *comparison) name(i int) string { return c.Details[i].Plan.Scenario.Name }

// others lists the scenarios beside the base.
func (c *comparison) others() []int {
	var out []int
	for i := range c.Details {
		if i != c.Base {
			out = append(out, i)
		}
	}
	return out
}

// csv prints a line for each row of each table: the scenarios, then what each is above the base.
func (c *comparison) csv(w io.Writer) {
	head := []string{"table", "key", "name", "unit"}
	for i := range c.Details {
		head = append(head, csvText(c.name(i)))
	}
	for _, i := range c.others() {
		head = append(head, csvText(c.name(i)+" less "+c.name(c.Base)))
	}
	fmt.Fprintln(w, strings.Join(head, ","))
	line := func(table string, r study.Row) {
		cells := []string{table, csvText(r.Key), csvText(r.Name), csvText(r.Unit)}
		for _, v := range r.Values {
			cells = append(cells, csvNumber(v))
		}
		for _, i := range c.others() {
			cells = append(cells, csvNumber(r.Change(i, c.Base)))
		}
		fmt.Fprintln(w, strings.Join(cells, ","))
	}
	line("volume", c.volumes())
	line("cost", c.Costs[0].Total)
	for _, t := range c.Costs {
		for _, r := range t.Rows {
			line(t.By, r)
		}
	}
	for _, r := range c.Measures {
		line("measure", r)
	}
	for _, r := range c.Lines {
		line("lines", r)
	}
	for _, row := range c.Targets {
		line("target", c.targetRow(row))
	}
	for _, r := range c.rules {
		line("charging rule", study.Row{Key: r.Rule, Name: "Piece cost", Unit: c.Currency, Values: r.Costs})
	}
}

func (c *comparison) volumes() study.Row {
	r := study.Row{Key: "annual_volume", Name: "Annual volume", Unit: "1/yr"}
	for _, d := range c.Details {
		r.Values = append(r.Values, d.Volume)
	}
	return r
}

// targetRow is what the scenarios reach of a requirement: by how much each lies above what is asked.
func (c *comparison) targetRow(row []costmodel.Judgement) study.Row {
	t := row[0].Target
	r := study.Row{Key: t.Name(), Name: "above the target, " + t.Direction() + " asked", Unit: c.model.ShownUnit(t.Unit)}
	for _, j := range row {
		r.Values = append(r.Values, j.Over)
	}
	return r
}
