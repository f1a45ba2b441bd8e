package report

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel"
	"piececost/costmodel/formula"
	"piececost/costmodel/units"
)

// ShowLanguage prints how expressions are written: operators, functions with an example each, units.
func ShowLanguage(w io.Writer) {
	fmt.Fprintln(w, "Expressions, in cells and in the sheet Processes")
	for _, s := range formula.Writings {
		example := s.Example
		if !s.Names {
			example += " gives " + figure(s.Result)
		}
		entry(w, example, s.Help)
	}
	fmt.Fprintln(w, "\nFunctions")
	for _, f := range formula.Functions {
		entry(w, f.Name+"("+f.Args+")", f.Help)
		if f.Table {
			fmt.Fprintf(w, "      %s\n", f.Example)
		} else {
			fmt.Fprintf(w, "      %s gives %s\n", f.Example, figure(f.Result))
		}
	}
	entry(w, "sum(rows.quantity)", sumHelp)
	fmt.Fprintf(w, "      %s\n", sumExample)
	showRelations(w)
	fmt.Fprintln(w, "\nUnits, with what one of them is in the unit in brackets")
	for _, g := range units.Groups() {
		entry(w, g.Measures+" ["+g.Coherent+"]", strings.Join(worths(g), ", "))
	}
	entry(w, "money [currency]", "currency stands for the model currency; codes of ISO 4217 such as USD have their rate in the sheet Currencies")
	fmt.Fprintln(w)
	term.Wrap(w, "", "", "Units are put together with *, / and powers: EUR/(kg*h), W/(m2*K), kgCO2e/kWh. A level, degC or degF, stands alone. "+
		"An angle is a plain number: an arc is radius * angle.")
}

// The function that is no row of the table of functions.
const (
	sumHelp    = "the total over the rows that this row leads to"
	sumExample = "sum(children.joined_mass)"
)

// showRelations lists what an expression sees beyond its own row, by what the row is.
func showRelations(w io.Writer) {
	fmt.Fprintln(w, "\nRows that an expression may see; before a point, or within sum where there may be many")
	froms := []string{""}
	for _, r := range costmodel.Relations {
		if !slices.Contains(froms, r.From) {
			froms = append(froms, r.From)
		}
	}
	for _, from := range froms {
		var of []string
		for _, r := range costmodel.Relations {
			if r.From != from {
				continue
			}
			name := r.Name
			if r.Many {
				name = "sum(" + name + "...)"
			}
			of = append(of, name+" "+r.Note)
		}
		who := map[bool]string{true: "from every row", false: "from a " + from}[from == ""]
		if from == "operation" {
			who = "from an operation"
		}
		entry(w, who, strings.Join(of, "; "))
	}
}

// entry prints a word and its explanation below it.
func entry(w io.Writer, word, text string) {
	fmt.Fprintln(w, "  "+word)
	term.Wrap(w, "      ", "      ", text)
}

// worths writes each unit of a group with its factor; of a scale with another zero, a fixed point.
func worths(g units.Group) []string {
	var out []string
	for _, u := range g.Units {
		text := u.Text + " " + figure(u.Factor)
		if u.Dim.Level {
			text = fmt.Sprintf("%s (water boils at %s)", u.Text, figure(u.Shown(100)))
		}
		out = append(out, text)
	}
	return out
}

func figure(v float64) string { return strconv.FormatFloat(v, 'g', 10, 64) }
