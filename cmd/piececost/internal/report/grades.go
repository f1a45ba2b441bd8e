package report

import (
	"fmt"
	"io"
	"strings"

	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel"
	"piececost/scenarios/costing/wire"
)

// gradeCaution stands under values of grades.
const gradeCaution = "Values of grades are for estimating cost and for screening; the standard, the supplier's certificate and licensed engineers decide."

// gradeRoom is the room for a designation in the list.
const gradeRoom = 20

// ListGrades prints grades by family with what is looked for first: number, density, strengths.
func ListGrades(w io.Writer, list []*costmodel.Grade) {
	family := ""
	for i, g := range list {
		if g.Family != family {
			if i > 0 {
				fmt.Fprintln(w)
			}
			family = g.Family
			term.Wrap(w, "", "  ", strings.ToUpper(family[:1])+family[1:])
			fmt.Fprintf(w, "  %-*s %-12s %7s %11s %13s\n", gradeRoom, "", "number", "density", "yield", "tensile")
		}
		fmt.Fprintf(w, "  %-*s %-12s %7s %11s %13s\n", gradeRoom, g.Name, g.SteelNumber(), numberText(g, "density"),
			bothText(g, "minimum_yield_strength", "yield_strength"), bothText(g, "minimum_tensile_strength", "tensile_strength"))
	}
	fmt.Fprintln(w)
	term.Wrap(w, "", "", "Density in kg/m3, strengths in MPa: minimum and typical. piececost grades NAME shows all values of one, with where each comes from.")
	term.Wrap(w, "", "", gradeCaution)
}

func numberText(g *costmodel.Grade, name string) string {
	v, ok := g.Number(name)
	if !ok {
		return "-"
	}
	return costmodel.ShownNumber(v)
}

func bothText(g *costmodel.Grade, least, typical string) string {
	return numberText(g, least) + " " + fmt.Sprintf("%4s", numberText(g, typical))
}

// ShowGrade prints all that is known of a grade.
func ShowGrade(w io.Writer, g *costmodel.Grade) {
	fmt.Fprintln(w, g.Name)
	for _, line := range []struct{ title, text string }{{"also called: ", strings.Join(g.Aliases, ", ")}, {"family: ", g.Family}, {"standard: ", g.Standard},
		{"form: ", g.Form}, {"note: ", g.Note}, {"look up first: ", g.Verify}, {"file: ", "templates/" + g.File}} {
		if line.text != "" {
			term.Wrap(w, "  "+line.title, "    ", line.text)
		}
	}
	fmt.Fprint(w, "\nValues, each where the cell of its column is empty\n")
	for i := range g.Items {
		it := &g.Items[i]
		unit := " " + it.Unit
		if it.Unit == "1" {
			unit = ""
		}
		fmt.Fprintf(w, "\n%s = %s%s\n", it.Label, numberText(g, it.Name), unit)
		if it.Note != "" {
			term.Wrap(w, "  ", "    ", it.Note)
		}
		term.Wrap(w, "  source: ", "    ", strings.TrimPrefix(it.Source, "templates/"+g.File+", "+g.Name+": "))
	}
	fmt.Fprintln(w)
	term.Wrap(w, "", "", gradeCaution)
}

// GradesJSON are grades as JSON.
func GradesJSON(list []*costmodel.Grade) wire.Grades {
	out := wire.Grades{Answer: wire.Begin[wire.Grades](), Caution: gradeCaution, Grades: []wire.Grade{}}
	for _, g := range list {
		one := wire.Grade{Name: g.Name, Aliases: g.Aliases, Family: g.Family, Standard: g.Standard, Form: g.Form, Note: g.Note, Verify: g.Verify}
		for i := range g.Items {
			it := &g.Items[i]
			v, _ := g.Number(it.Name)
			one.Values = append(one.Values, wire.GradeValue{Name: it.Name, Label: it.Label, Symbol: it.Symbol, Value: v, Unit: it.Unit,
				Kind: string(it.Kind), WithinPercent: it.Within, Note: it.Note, Source: it.Source})
		}
		out.Grades = append(out.Grades, one)
	}
	return out
}
