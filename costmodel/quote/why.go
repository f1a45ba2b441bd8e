package quote

import (
	"math"
	"strings"

	"piececost/costmodel"
)

// An Explanation says at which value of one assumption alone the should-cost would be what was quoted, all else as modelled.
type Explanation struct {
	Target        string // the price without tools, or an element of it
	Quoted, Model float64
	Single        []Assumption
	Pairs         []Pair // where no single one explains it plausibly
}

// Of is what is explained.
func (e Explanation) Of() string { return e.Target }

// A Verdict says whether an assumption explains a difference.
type Verdict string

// The verdicts.
const (
	Plausible Verdict = "plausible"
	Outside   Verdict = "outside its range"
	NoneFound Verdict = "none explains it"
)

// An Assumption of the should-cost and the factor on it that explains a quote. Where it is one number of the model, Base and Needed show it
// in Unit; else they are NaN and the factor is all there is to say.
type Assumption struct {
	Name         string
	Factor       float64 // NaN where none explains it
	Base, Needed float64
	Unit         string
	Low, High    float64 // of the plausible range, in Unit; NaN where none is known
	Verdict      Verdict

	lowest, highest float64 // factors that are a habit of the trade
}

// PlausibleFactors are the factors between which an assumption is plausible: by the habits of the trade, and by the range of its number where one
// is known.
func (x Assumption) PlausibleFactors() (low, high float64) {
	low, high = x.lowest, x.highest
	if !math.IsNaN(x.Low) && x.Base > 0 {
		low, high = math.Max(low, x.Low/x.Base), math.Min(high, x.High/x.Base)
	}
	return low, high
}

// A Pair is two assumptions that explain a quote together: what the second must be for each factor on the first.
type Pair struct {
	First, Second string
	Points        []PairPoint
}

// A PairPoint has the factors on both; the second is NaN where none explains it.
type PairPoint struct{ First, Second float64 }

// A lever is an assumption that is varied: inputs that move together by one factor, of which one can be shown as a number.
type lever struct {
	name   string
	inputs []costmodel.Input
	shown  costmodel.Input // whose value is shown; none where Sheet is empty
	low    float64         // plausible factors where no range of a number is known
	high   float64
	on     []string // targets that it moves: price, process, material
}

// levers are the assumptions of a should-cost. Rejects, times and rates move for the whole route, each from its own value.
func (c *ShouldCost) levers() []lever {
	var steps, machines, plants []string
	seen := map[string]bool{}
	for _, op := range c.Detail.Entries("operation") {
		steps = append(steps, op.Record().Key)
		for _, to := range []struct {
			name string
			list *[]string
		}{{"machine", &machines}, {"plant", &plants}} {
			if e, ok := op.Follow(to.name); ok && !seen[to.name+e.Record().Key] {
				seen[to.name+e.Record().Key] = true
				*to.list = append(*to.list, e.Record().Key)
			}
		}
	}
	by := func(sheet string, rows []string, column string) costmodel.Input {
		return costmodel.Input{Sheet: sheet, Row: strings.Join(rows, ", "), Column: column, By: costmodel.ByFactor}
	}
	longest := steps[0]
	if c.Longest != nil {
		longest = c.Longest.Record().Key
	}
	one := func(sheet, row, column string) costmodel.Input {
		return costmodel.Input{Sheet: sheet, Row: row, Column: column}
	}
	part := []string{c.Part.Record().Key}
	out := []lever{
		{"cycle time", []costmodel.Input{by("Operations", steps, "cycle_time")}, one("Operations", longest, "cycle_time"), 0.85, 1.25,
			[]string{price, process}},
		{"labour rate", []costmodel.Input{by("Plants", plants, "direct_labour_rate")}, one("Plants", plants[0], "direct_labour_rate"), 0.8, 1.25,
			[]string{price, process}},
		{"machine rate", []costmodel.Input{by("Operations", steps, "equipment"), by("Operations", steps, "building"), by("Operations", steps, "energy"),
			by("Machines", machines, "annual_maintenance")}, one("Machines", machineOf(c, machines), "machine_hour_rate"), 0.7, 1.4, []string{price, process}},
		{"reject rate", []costmodel.Input{by("Operations", steps, "reject_rate")}, one("Operations", longest, "reject_rate"), 0.5, 1.5,
			[]string{price, process}},
		{"capacity utilisation", []costmodel.Input{by("Plants", plants, "planned_capacity_utilisation")},
			one("Plants", plants[0], "planned_capacity_utilisation"), 0.8, 1.15, []string{price, process}},
		{"annual volume", nil, costmodel.Input{}, 0.5, 2, []string{price, process}},
	}
	if grade, ok := c.Part.Follow("material"); ok {
		key := []string{grade.Record().Key}
		out = append(out,
			lever{"gross mass", []costmodel.Input{by("Parts", part, "gross_mass")}, one("Parts", part[0], "gross_mass"), 0.97, 1.05,
				[]string{price, material}},
			lever{"material price", []costmodel.Input{by("Materials", key, "price")}, one("Materials", key[0], "price"), 0.95, 1.05,
				[]string{price, material}})
	}
	return out
}

func machineOf(c *ShouldCost, machines []string) string {
	if c.Longest != nil {
		if m, ok := c.Longest.Follow("machine"); ok {
			return m.Record().Key
		}
	}
	if len(machines) > 0 {
		return machines[0]
	}
	return ""
}

// The targets that are explained.
const (
	price    = "price without tools"
	process  = "process, set-up and rejects"
	material = "material"
)
