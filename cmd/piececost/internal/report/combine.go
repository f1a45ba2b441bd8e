package report

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/costmodel/table"
)

// Print prints the cheapest combinations of each scenario.
func (r *Combinations) Print(w io.Writer) {
	fmt.Fprintf(w, "Combinations of alternatives at %s per year, the cheapest first\n\n", term.Volume(r.Volume))
	for i := range r.Scenarios {
		r.printScenario(w, &r.Scenarios[i])
		fmt.Fprintln(w)
	}
}

// printScenario prints the best combinations of a scenario: a line of figures and one of alternatives each.
func (r *Combinations) printScenario(w io.Writer, s *Combined) {
	term.Wrap(w, "", "  ", fmt.Sprintf("%s: %s", s.Plan.Scenario.Name, r.counts(s)))
	for _, names := range s.Combiner.SameRows() {
		term.Wrap(w, "  ", "    ", study.SameRowWords(names))
	}
	for _, o := range s.Combiner.JoinOptions() {
		term.Wrap(w, "  ", "    ", study.JoinWords(&o))
	}
	for _, l := range r.leftOut(s) {
		term.Wrap(w, "  ", "    ", study.LeftOutWords(l))
	}
	digits := int(costmodel.MoneyDigits(r.currency(), s.Cost))
	listed := strings.Join(s.Plan.Scenario.Alternatives, ", ")
	if listed == "" {
		listed = "no alternatives"
	}
	term.Wrap(w, "  unchanged: ", "    ", fmt.Sprintf("%s %s, %s kg; %s", term.Grouped(s.Cost, digits), r.currency(), term.Grouped(s.Mass, 3), listed))
	for i := range s.Best {
		b := &s.Best[i]
		against := "the cheapest"
		if i > 0 {
			against = "+" + term.SmallAmount(b.Cost-s.Best[0].Cost, digits)
		}
		fmt.Fprintf(w, "%4d  %s %s  %12s  %s kg%s\n", i+1, term.Grouped(b.Cost, digits), r.currency(), against, term.Grouped(b.Mass, 3), missedWords(b))
		term.Wrap(w, "      ", "      ", tagsOf(b))
	}
}

// counts says how many combinations there are and why some are left out.
func (r *Combinations) counts(s *Combined) string {
	text := fmt.Sprintf("%s of %s", term.Plural(s.Valid, "valid combination"), term.Plural(len(s.Combiner.Tags()), "alternative"))
	for _, of := range []struct {
		n    int
		what string
	}{
		{s.TooHeavy, fmt.Sprintf("heavier than %s kg", costmodel.ShownNumber(r.MaxMass))},
		{s.Missing, "miss a target"},
		{s.NoCost, "fail a check or have no cost"},
	} {
		if of.n > 0 {
			text += fmt.Sprintf("; %s %s", term.Whole(of.n), of.what)
		}
	}
	if s.Repeated > 0 {
		text += fmt.Sprintf("; %s more with an alternative that changes nothing, counted once", term.Whole(s.Repeated))
	}
	return text
}

func tagsOf(b *study.Combination) string {
	if len(b.Tags) == 0 {
		return "no alternatives"
	}
	return strings.Join(b.Tags, ", ")
}

func missedWords(b *study.Combination) string {
	if len(b.Missed) == 0 {
		return ""
	}
	return "  misses " + term.Plural(len(b.Missed), "target")
}

// CSV prints a line for each combination that is listed.
func (r *Combinations) CSV(w io.Writer) {
	t := newCSV(w, "scenario", "rank", "piece_cost", "net_mass_kg", "missed_targets", "alternatives")
	defer t.flush()
	for i := range r.Scenarios {
		s := &r.Scenarios[i]
		for k := range s.Best {
			b := &s.Best[k]
			t.row(s.Plan.Scenario.Name, k+1, b.Cost, b.Mass, strings.Join(missedNames(b), "; "), strings.Join(b.Tags, "; "))
		}
	}
}

func missedNames(b *study.Combination) []string {
	out := []string{}
	for _, j := range b.Missed {
		out = append(out, j.Target.Name())
	}
	return out
}

// Combined is a scenario with its combinations.
type Combined struct {
	*study.Combinations
	Plan     *costmodel.Plan // as the case has it
	Combiner *costmodel.Combiner
	Fixed    []int // by tag
	Cost     float64
	Mass     float64
}

// Combinations prints combinations.
type Combinations struct {
	Model     *costmodel.Model
	Volume    float64
	MaxMass   float64             // 0 for no limit
	Targets   bool                // only combinations that meet the targets
	Left      []costmodel.LeftOut // of all scenarios
	Aside     table.Diagnostics   // what is wrong with rows that are left out
	Scenarios []Combined
}

// leftOut lists the rows that no combination of a scenario may have.
func (r *Combinations) leftOut(s *Combined) []costmodel.LeftOut {
	var out []costmodel.LeftOut
	for _, l := range append(slices.Clone(r.Left), s.Combiner.LeftOut()...) {
		if slices.ContainsFunc(l.Tags, func(t string) bool { return s.Combiner.Tag(t) >= 0 }) { // else of another product
			out = append(out, l)
		}
	}
	return out
}

// PrintLeftOut says what is wrong with the rows that are left out.
func (r *Combinations) PrintLeftOut(w io.Writer) {
	for _, d := range r.Aside.Sorted() {
		fmt.Fprintln(w, d)
	}
}

func (r *Combinations) currency() string { return r.Model.Schema.Units.ModelCurrency() }

// TagWords lists the alternatives of all scenarios.
func (r *Combinations) TagWords() string {
	var out []string
	seen := map[string]bool{}
	for _, s := range r.Scenarios {
		for _, t := range s.Combiner.Tags() {
			if key := strings.ToLower(t); !seen[key] {
				seen[key] = true
				out = append(out, t)
			}
		}
	}
	if len(out) == 0 {
		return "none; a row has one in its column Alternative"
	}
	return strings.Join(out, ", ")
}
