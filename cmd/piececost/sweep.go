package main

import (
	"fmt"
	"io"
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"piececost/costmodel"
	"piececost/costmodel/study"
)

type sweepFlags struct {
	volumes  []float64
	from, to float64
	points   int
	plot     bool
	outputFlags
}

func newSweep() *cobra.Command {
	var f sweepFlags
	c := &cobra.Command{
		Use:   "sweep FILE",
		Short: "Cost every scenario over a range of annual volumes",
		Long: `sweep costs every scenario at each of the given annual volumes (good products a year) and prints piece cost by scenario,
the cheapest marked. --from, --to and --points give whole volumes evenly spaced by ratio. Without volumes, those of the
sheet Volumes are taken. Nothing is written.

The CSV has a line for each scenario and volume: unrounded money in model currency a good piece, the scrap credit
negative, the elements adding up to piece_cost.`,
		Example: `  piececost sweep tray.xlsx --volumes 5000,20000
  piececost sweep tray.xlsx --from 3000 --to 300000 --points 60 --csv > curve.csv`,
		Args: oneFile,
		RunE: func(cmd *cobra.Command, args []string) error { return sweepWorkbook(cmd, args[0], f) },
	}
	c.Flags().Float64SliceVar(&f.volumes, "volumes", nil, "annual volumes, with commas")
	c.Flags().Float64Var(&f.from, "from", 0, "first annual volume")
	c.Flags().Float64Var(&f.to, "to", 0, "last annual volume")
	c.Flags().BoolVar(&f.plot, "plot", false, "draw the curves below the table")
	c.Flags().IntVar(&f.points, "points", 20, "number of volumes from --from to --to, evenly spaced by ratio: both ends as given, whole volumes between, each once")
	f.outputFlags.add(c)
	return c
}

// wanted returns the volumes that the flags ask for, nil where they ask for none.
func (f sweepFlags) wanted(cmd *cobra.Command) ([]float64, error) {
	ranged := cmd.Flags().Changed("from") || cmd.Flags().Changed("to") || cmd.Flags().Changed("points")
	switch {
	case ranged && f.volumes != nil:
		return nil, fmt.Errorf("give either --volumes or --from and --to")
	case ranged && !(f.from > 0 && f.to > f.from):
		return nil, fmt.Errorf("--from must be above 0 and below --to")
	case ranged && !costmodel.PossibleVolume(f.to):
		return nil, impossibleVolume(f.to)
	case ranged && (f.points < 2 || f.points > 10_000_000):
		return nil, fmt.Errorf("--points must be 2 or more, and at most 10,000,000")
	case ranged:
		return costmodel.VolumeRange(f.from, f.to, f.points), nil
	}
	for _, v := range f.volumes {
		if !costmodel.PossibleVolume(v) {
			return nil, impossibleVolume(v)
		}
	}
	return f.volumes, nil
}

// impossibleVolume words the refusal of an annual volume.
func impossibleVolume(v float64) error {
	if v > 0 {
		return fmt.Errorf("a volume of %v can't be costed; it must be at most %s", v, grouped(costmodel.HighestPossible, 0))
	}
	return fmt.Errorf("a volume of %v can't be costed; it must be above 0", v)
}

func sweepWorkbook(cmd *cobra.Command, file string, f sweepFlags) error {
	volumes, err := f.wanted(cmd)
	if err != nil {
		return usageError{err}
	}
	m, plans, ds, err := costedModel(file, cmd.ErrOrStderr())
	if err != nil {
		return err
	}
	if volumes == nil {
		if volumes = m.Volumes; len(volumes) == 0 {
			volumes = defaultVolumes(plans)
		}
	}
	watch, stop := startWatch("volumes", cmd.ErrOrStderr())
	defer stop()
	var sweeps []*costmodel.Sweep
	for i, p := range plans {
		s, err := p.SweepTold(volumes, func(done float64) error { return watch.report((float64(i) + done) / float64(len(plans))) })
		if err != nil {
			return err
		}
		sweeps = append(sweeps, s)
	}
	stop()
	currency := m.Schema.Units.ModelCurrency()
	return f.write(cmd, file, ds, forms{
		func(w io.Writer) { writeSweepCSV(w, m.Schema.Elements, sweeps) },
		func() any { return sweepJSONOf(m, sweeps) },
		func(w io.Writer) {
			printSweep(w, sweeps, currency)
			if lo, hi := slices.Min(volumes), slices.Max(volumes); f.plot && hi > lo {
				fmt.Fprintln(w)
				plotPlans(w, plans, lo, hi, currency)
			}
		},
	})
}

