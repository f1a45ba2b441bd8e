package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"piececost/costmodel"
)

type explainFlags struct {
	scenario, part, step, machine, material, plant, quantity string
	volume                                                   float64
	depth                                                    int
	json                                                     bool
}

func newExplain() *cobra.Command {
	var f explainFlags
	c := &cobra.Command{
		Use:   "explain FILE",
		Short: "Explain a number: its equation in words and numbers, down to the input cells",
		Long: `explain shows the tree of a number: the equation it comes from, in words and in numbers with units, and the same for
everything that went in, down to each input's sheet, cell and source. What was explained above is not repeated.

Without --part it is a quantity of the scenario; with --part of a part, with --part and --step of a step; --machine,
--material and --plant name rows of those sheets. A scenario may be named by how it begins.`,
		Example: `  piececost explain tray.xlsx --scenario A --part FRAME_A --step 10 --quantity labour
  piececost explain tray.xlsx --scenario C --quantity piece_cost --depth 2
  piececost explain tray.xlsx --scenario A --machine E02 --quantity hour_rate --json`,
		Args: oneFile,
		RunE: func(cmd *cobra.Command, args []string) error { return explainNumber(cmd, args[0], f) },
	}
	c.Flags().StringVar(&f.scenario, "scenario", "", "name of the scenario, or how it begins")
	c.Flags().StringVar(&f.part, "part", "", "key of a part")
	c.Flags().StringVar(&f.step, "step", "", "number of a step of the part")
	c.Flags().StringVar(&f.machine, "machine", "", "key of a machine")
	c.Flags().StringVar(&f.material, "material", "", "key of a grade")
	c.Flags().StringVar(&f.plant, "plant", "", "name of a plant")
	c.Flags().StringVar(&f.quantity, "quantity", "", "name of the quantity")
	c.Flags().Float64Var(&f.volume, "volume", 0, "annual volume; the scenario's own where none is given")
	c.Flags().IntVar(&f.depth, "depth", 0, "levels to show; all where none is given")
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
		return "", "", fmt.Errorf("--quantity is missing")
	case given > 1:
		return "", "", fmt.Errorf("give one of --part, --machine, --material and --plant")
	case f.step != "" && f.part == "":
		return "", "", fmt.Errorf("--step needs --part")
	case f.step != "":
		return "operation", f.part + "/" + f.step, nil
	case given == 0:
		return "scenario", "", nil
	}
	return scope, key, nil
}

func explainNumber(cmd *cobra.Command, file string, f explainFlags) error {
	scope, key, err := f.row()
	if err != nil {
		return usageError{err}
	}
	m, plans, _, err := costedModel(file, cmd.ErrOrStderr())
	if err != nil {
		return err
	}
	p, err := planNamed(plans, f.scenario)
	if err != nil {
		return usageError{err}
	}
	if scope == "scenario" {
		key = p.Scenario.Name
	}
	e, err := p.Row(scope, key)
	if err != nil {
		return usageError{err}
	}
	n, err := p.QuantityNamed(e, f.quantity)
	if err != nil {
		return usageError{err}
	}
	volume := f.volume
	if volume <= 0 {
		volume = p.Scenario.Volume
	}
	x := p.Detail(volume).Explain(e, n)
	out := cmd.OutOrStdout()
	if f.json {
		return writeJSON(out, explainJSON{Format: "piececost explain", Version: 1, File: m.Case.File, Scenario: p.Scenario.Name, AnnualVolume: volume, Number: numberOf(x, f.depth, 1), Caution: caution})
	}
	printWrapped(out, "", "  ", scenarioTitle(p.Scenario.Name)+" at "+grouped(volume, 0)+" a year")
	printExplanation(out, x, f.depth, 0)
	fmt.Fprintln(out, caution)
	return nil
}

