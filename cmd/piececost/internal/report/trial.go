package report

import (
	"fmt"
	"io"
	"math"
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
	letters := 3
	if len(r.OpenPoints()) > 0 {
		letters = 4
	}
	r.matrix(w, func(i, k int) string {
		return amountOf(r.Cells[i][k].PieceCost, 2) + fmt.Sprintf(" %-*s", letters, marks(r.Cells[i][k]))
	})
	legend := "* least cost of those that pass, f on the front of cost against mass, x something speaks against it, b the base"
	if letters == 4 {
		legend += ", ? a target of which nothing is known"
	}
	term.Wrap(w, "", "  ", legend)
	r.least(w)
	fmt.Fprintln(w)
	fmt.Fprintln(w, "Net mass of the part [kg] by gauge [mm]")
	r.matrix(w, func(i, k int) string { return amountOf(r.Cells[i][k].PartMass, 3) })
	fmt.Fprintln(w)
	for _, q := range r.Questions() {
		r.question(w, q)
	}
	r.equal(w)
	r.reasons(w)
}

// least says, where targets are open, what costs least of those of which all is known.
func (r *Trial) least(w io.Writer) {
	least, sure := r.Marked(func(c study.TrialCell) bool { return c.Least }), r.Marked(func(c study.TrialCell) bool { return c.Sure })
	if least == nil || len(least.Open) == 0 {
		return
	}
	words := "Of none that passes every target is known"
	if sure != nil {
		words = fmt.Sprintf("Least cost of those of which every target is known: %s at %s mm, %s %s", sure.Grade, millimetres(sure.Gauge),
			amountOf(sure.PieceCost, 2), r.Currency)
	}
	term.Wrap(w, "", "  ", words)
}

// question prints what is known of a quantity beside what is asked for.
func (r *Trial) question(w io.Writer, q *study.TrialQuestion) {
	term.Wrap(w, "", "  ", questionWords(q)+" by gauge [mm]")
	_, one := q.Wanted()
	r.matrix(w, func(i, k int) string { return targetCell(q.Cells[i][k], !one) })
	if q.Has(study.TrialMeasured) || q.Has(study.TrialScreened) {
		term.Wrap(w, "", "  ", "m measured, s carried over from the base by a screening ratio, no letter: computed; x missed")
	}
	fmt.Fprintln(w)
}

// questionWords name a quantity with its unit and what is asked for everywhere.
func questionWords(q *study.TrialQuestion) string {
	words := q.Name
	if q.Unit != "" {
		words += " [" + q.Unit + "]"
	}
	if q.Direction == "" {
		return words
	}
	words += ", " + q.Direction
	if wanted, one := q.Wanted(); one {
		return words + " " + costmodel.ShownNumber(wanted)
	}
	return words + " (in brackets)"
}

// targetCell is a value with the letter of its source and an x where the target is missed.
func targetCell(c *study.TrialTarget, wanted bool) string {
	if c == nil || math.IsNaN(c.Value) {
		return "-    "
	}
	text := term.Figure(c.Value)
	if wanted && !math.IsNaN(c.Wanted) {
		text += " (" + term.Figure(c.Wanted) + ")"
	}
	letters := ""
	switch c.Source {
	case study.TrialMeasured:
		letters = "m"
	case study.TrialScreened:
		letters = "s"
	}
	if c.Verdict == costmodel.Missed {
		letters += " x"
	}
	return fmt.Sprintf("%s %-3s", text, letters)
}

func amountOf(v float64, digits int) string {
	if math.IsNaN(v) {
		return "-"
	}
	return term.Grouped(v, digits)
}

// marks are the letters behind a cost.
func marks(c study.TrialCell) string {
	out := ""
	for _, m := range []struct {
		is     bool
		letter string
	}{{c.Least, "*"}, {c.Front, "f"}, {!c.Passes(), "x"}, {c.IsBase, "b"}, {len(c.Open) > 0, "?"}} {
		if m.is {
			out += m.letter
		}
	}
	return out
}