// printSweep prints a table of volumes by scenarios.
func printSweep(w io.Writer, sweeps []*costmodel.Sweep, currency string) {
	fmt.Fprintf(w, "Piece cost [%s] against annual volume, * the cheapest\n", currency)
	digits := 0
	for _, s := range sweeps {
		digits = max(digits, int(costmodel.MoneyDigits(currency, s.Columns[0][len(s.Volumes)-1])))
	}
	b := blocks{corner: "Annual volume [1/yr]"}
	for _, v := range sweeps[0].Volumes {
		b.labels = append(b.labels, shownVolume(v))
	}
	best := study.Cheapest(sweeps)
	for n, s := range sweeps {
		c := column{head: s.Scenario.Name, marks: 2}
		for i := range s.Volumes {
			mark := "  "
			if n == best[i] {
				mark = " *"
			}
			c.cells = append(c.cells, grouped(s.Columns[0][i], digits)+mark)
		}
		b.groups = append(b.groups, []column{c})
	}
	b.printWhole(w)
}

// shownVolume writes a volume; one that is not whole keeps its decimals.
func shownVolume(v float64) string {
	if v == math.Trunc(v) {
		return grouped(v, 0)
	}
	return groupDigits(strconv.FormatFloat(v, 'f', -1, 64))
}

// sweepHead is the first line of the CSV.
func sweepHead(elements []costmodel.Element) string {
	out := "scenario,annual_volume,piece_cost"
	for _, e := range elements {
		out += "," + e.Name
	}
	return out
}

func writeSweepCSV(w io.Writer, elements []costmodel.Element, sweeps []*costmodel.Sweep) {
	fmt.Fprintln(w, sweepHead(elements))
	number := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	for _, s := range sweeps {
		name := csvText(s.Scenario.Name)
		for i, v := range s.Volumes {
			row := []string{name, number(v)}
			for _, col := range s.Columns {
				row = append(row, number(col[i]))
			}
			fmt.Fprintln(w, strings.Join(row, ","))
		}
	}
}

// csvText quotes a text where CSV asks for it (RFC 4180). One that a spreadsheet program would compute - it begins with
// = + - @ or a control character - gets an apostrophe before it, which marks a text there: a part's name is no formula.
func csvText(text string) string {
	if text != "" && strings.ContainsRune("=+-@\t\r", rune(text[0])) {
		text = "'" + text
	}
	if strings.ContainsAny(text, "\",\n\r") {
		return `"` + strings.ReplaceAll(text, `"`, `""`) + `"`
	}
	return text
}

type sweepJSON struct {
	Format   string           `json:"format"`
	Version  int              `json:"version"`
	File     string           `json:"file"`
	Currency string           `json:"currency"`
	Points   []sweepPointJSON `json:"points"`
	Caution  string           `json:"caution"`
}

type sweepPointJSON struct {
	Scenario     string             `json:"scenario"`
	AnnualVolume float64            `json:"annual_volume"`
	PieceCost    float64            `json:"piece_cost"`
	Elements     map[string]float64 `json:"elements"`
	Cheapest     bool               `json:"cheapest"`
}

func sweepJSONOf(m *costmodel.Model, sweeps []*costmodel.Sweep) sweepJSON {
	out := sweepJSON{Format: "piececost sweep", Version: 1, File: m.Case.File, Currency: m.Schema.Units.ModelCurrency(), Caution: caution}
	best := study.Cheapest(sweeps)
	for n, s := range sweeps {
		for i, v := range s.Volumes {
			p := sweepPointJSON{Scenario: s.Scenario.Name, AnnualVolume: v, PieceCost: s.Columns[0][i], Elements: map[string]float64{}, Cheapest: best[i] == n}
			for e, element := range m.Schema.Elements {
				p.Elements[element.Name] = s.Columns[1+e][i]
			}
			out.Points = append(out.Points, p)
		}
	}
	sort.SliceStable(out.Points, func(i, j int) bool { return out.Points[i].AnnualVolume < out.Points[j].AnnualVolume })
	return out
}
