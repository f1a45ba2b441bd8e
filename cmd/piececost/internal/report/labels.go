package report

import (
	"fmt"
	"math"
	"strings"

	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel"
	"piececost/costmodel/study"
)

// planNames are the names of scenarios.
func planNames(plans []*costmodel.Plan) []string {
	var out []string
	for _, p := range plans {
		out = append(out, p.Scenario.Name)
	}
	return out
}

// unitOf writes the unit of an input's cells, empty for a plain number.
func unitOf(m *costmodel.Model, v *costmodel.Varied) string { return m.UnitWords(v) }

// inputLabel writes an input with its unit.
func inputLabel(m *costmodel.Model, v *costmodel.Varied) string {
	if u := unitOf(m, v); u != "" {
		return v.Input.String() + " [" + u + "]"
	}
	return v.Input.String()
}

// volumeWords says at which volume a measure is taken.
func volumeWords(q study.Measure) string {
	switch {
	case q.Volume > 0:
		return "at " + term.Volume(q.Volume) + " per year"
	case q.Against == nil || q.Against.Volume == q.Scenario.Volume:
		return "at " + term.Volume(q.Scenario.Volume) + " per year"
	}
	return fmt.Sprintf("%s at %s per year, %s at %s", q.Scenario.Name, term.Volume(q.Scenario.Volume), q.Against.Name, term.Volume(q.Against.Volume))
}

// ScenarioTitle is the title of a scenario, whose name may begin with that word itself.
func ScenarioTitle(name string) string {
	if strings.HasPrefix(strings.ToLower(name), "scenario") {
		return name
	}
	return "Scenario " + name
}

// AxisLabels writes the values of an axis.
func AxisLabels(values []float64) []string {
	out := make([]string, len(values))
	for i, v := range values {
		out[i] = term.Figure(v)
	}
	return out
}

// shownAll turns values of an axis into the unit of the cells.
func shownAll(v *costmodel.Varied, values []float64) []float64 {
	out := make([]float64, len(values))
	for i, x := range values {
		out[i] = v.Shown(x)
	}
	return out
}

// innerPoints says that the values between the ends of an axis are rounded; empty where none is: in even steps, or by ratio.
func innerPoints(axes ...[]float64) string {
	for _, v := range axes {
		if !spaced(v) {
			return "points between the ends are rounded; costs are those at the points shown\n"
		}
	}
	return ""
}

// spaced tells whether values go in even steps, or by an even ratio.
func spaced(v []float64) bool {
	even, ratio := true, true
	for i := 2; i < len(v); i++ {
		d := v[i] - v[i-1]
		even = even && math.Abs(d-(v[1]-v[0])) <= 1e-9*math.Abs(d)
		ratio = ratio && math.Abs(v[i]*v[0]-v[i-1]*v[1]) <= 1e-9*math.Abs(v[i]*v[0])
	}
	return even || ratio
}