func (r *Trial) matrix(w io.Writer, cell func(grade, gauge int) string) {
	b := term.Blocks{Corner: "Grade", Labels: r.Grades}
	for k, g := range r.Gauges {
		c := term.Column{Head: millimetres(g)}
		for i := range r.Grades {
			c.Cells = append(c.Cells, cell(i, k))
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

// reasons says what speaks against cells, what is not known of them, and which measured values no cell has, each once with its cells.
func (r *Trial) reasons(w io.Writer) {
	first := true
	say := func(letter string, list []*study.TrialReason) {
		for _, reason := range list {
			if first {
				fmt.Fprintln(w)
			}
			first = false
			var cells []string
			for _, c := range reason.Cells {
				cells = append(cells, c.Grade+" at "+millimetres(c.Gauge))
			}
			term.Wrap(w, letter+" ", "    ", reason.Words+": "+strings.Join(cells, ", "))
		}
	}
	say("x", r.Reasons())
	say("?", r.OpenPoints())
	for _, u := range r.Unused {
		term.Wrap(w, "", "    ", "not tried: "+u)
	}
}

// CSV prints a line for each grade and gauge.
func (r *Trial) CSV(w io.Writer) {
	t := newCSV(w, "scenario", "part", "grade", "gauge_mm", "piece_cost", "net_mass_kg", "part_mass_kg", "stiffness_ratio", "dent_resistance_ratio",
		"section_strength_ratio", "passed", "least_cost", "front", "base", "fails",
		"least_cost_all_known", "not_known", "targets")
	defer t.flush()
	for _, row := range r.Cells {
		for _, c := range row {
			t.row(r.Scenario.Name, r.Part, c.Grade, 1000*c.Gauge, c.PieceCost, c.NetMass, c.PartMass, c.Stiffness, c.Dent, c.Section, yesNo(c.Passes()),
				yesNo(c.Least), yesNo(c.Front), yesNo(c.IsBase), strings.Join(c.Fails, "; "), yesNo(c.Sure), strings.Join(c.Open, "; "), targetsOf(c))
		}
	}
}

// targetsOf writes the targets of a cell as words: "Bending stiffness of A01 388 N/mm, measured, at least 400: missed".
func targetsOf(c study.TrialCell) string {
	var out []string
	for _, t := range c.Targets {
		words := t.Name
		if !math.IsNaN(t.Value) {
			words += strings.TrimRight(fmt.Sprintf(" %s %s", costmodel.ShownNumber(t.Value), t.Unit), " ") + ", " + string(t.Source)
		}
		if t.Direction != "" {
			words += fmt.Sprintf(", %s %s", t.Direction, costmodel.ShownNumber(t.Wanted))
		}
		out = append(out, words+": "+string(t.Verdict))
	}
	return strings.Join(out, "; ")
}

// JSON is the answer.
func (r *Trial) JSON() wire.Trial {
	out := wire.Trial{Answer: wire.Begin[wire.Trial](), File: r.File, Scenario: r.Scenario.Name, AnnualVolume: r.Volume, Currency: r.Currency, Part: r.Part,
		BaseGrade: r.BaseGrade, BaseGauge: 1000 * r.BaseGauge, BaseCell: trialCell(r.Base), Cells: []wire.TrialCell{}, Equal: []wire.TrialEqual{},
		Unused: append([]string{}, r.Unused...), ScreeningCaution: r.Model.Schema.Screening.Caution, Caution: wire.Caution}
	for _, row := range r.Cells {
		for _, c := range row {
			out.Cells = append(out.Cells, trialCell(c))
		}
	}
	for _, e := range r.Equal {
		out.Equal = append(out.Equal, wire.TrialEqual{Grade: e.Grade, Stiffness: number(1000 * e.Stiffness), Dent: number(1000 * e.Dent),
			Section: number(1000 * e.Section)})
	}
	return out
}

func trialCell(c study.TrialCell) wire.TrialCell {
	out := wire.TrialCell{Grade: c.Grade, Gauge: 1000 * c.Gauge, PieceCost: number(c.PieceCost), NetMass: number(c.NetMass), PartMass: number(c.PartMass),
		Stiffness: number(c.Stiffness), Dent: number(c.Dent), Section: number(c.Section), Passes: c.Passes(), Least: c.Least, Sure: c.Sure, Front: c.Front,
		Base: c.IsBase, Fails: append([]string{}, c.Fails...), Open: append([]string{}, c.Open...)}
	for _, t := range c.Targets {
		out.Targets = append(out.Targets, wire.TrialTarget{Target: t.Name, Direction: t.Direction, Unit: t.Unit, Source: string(t.Source),
			Value: number(t.Value), Wanted: number(t.Wanted), Verdict: string(t.Verdict)})
	}
	return out
}
