package main

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/study"
)

func (r *combineReport) print(w io.Writer) {
	fmt.Fprintf(w, "Combinations of alternatives at %s a year, the cheapest first\n\n", shownVolume(r.volume))
	for i := range r.scenarios {
		r.printScenario(w, &r.scenarios[i])
		fmt.Fprintln(w)
	}
}

// printScenario prints the best combinations of a scenario: a line of figures and one of alternatives each.
func (r *combineReport) printScenario(w io.Writer, s *combined) {
	printWrapped(w, "", "  ", fmt.Sprintf("%s: %s", s.plan.Scenario.Name, r.counts(s)))
	for _, names := range s.combiner.SameRows() {
		printWrapped(w, "  ", "    ", study.SameRowWords(names))
	}
	for _, o := range s.combiner.JoinOptions() {
		printWrapped(w, "  ", "    ", study.JoinWords(&o))
	}
	for _, l := range r.leftOut(s) {
		printWrapped(w, "  ", "    ", study.LeftOutWords(l))
	}
	digits := int(costmodel.MoneyDigits(r.currency(), s.cost))
	listed := strings.Join(s.plan.Scenario.Alternatives, ", ")
	if listed == "" {
		listed = "no alternatives"
	}
	printWrapped(w, "  as it stands: ", "    ", fmt.Sprintf("%s %s, %s kg; %s", grouped(s.cost, digits), r.currency(), grouped(s.mass, 3), listed))
	for i := range s.Best {
		b := &s.Best[i]
		against := "the cheapest"
		if i > 0 {
			against = "+" + smallAmount(b.Cost-s.Best[0].Cost, digits)
		}
		fmt.Fprintf(w, "%4d  %s %s  %12s  %s kg%s\n", i+1, grouped(b.Cost, digits), r.currency(), against, grouped(b.Mass, 3), missedWords(b))
		printWrapped(w, "      ", "      ", tagsOf(b))
	}
}

// counts says how many combinations there are and why some are left out.
func (r *combineReport) counts(s *combined) string {
	text := fmt.Sprintf("%s of %s", counted(s.Valid, "valid combination"), counted(len(s.combiner.Tags()), "alternative"))
	for _, of := range []struct {
		n    int
		what string
	}{{s.TooHeavy, fmt.Sprintf("heavier than %s kg", costmodel.ShownNumber(r.maxMass))}, {s.Missing, "miss a target"}, {s.NoCost, "fail a check or have no cost"}} {
		if of.n > 0 {
			text += fmt.Sprintf("; %s %s", grouped(float64(of.n), 0), of.what)
		}
	}
	if s.Repeated > 0 {
		text += fmt.Sprintf("; %s more with an alternative that changes nothing, counted once", grouped(float64(s.Repeated), 0))
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
	return "  misses " + plural(len(b.Missed), "target")
}

// csv prints a line for each combination that is listed.
func (r *combineReport) csv(w io.Writer) {
	fmt.Fprintln(w, "scenario,rank,piece_cost,net_mass_kg,missed_targets,alternatives")
	for i := range r.scenarios {
		s := &r.scenarios[i]
		for k := range s.Best {
			b := &s.Best[k]
			fmt.Fprintln(w, strings.Join([]string{csvText(s.plan.Scenario.Name), strconv.Itoa(k + 1), csvNumber(b.Cost), csvNumber(b.Mass), csvText(strings.Join(missedNames(b), "; ")), csvText(strings.Join(b.Tags, "; "))}, ","))
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

// combined is a scenario with its combinations.
type combined struct {
	*study.Combinations
	plan     *costmodel.Plan // as the case has it
	combiner *costmodel.Combiner
	fixed    []int // by tag
	cost     float64
	mass     float64
}

// combineReport prints combinations.
type combineReport struct {
	model     *costmodel.Model
	volume    float64
	maxMass   float64 // 0 for no limit
	targets   bool    // only combinations that meet the targets
	left      []costmodel.LeftOut   // of all scenarios
	aside     costmodel.Diagnostics // what is wrong with rows that are left out
	scenarios []combined
}

// leftOut lists the rows that no combination of a scenario may have.
func (r *combineReport) leftOut(s *combined) []costmodel.LeftOut {
	var out []costmodel.LeftOut
	for _, l := range append(slices.Clone(r.left), s.combiner.LeftOut()...) {
		if slices.ContainsFunc(l.Tags, func(t string) bool { return s.combiner.Tag(t) >= 0 }) { // else of another product
			out = append(out, l)
		}
	}
	return out
}

// printLeftOut says what is wrong with the rows that are left out.
func (r *combineReport) printLeftOut(w io.Writer) {
	for _, d := range r.aside.Sorted() {
		fmt.Fprintln(w, d)
	}
}

func (r *combineReport) currency() string { return r.model.Schema.Units.ModelCurrency() }

// tagWords lists the alternatives of all scenarios.
func (r *combineReport) tagWords() string {
	var out []string
	seen := map[string]bool{}
	for _, s := range r.scenarios {
		for _, t := range s.combiner.Tags() {
			if key := strings.ToLower(t); !seen[key] {
				seen[key] = true
				out = append(out, t)
			}
		}
	}
	if len(out) == 0 {
		return "none"
	}
	return strings.Join(out, ", ")
}
