package report

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/scenarios/costing/wire"
)

// Trial prints a part in other grades and gauges.
type Trial struct {
	*study.Trial
	Model    *costmodel.Model
	Currency string
	File     string
}

func millimetres(v float64) string { return term.Figure(v * 1000) }

// Print prints a matrix of the piece cost, one of the mass of the part, the gauges at which a grade equals the base, and what speaks against
// cells.
func (r *Trial) Print(w io.Writer) {
	term.Wrap(w, "", "  ", fmt.Sprintf("Part %s of %s at %s per year, base %s at %s mm", r.Part, r.Scenario.Name, term.Volume(r.Volume), r.BaseGrade,
		millimetres(r.BaseGauge)))
	fmt.Fprintln(w)
	term.Wrap(w, "", "  ", fmt.Sprintf("Piece cost [%s] by gauge [mm]", r.Currency))
	r.matrix(w, func(c study.TrialCell) string { return amountOf(c.PieceCost, 2) + marks(c) })
	term.Wrap(w, "", "  ", "* least cost of those that pass, f on the front of cost against mass, x something speaks against it, b the base")
	fmt.Fprintln(w)
	fmt.Fprintln(w, "Net mass of the part [kg] by gauge [mm]")
	r.matrix(w, func(c study.TrialCell) string { return amountOf(c.PartMass, 3) })
	fmt.Fprintln(w)
	r.equal(w)
	r.fails(w)
}

func amountOf(v float64, digits int) string {
	if math.IsNaN(v) {
		return "-"
	}
	return term.Grouped(v, digits)
}

// marks are the letters behind a cost, always as wide.
func marks(c study.TrialCell) string {
	out := ""
	for _, m := range []struct {
		is     bool
		letter string
	}{{c.Least, "*"}, {c.Front, "f"}, {!c.Passes(), "x"}, {c.IsBase, "b"}} {
		if m.is {
			out += m.letter
		}
	}
	return fmt.Sprintf(" %-3s", out)
}

func (r *Trial) matrix(w io.Writer, cell func(study.TrialCell) string) {
	b := term.Blocks{Corner: "Grade", Labels: r.Grades}
	for k, g := range r.Gauges {
		c := term.Column{Head: millimetres(g)}
		for i := range r.Grades {
			c.Cells = append(c.Cells, cell(r.Cells[i][k]))
		}
		b.Groups = append(b.Groups, []term.Column{c})
	}
	b.Print(w)
}

// equal prints the gauges at which each grade equals the base.
func (r *Trial) equal(w io.Writer) {
	term.Wrap(w, "", "  ", "Gauge [mm] at which a grade equals the base")
	b := term.Blocks{Corner: "Grade", Labels: r.Grades}
	columns := []term.Column{{Head: "bending stiffness"}, {Head: "dent resistance"}, {Head: "section strength"}}
	for _, e := range r.Equal {
		for i, v := range []float64{e.Stiffness, e.Dent, e.Section} {
			columns[i].Cells = append(columns[i].Cells, amountOf(v*1000, 3))
		}
	}
	b.Fixed = columns
	b.Print(w)
	term.Wrap(w, "", "  ", r.Model.Schema.Screening.Caution+" A dash: the elastic modulus or yield strength of a grade is not known.")
}

// fails says what speaks against cells, each reason once with its cells.
func (r *Trial) fails(w io.Writer) {
	var reasons []string
	cells := map[string][]string{}
	for _, row := range r.Cells {
		for _, c := range row {
			for _, f := range c.Fails {
				if !slices.Contains(reasons, f) {
					reasons = append(reasons, f)
				}
				cells[f] = append(cells[f], c.Grade+" at "+millimetres(c.Gauge))
			}
		}
	}
	for i, f := range reasons {
		if i == 0 {
			fmt.Fprintln(w)
		}
		term.Wrap(w, "x ", "    ", f+": "+strings.Join(cells[f], ", "))
	}
}

// CSV prints a line for each grade and gauge.
func (r *Trial) CSV(w io.Writer) {
	t := newCSV(w, "scenario", "part", "grade", "gauge_mm", "piece_cost", "net_mass_kg", "part_mass_kg", "stiffness_ratio", "dent_resistance_ratio",
		"section_strength_ratio", "passed", "least_cost", "front", "base", "fails")
	defer t.flush()
	for _, row := range r.Cells {
		for _, c := range row {
			t.row(r.Scenario.Name, r.Part, c.Grade, 1000*c.Gauge, c.PieceCost, c.NetMass, c.PartMass, c.Stiffness, c.Dent, c.Section, yesNo(c.Passes()),
				yesNo(c.Least), yesNo(c.Front), yesNo(c.IsBase), strings.Join(c.Fails, "; "))
		}
	}
}

// JSON is the answer.
func (r *Trial) JSON() wire.Trial {
	out := wire.Trial{Answer: wire.Begin[wire.Trial](), File: r.File, Scenario: r.Scenario.Name, AnnualVolume: r.Volume, Currency: r.Currency, Part: r.Part,
		BaseGrade: r.BaseGrade, BaseGauge: 1000 * r.BaseGauge, Cells: []wire.TrialCell{}, Equal: []wire.TrialEqual{},
		ScreeningCaution: r.Model.Schema.Screening.Caution,
		Caution:          wire.Caution}
	for _, row := range r.Cells {
		for _, c := range row {
			one := wire.TrialCell{Grade: c.Grade, Gauge: 1000 * c.Gauge, PieceCost: number(c.PieceCost), NetMass: number(c.NetMass),
				PartMass:  number(c.PartMass),
				Stiffness: number(c.Stiffness), Dent: number(c.Dent), Section: number(c.Section), Passes: c.Passes(), Least: c.Least, Front: c.Front,
				Base: c.IsBase, Fails: append([]string{}, c.Fails...)}
			for _, j := range c.Targets {
				one.Targets = append(one.Targets, wire.TrialTarget{Target: j.Target.Name(), Value: number(j.Value), Wanted: number(j.Wanted),
					Verdict: string(j.Verdict)})
			}
			out.Cells = append(out.Cells, one)
		}
	}
	for _, e := range r.Equal {
		out.Equal = append(out.Equal, wire.TrialEqual{Grade: e.Grade, Stiffness: number(1000 * e.Stiffness), Dent: number(1000 * e.Dent),
			Section: number(1000 * e.Section)})
	}
	return out
}
