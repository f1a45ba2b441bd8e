package main

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/study"
)

func (r *combineReport) print(w io.Writer) {
	fmt.Fprintf(w, "Combinations of alternatives at %s a year, the cheapest first\n\n", shownVolume(r.ask.volume))
	for i := range r.scenarios {
		r.printScenario(w, &r.scenarios[i])
		fmt.Fprintln(w)
	}
}

// printScenario prints the best combinations of a scenario: a line of figures and one of alternatives each.
func (r *combineReport) printScenario(w io.Writer, s *combined) {
	printWrapped(w, "", "  ", fmt.Sprintf("%s: %s", s.plan.Scenario.Name, r.counts(s)))
	for _, names := range s.combiner.SameRows() {
		printWrapped(w, "  ", "    ", sameRowWords(names))
	}
	for _, o := range s.combiner.JoinOptions() {
		printWrapped(w, "  ", "    ", joinWords(&o))
	}
	for _, l := range r.leftOut(s) {
		printWrapped(w, "  ", "    ", leftOutWords(l))
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

// sameRowWords says what is done with alternatives on the same rows.
func sameRowWords(names []string) string {
	return strings.Join(names, ", ") + ": on the same rows, so one of them is tried"
}

// joinWords says which of the links that compete are taken.
func joinWords(o *costmodel.JoinOptions) string {
	switch {
	case o.One:
		return "of " + o.Names() + " one is taken"
	case len(o.Options) == 1:
		return o.Names() + ": an extra, taken or not"
	case !o.Listed:
		return o.Names() + ": extras, any of them taken or none; list one in the scenario if one must be there"
	}
	return o.Names() + ": extras, any of them taken or none"
}

// leftOutWords says which alternative no combination has.
func leftOutWords(l costmodel.LeftOut) string {
	return fmt.Sprintf("left out, since its row has an error: %s of %s", strings.Join(l.Tags, ", "), l.Row)
}

// counts says how many combinations there are and why some are left out.
func (r *combineReport) counts(s *combined) string {
	text := fmt.Sprintf("%s of %s", counted(s.Valid, "valid combination"), counted(len(s.combiner.Tags()), "alternative"))
	for _, of := range []struct {
		n    int
		what string
	}{{s.TooHeavy, fmt.Sprintf("heavier than %s kg", costmodel.ShownNumber(r.ask.maxMass))}, {s.Missing, "miss a target"}, {s.NoCost, "fail a check or have no cost"}} {
		if of.n > 0 {
			text += fmt.Sprintf("; %s %s", grouped(float64(of.n), 0), of.what)
		}
	}
	if s.Repeated > 0 {
		text += fmt.Sprintf("; %s more with an alternative that changes nothing, counted once", grouped(float64(s.Repeated), 0))
	}
	return text
}

// counted counts things with a comma between thousands.
func counted(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return grouped(float64(n), 0) + " " + word + "s"
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

type combineJSON struct {
	Format    string                `json:"format"`
	Version   int                   `json:"version"`
	File      string                `json:"file"`
	Currency  string                `json:"currency"`
	Volume    float64               `json:"annual_volume"`
	MaxMass   *float64              `json:"max_mass_kg"` // null for no limit
	Targets   bool                  `json:"only_with_targets_met"`
	Scenarios []combineScenarioJSON `json:"scenarios"`
	Caution   string                `json:"caution"`
}

type combineScenarioJSON struct {
	Scenario     string            `json:"scenario"`
	Alternatives []string          `json:"alternatives"`
	PieceCost    float64           `json:"piece_cost_as_it_stands"`
	NetMass      float64           `json:"net_mass_kg_as_it_stands"`
	SameRows     [][]string        `json:"alternatives_on_the_same_rows"` // of each list one is tried
	Joins        []joinOptionsJSON `json:"links_that_compete"`
	LeftOut      []leftOutJSON     `json:"left_out"` // rows with an error; no combination has them
	Valid        int               `json:"valid_combinations"`
	Repeated     int               `json:"repeated_without_effect"` // beside the valid ones
	TooHeavy     int               `json:"too_heavy"`
	Missing      int               `json:"missing_a_target"`
	NoCost       int               `json:"without_cost"`
	Best         []combinationJSON `json:"cheapest"`
}

// joinOptionsJSON are links that join at one step, or join one child at several steps, under different alternatives.
type joinOptionsJSON struct {
	Parent  string           `json:"parent"`
	One     bool             `json:"one_is_taken"` // else any of them or none
	Words   string           `json:"words"`
	Options []joinOptionJSON `json:"options"`
}

type joinOptionJSON struct {
	Alternatives []string   `json:"alternatives"`
	Links        []linkJSON `json:"links"`
}

type linkJSON struct {
	Child string `json:"child"`
	Step  string `json:"joins_at_step"`
}

type leftOutJSON struct {
	Row          string      `json:"row"`
	Alternatives []string    `json:"alternatives"`
	Finding      findingJSON `json:"finding"`
}

type combinationJSON struct {
	Alternatives []string `json:"alternatives"`
	PieceCost    float64  `json:"piece_cost"`
	NetMass      float64  `json:"net_mass_kg"`
	Missed       []string `json:"missed_targets"`
}

func (r *combineReport) json() combineJSON {
	out := combineJSON{Format: "piececost combine", Version: 1, File: r.model.Case.File, Currency: r.currency(), Volume: r.ask.volume, Targets: r.ask.targets, Caution: caution}
	if r.ask.maxMass > 0 {
		out.MaxMass = &r.ask.maxMass
	}
	for i := range r.scenarios {
		s := &r.scenarios[i]
		j := combineScenarioJSON{Scenario: s.plan.Scenario.Name, Alternatives: append([]string{}, s.combiner.Tags()...), PieceCost: s.cost, NetMass: s.mass,
			SameRows: append([][]string{}, s.combiner.SameRows()...), Valid: s.Valid, Repeated: s.Repeated, TooHeavy: s.TooHeavy, Missing: s.Missing, NoCost: s.NoCost, Best: []combinationJSON{}, Joins: []joinOptionsJSON{}, LeftOut: []leftOutJSON{}}
		for _, l := range r.leftOut(s) {
			j.LeftOut = append(j.LeftOut, leftOutJSON{l.Row, l.Tags, findingsJSON(costmodel.Diagnostics{l.Finding})[0]})
		}
		for _, o := range s.combiner.JoinOptions() {
			j.Joins = append(j.Joins, joinsJSON(&o))
		}
		for k := range s.Best {
			b := &s.Best[k]
			j.Best = append(j.Best, combinationJSON{append([]string{}, b.Tags...), b.Cost, b.Mass, missedNames(b)})
		}
		out.Scenarios = append(out.Scenarios, j)
	}
	return out
}

func joinsJSON(o *costmodel.JoinOptions) joinOptionsJSON {
	out := joinOptionsJSON{Parent: o.Parent, One: o.One, Words: joinWords(o)}
	for _, x := range o.Options {
		j := joinOptionJSON{Alternatives: x.Tags}
		for _, l := range x.Links {
			j.Links = append(j.Links, linkJSON{l.Text("child"), l.Text("joins_at_step")})
		}
		out.Options = append(out.Options, j)
	}
	return out
}