// planNamed finds a scenario by its name or by how it begins.
func planNamed(plans []*costmodel.Plan, name string) (*costmodel.Plan, error) {
	var found []*costmodel.Plan
	var names []string
	for _, p := range plans {
		names = append(names, p.Scenario.Name)
		if p.Scenario.Name == name {
			return p, nil
		}
		if strings.HasPrefix(strings.ToLower(p.Scenario.Name), strings.ToLower(name)) {
			found = append(found, p)
		}
	}
	if len(found) != 1 {
		return nil, fmt.Errorf("--scenario must name one of %s, the scenarios of %s", strings.Join(names, ", "), plans[0].Model.Case.File)
	}
	return found[0], nil
}

func printExplanation(w io.Writer, x *costmodel.Explanation, depth, level int) {
	indent := strings.Repeat("  ", level)
	fmt.Fprintf(w, "%s%s of %s = %s\n", indent, x.Quantity, x.Row, shownValue(x))
	for _, line := range explanationLines(x) {
		fmt.Fprintf(w, "%s    %s\n", indent, line)
	}
	if depth > 0 && level+1 >= depth {
		return
	}
	for _, part := range x.Parts {
		printExplanation(w, part, depth, level+1)
	}
}

func shownValue(x *costmodel.Explanation) string {
	if x.Choice != "" {
		return x.Choice
	}
	if x.Unit == "1" {
		return costmodel.ShownNumber(x.Value)
	}
	return costmodel.ShownNumber(x.Value) + " " + x.Unit
}

// explanationLines say where a number comes from.
func explanationLines(x *costmodel.Explanation) []string {
	var out []string
	switch x.From {
	case "structure":
		return []string{"follows from the structure"}
	case "input", "scenario":
		what := "input"
		if x.From == "scenario" {
			what = "changed by the scenario"
		}
		line := fmt.Sprintf("%s %s!%s: %s", what, x.Place.Sheet, x.Place.Cell(), x.Text)
		if len(x.Provided) > 0 {
			line += " (" + strings.Join(x.Provided, "; ") + ")"
		}
		out = append(out, line)
	case "default":
		out = append(out, "default, no cell gives it")
	}
	if x.Again {
		return append(out, "explained above")
	}
	if x.Words != "" && (x.Numbers != "" || x.Choice != "") {
		out = append(out, "= "+x.Words)
	}
	if x.Numbers != "" {
		out = append(out, "= "+x.Numbers)
	}
	if x.Source != "" {
		out = append(out, "source: "+x.Source)
	}
	return out
}

type explainJSON struct {
	Format       string     `json:"format"`
	Version      int        `json:"version"`
	File         string     `json:"file"`
	Scenario     string     `json:"scenario"`
	AnnualVolume float64    `json:"annual_volume"`
	Number       numberJSON `json:"number"`
	Caution      string     `json:"caution"`
}

type numberJSON struct {
	Quantity string       `json:"quantity"`
	Row      string       `json:"row"`
	Value    *float64     `json:"value,omitempty"`
	Choice   string       `json:"choice,omitempty"`
	Unit     string       `json:"unit,omitempty"`
	From     string       `json:"from"`
	Equation string       `json:"equation,omitempty"`
	Numbers  string       `json:"numbers,omitempty"`
	Note     string       `json:"note,omitempty"`
	Source   string       `json:"source,omitempty"`
	Place    *placeJSON   `json:"place,omitempty"`
	Content  string       `json:"content,omitempty"`
	Provided []string     `json:"provided,omitempty"`
	Again    bool         `json:"explained_above,omitempty"`
	Parts    []numberJSON `json:"parts,omitempty"`
}

func numberOf(x *costmodel.Explanation, depth, level int) numberJSON {
	out := numberJSON{Quantity: x.Quantity, Row: x.Row, Choice: x.Choice, Unit: x.Unit, From: x.From, Equation: x.Words, Numbers: x.Numbers, Note: x.Note, Source: x.Source, Content: x.Text, Provided: x.Provided, Again: x.Again}
	if x.Choice == "" {
		out.Value = &x.Value
	}
	if x.Place.Row > 0 {
		p := placeOf(x.Place)
		out.Place = &p
	}
	if depth > 0 && level >= depth {
		return out
	}
	for _, part := range x.Parts {
		out.Parts = append(out.Parts, numberOf(part, depth, level+1))
	}
	return out
}
