package report

import (
	"fmt"
	"io"
	"strings"

	"piececost/costmodel"
)

// PrintExplanation prints a number and what went in, down to depth levels (0 for all); level is that of the number.
func PrintExplanation(w io.Writer, x *costmodel.Explanation, depth, level int) {
	indent := strings.Repeat("  ", level)
	fmt.Fprintf(w, "%s%s of %s = %s\n", indent, x.Quantity, x.Row, shownValue(x))
	for _, line := range explanationLines(x) {
		fmt.Fprintf(w, "%s    %s\n", indent, line)
	}
	if depth > 0 && level+1 >= depth {
		return
	}
	for _, part := range x.Parts {
		PrintExplanation(w, part, depth, level+1)
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
