package costmodel

import (
	"fmt"
	"math"

	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// A Target is a requirement of the sheet Targets: a quantity that must not go above, or below, a value. What the program
// computes (a quantity of the scenario, or of a part) is compared in every scenario; there a scenario's column may hold a
// target of its own. What it can't compute (a stiffness from a simulation, a test result) has its value in the scenarios'
// columns.
type Target struct {
	Label   string // the quantity as it is called
	Part    string // key of a part; empty for the whole scenario
	Unit    units.Unit
	atLeast bool        // else at most
	Stated  bool        // the scenarios' columns hold the values
	Place   table.Place // of its name
	source  string

	scope    *Scope
	quantity int32
	wanted   float64            // of the column Target, coherent; NaN where it is empty
	columns  map[string]float64 // by scenario: its own target, or the stated value
}

// A Verdict on a target.
type Verdict string

// The verdicts.
const (
	Met      Verdict = "met"
	Missed   Verdict = "missed"
	NotAsked Verdict = "no target" // none for this scenario
	NotKnown Verdict = "not known" // the scenario has no such part, or no value is stated
)

// A Judgement is a target held against a scenario. Values are in the target's unit; NaN where there is none.
type Judgement struct {
	Target  *Target
	Verdict Verdict
	Value   float64
	Wanted  float64
	Over    float64 // value less wanted
	Share   float64 // Over by the size of wanted; NaN where that is 0
}

// Direction returns the direction as the sheet writes it.
func (t *Target) Direction() string {
	if t.atLeast {
		return "at least"
	}
	return "at most"
}

// Name returns the quantity with its part.
func (t *Target) Name() string {
	if t.Part == "" {
		return t.Label
	}
	return t.Label + " of " + t.Part
}

// nearlyMet is the share of a target within which a value counts as equal to it: a rounding of arithmetic, not of money.
const nearlyMet = 1e-9

// Judge holds a target against a scenario at the detail's volume.
func (t *Target) Judge(d *Detail) Judgement {
	none := math.NaN()
	j := Judgement{Target: t, Verdict: NotAsked, Value: t.Unit.Shown(t.valueIn(d)), Wanted: t.Unit.Shown(t.limitIn(d.Plan.Scenario.Name)), Over: none,
		Share: none}
	switch {
	case math.IsNaN(j.Value):
		j.Verdict = NotKnown
		return j
	case math.IsNaN(j.Wanted):
		return j
	}
	j.Over = j.Value - j.Wanted
	if j.Wanted != 0 {
		j.Share = j.Over / math.Abs(j.Wanted)
	}
	j.Verdict = Met
	if t.misses(j.Value, j.Wanted) {
		j.Verdict = Missed
	}
	return j
}

// limitIn is the target's value for a scenario, coherent; NaN for none.
func (t *Target) limitIn(scenario string) float64 {
	if own, ok := t.columns[scenario]; ok && !t.Stated {
		return own
	}
	return t.wanted
}

// misses holds a value against a limit, both in one unit.
func (t *Target) misses(value, limit float64) bool {
	miss := value - limit
	if t.atLeast {
		miss = -miss
	}
	return miss > nearlyMet*math.Abs(limit)
}

// valueIn returns the coherent value of the target's quantity, NaN where the scenario has none.
func (t *Target) valueIn(d *Detail) float64 {
	if t.Stated {
		if v, ok := t.columns[d.Plan.Scenario.Name]; ok {
			return v
		}
		return math.NaN()
	}
	name := t.scope.Quantities[t.quantity].Name
	if t.Part == "" {
		v, _ := d.Scenario().Value(name)
		return v
	}
	for _, l := range d.Entries("part") {
		if l.Record().Key == t.Part {
			v, _ := l.Value(name)
			return v
		}
	}
	return math.NaN()
}

// Shown writes the target for a person: "Piece cost at most 180 EUR".
func (m *Model) ShownTarget(t *Target, wanted float64) string {
	text := fmt.Sprintf("%s %s %s", t.Name(), t.Direction(), ShownNumber(wanted))
	if unit := m.ShownUnit(t.Unit); unit != "" && unit != "1" {
		text += " " + unit
	}
	return text
}
