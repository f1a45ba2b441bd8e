package study

import (
	"fmt"
	"math"
	"slices"

	"piececost/costmodel"
)

// A TrialSource says where the value of a cell comes from.
type TrialSource string

// The sources, the first of which there is goes before the others.
const (
	TrialMeasured TrialSource = "measured" // or simulated, as the sheets Trial values and Targets state it
	TrialComputed TrialSource = "computed" // by the program
	TrialScreened TrialSource = "screened" // carried over from what was measured in the base by a screening ratio, which verifies nothing
	TrialUnknown  TrialSource = ""
)

// A TrialTarget is a quantity of a cell beside what is asked for, in its unit.
type TrialTarget struct {
	Name      string // the quantity with its part
	Direction string // at most or at least; "" where nothing is asked for
	Unit      string // "" for a plain number
	Value     float64
	Wanted    float64 // NaN for nothing
	Source    TrialSource
	Verdict   costmodel.Verdict
}

// targets holds a cell against the sheet Targets. What is stated there for a scenario was measured in the grade and gauge that the part has in it.
func (t *Trial) targets(m *costmodel.Model, d *costmodel.Detail, c *triedCell) {
	for _, target := range m.Targets {
		about := target.Part == "" || target.Part == t.Part
		if target.Stated && (!about || t.statedAnew(target.Name())) {
			continue
		}
		j := target.Judge(d)
		one := TrialTarget{Name: target.Name(), Direction: target.Direction(), Unit: unitAfter(m.ShownUnit(target.Unit)), Value: j.Value, Wanted: j.Wanted,
			Source: TrialComputed, Verdict: j.Verdict}
		if target.Stated {
			one.Source = TrialMeasured
			if c.Grade != t.own.grade || !costmodel.SameGauge(c.Gauge, t.own.gauge) {
				one.Value, one.Verdict = math.NaN(), costmodel.NotKnown
			}
		}
		if !target.Stated && one.Verdict == costmodel.NotKnown { // of a part that the scenario has not
			c.Targets = append(c.Targets, one)
			continue
		}
		c.add(one)
	}
}

// statedAnew tells whether the sheet Trial values speaks of a quantity, too; it goes by grade and gauge and holds.
func (t *Trial) statedAnew(name string) bool {
	return slices.ContainsFunc(t.quantities, func(q *costmodel.TrialQuantity) bool { return q.Name() == name })
}

// valueOf is what is known of a quantity in a cell: measured there, else computed, else carried over from the base.
func (t *Trial) valueOf(q *costmodel.TrialQuantity, c *triedCell, i int) (float64, TrialSource) {
	if v := q.Measured(c.Grade, c.Gauge); !math.IsNaN(v) {
		return v, TrialMeasured
	}
	if i < len(c.values) && !math.IsNaN(c.values[i]) {
		return c.values[i], TrialComputed
	}
	base := q.Measured(t.BaseGrade, t.BaseGauge)
	if math.IsNaN(base) && q.Relative() {
		base = 1 / q.Unit.Factor // of a ratio, the base itself
	}
	ratio, ok := map[costmodel.ComparedName]float64{costmodel.StiffnessRatio: c.Stiffness, costmodel.DentRatio: c.Dent,
		costmodel.SectionRatio: c.Section}[q.Ratio]
	if v := base * ratio; ok && !math.IsNaN(v) {
		return v, TrialScreened
	}
	return math.NaN(), TrialUnknown
}

// judge holds a value against what the sheet Trial values asks for in the cell; a measured value stands there without a target, too.
func (t *Trial) judge(m *costmodel.Model, q *costmodel.TrialQuantity, c *triedCell, value float64, source TrialSource) {
	one := TrialTarget{Name: q.Name(), Unit: unitAfter(m.ShownUnit(q.Unit)), Value: value, Wanted: math.NaN(), Source: source, Verdict: costmodel.NotAsked}
	limits := q.Limits(c.Grade, c.Gauge)
	for _, l := range limits {
		one.Direction, one.Wanted = l.Direction(), l.Value
		switch {
		case math.IsNaN(value):
			one.Verdict = costmodel.NotKnown
		case l.Misses(value):
			one.Verdict = costmodel.Missed
		default:
			one.Verdict = costmodel.Met
		}
		c.add(one)
	}
	if len(limits) == 0 && source == TrialMeasured { // what nobody asks for is shown where somebody measured it
		c.add(one)
	}
}

// add takes what a target says of a cell: it fails where it is missed, and is open where nothing is known.
func (c *TrialCell) add(one TrialTarget) {
	if math.IsNaN(one.Value) {
		one.Source = TrialUnknown
	}
	if math.IsNaN(one.Wanted) {
		one.Direction = ""
	}
	switch {
	case one.Verdict == costmodel.Missed:
		c.Fails = append(c.Fails, one.missed())
	case one.Verdict == costmodel.NotKnown && !math.IsNaN(one.Wanted) && !slices.Contains(c.Open, one.Name):
		c.Open = append(c.Open, one.Name)
	}
	c.Targets = append(c.Targets, one)
}

var missWords = map[string]string{"at most": "above", "at least": "below"}

// missed says that a target is missed, and by what kind of value where it is not the program's own.
func (one TrialTarget) missed() string {
	text := fmt.Sprintf("%s %s %s", one.Name, missWords[one.Direction], costmodel.ShownNumber(one.Wanted))
	if one.Unit != "" {
		text += " " + one.Unit
	}
	if one.Source != TrialComputed {
		text += ", " + string(one.Source)
	}
	return text
}

// unitAfter is a unit as it follows a number, nothing for a plain one.
func unitAfter(text string) string {
	if text == "1" {
		return ""
	}
	return text
}

// unused lists measured values that no cell has.
func (t *Trial) unused() {
	tried := func(grade string, gauge float64) bool {
		return grade == t.BaseGrade && costmodel.SameGauge(gauge, t.BaseGauge) || slices.Contains(t.Grades, grade) &&
			slices.ContainsFunc(t.Gauges, func(g float64) bool { return costmodel.SameGauge(g, gauge) })
	}
	for _, q := range t.quantities {
		grades, gauges := q.MeasuredElsewhere(tried)
		for i, g := range grades {
			t.Unused = append(t.Unused, fmt.Sprintf("%s, measured in %s at %s mm", q.Name(), g, costmodel.ShownNumber(1000*gauges[i])))
		}
	}
}
