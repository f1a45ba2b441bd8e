package report

import (
	"piececost/costmodel"
	"piececost/costmodel/study"
)

type crossoverJSON struct {
	Format            string              `json:"format"`
	Version           int                 `json:"version"`
	File              string              `json:"file"`
	Currency          string              `json:"currency"`
	From              int                 `json:"from"`
	To                int                 `json:"to"`
	Tolerance         float64             `json:"tolerance"` // a share
	ContinuousBatches bool                `json:"continuous_batches"`
	Scenarios         []string            `json:"scenarios"`
	Cheapest          []stretchJSON       `json:"cheapest"`
	Pairs             []crossoverPairJSON `json:"pairs"`
	Caution           string              `json:"caution"`
}

type stretchJSON struct {
	Scenario string   `json:"scenario"`
	From     int      `json:"from"`
	To       int      `json:"to"`
	AtFrom   leadJSON `json:"second_best_at_from"`
	AtTo     leadJSON `json:"second_best_at_to"`
	Least    leadJSON `json:"second_best_nearest"`
	Most     leadJSON `json:"second_best_farthest"`
}

type leadJSON struct {
	AnnualVolume int     `json:"annual_volume"`
	Scenario     string  `json:"scenario"`
	Cheapest     float64 `json:"cheapest_cost"`
	More         float64 `json:"costs_more"`
}

type crossoverPairJSON struct {
	First   string       `json:"first"`
	Second  string       `json:"second"`
	Cheaper string       `json:"cheaper_at_from"` // empty where they cost the same at every volume
	Equal   bool         `json:"same_throughout,omitempty"`
	Changes []changeJSON `json:"changes"`
	Bands   [][2]int     `json:"within_tolerance"` // first and last volume of each stretch
}

type changeJSON struct {
	AnnualVolume int      `json:"annual_volume"`
	Cheaper      string   `json:"cheaper_from_here"`
	First        moveJSON `json:"first"`
	Second       moveJSON `json:"second"`
}

type moveJSON struct {
	Before float64     `json:"before"`
	After  float64     `json:"from_here"`
	Jumped []causeJSON `json:"capacity_steps"`
}

type causeJSON struct {
	Row      string  `json:"row"`
	Quantity string  `json:"quantity"`
	Before   float64 `json:"before"`
	After    float64 `json:"from_here"`
	Unit     string  `json:"unit"`
	Words    string  `json:"words"`
}

// JSON is the cross-overs of the workbook of that name.
func (r *Crossover) JSON(file string) crossoverJSON {
	out := crossoverJSON{Format: "piececost crossover", Version: 1, File: file, Currency: r.Currency, From: r.Found.From, To: r.Found.To,
		Tolerance: r.Ask.Tolerance, ContinuousBatches: r.Continuous, Caution: Caution}
	for i := range r.Plans {
		out.Scenarios = append(out.Scenarios, r.name(i))
	}
	lead := func(l study.Lead) leadJSON { return leadJSON{l.Volume, r.name(l.Second), l.Cost, l.More} }
	for _, s := range r.Found.Envelope {
		out.Cheapest = append(out.Cheapest, stretchJSON{r.name(s.Cheapest), s.From, s.To, lead(s.AtFrom), lead(s.AtTo), lead(s.Least), lead(s.Most)})
	}
	for _, p := range r.Found.Pairs {
		j := crossoverPairJSON{First: r.name(p.First), Second: r.name(p.Second), Cheaper: r.name(p.Cheaper), Equal: p.Equal, Changes: []changeJSON{},
			Bands: [][2]int{}}
		if p.Equal {
			j.Cheaper = ""
		}
		for _, ch := range p.Changes {
			j.Changes = append(j.Changes, changeJSON{ch.Volume, r.name(ch.Cheaper), moveOf(ch.First), moveOf(ch.Second)})
		}
		for _, b := range p.Bands {
			j.Bands = append(j.Bands, [2]int{b.From, b.To})
		}
		out.Pairs = append(out.Pairs, j)
	}
	return out
}

func moveOf(m study.CostMove) moveJSON {
	out := moveJSON{Before: m.Before, After: m.After, Jumped: []causeJSON{}}
	for _, c := range m.Causes {
		out.Jumped = append(out.Jumped, causeOf(c))
	}
	return out
}

func causeOf(c costmodel.Cause) causeJSON {
	return causeJSON{Row: c.Row, Quantity: c.Quantity, Before: c.Before, After: c.After, Unit: c.Unit, Words: c.String()}
}
