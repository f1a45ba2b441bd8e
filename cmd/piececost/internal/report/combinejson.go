package report

import (
	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/costmodel/table"
)

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
	Step  string `json:"joined_at_operation"`
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

// JSON is the combinations that are listed.
func (r *Combinations) JSON() combineJSON {
	out := combineJSON{Format: "piececost combine", Version: 1, File: r.Model.Case.File, Currency: r.currency(), Volume: r.Volume, Targets: r.Targets,
		Caution: Caution}
	if r.MaxMass > 0 {
		out.MaxMass = &r.MaxMass
	}
	for i := range r.Scenarios {
		s := &r.Scenarios[i]
		j := combineScenarioJSON{Scenario: s.Plan.Scenario.Name, Alternatives: append([]string{}, s.Combiner.Tags()...), PieceCost: s.Cost, NetMass: s.Mass,
			SameRows: append([][]string{}, s.Combiner.SameRows()...), Valid: s.Valid, Repeated: s.Repeated, TooHeavy: s.TooHeavy, Missing: s.Missing, NoCost: s.NoCost,
			Best: []combinationJSON{}, Joins: []joinOptionsJSON{}, LeftOut: []leftOutJSON{}}
		for _, l := range r.leftOut(s) {
			j.LeftOut = append(j.LeftOut, leftOutJSON{l.Row, l.Tags, FindingsJSON(table.Diagnostics{l.Finding})[0]})
		}
		for _, o := range s.Combiner.JoinOptions() {
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
	out := joinOptionsJSON{Parent: o.Parent, One: o.One, Words: study.JoinWords(o)}
	for _, x := range o.Options {
		j := joinOptionJSON{Alternatives: x.Tags}
		for _, l := range x.Links {
			j.Links = append(j.Links, linkJSON{l.Text("child"), l.Text("joined_at_operation")})
		}
		out.Options = append(out.Options, j)
	}
	return out
}
