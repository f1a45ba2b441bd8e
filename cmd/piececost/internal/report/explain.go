package report

import (
	"fmt"
	"io"
	"strings"

	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel"
	"piececost/costmodel/table"
)

// An ExplanationPrint prints numbers and what went in, down to Depth levels (0 for all), expressions shortened unless Whole.
type ExplanationPrint struct {
	Depth     int
	Whole     bool
	Shortened bool // something was
}

// Print prints a number; level is how far below the first one it stands.
func (p *ExplanationPrint) Print(w io.Writer, x *costmodel.Explanation, level int) {
	indent := strings.Repeat("  ", level)
	fmt.Fprintf(w, "%s%s of %s = %s\n", indent, x.Quantity, x.Row, shownValue(x))
	if x.Machine != "" {
		term.Wrap(w, indent+"    ", indent+"      ", x.Machine)
	}
	for _, line := range p.lines(x) {
		fmt.Fprintf(w, "%s    %s\n", indent, line)
	}
	if p.Depth > 0 && level+1 >= p.Depth {
		return
	}
	for _, part := range x.Parts {
		p.Print(w, part, level+1)
	}
}

// short is a text of the user's, or an expression, as it is printed.
func (p *ExplanationPrint) short(text string) string {
	out := table.ShortExpression(text)
	if p.Whole || out == text {
		return text
	}
	p.Shortened = true
	return out
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

// lines say where a number comes from.
func (p *ExplanationPrint) lines(x *costmodel.Explanation) []string {
	var out []string
	switch x.From {
	case "structure":
		return []string{"follows from the structure"}
	case "input", "scenario":
		what := "input"
		if x.From == "scenario" {
			what = "changed by the scenario"
		}
		line := fmt.Sprintf("%s %s!%s: %s", what, x.Place.Sheet, x.Place.Cell(), p.short(x.Text))
		if len(x.Provided) > 0 {
			line += " (" + p.short(strings.Join(x.Provided, "; ")) + ")"
		}
		out = append(out, line)
	case "default":
		out = append(out, "default, no cell gives it")
	}
	if x.Again {
		return append(out, "explained above")
	}
	if x.Words != "" && (x.Numbers != "" || x.Choice != "") {
		out = append(out, "= "+p.short(x.Words))
	}
	if x.Numbers != "" {
		out = append(out, "= "+p.short(x.Numbers))
	}
	if x.Source != "" {
		out = append(out, "source: "+x.Source)
	}
	return out
}
