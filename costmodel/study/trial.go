package study

import (
	"context"
	"fmt"
	"math"
	"strings"

	"piececost/costmodel"
)

// A Trial is a part of other grades and gauges: what a piece costs and weighs, what its process and targets say, and how it stands against the
// base, the grade and gauge that it has in the scenario, by screening relations, which verify nothing.
type Trial struct {
	Scenario *costmodel.Scenario
	TrialAsk
	Cells  [][]TrialCell // by grade, then gauge
	Equal  []TrialEqual  // by grade
	Base   TrialCell     // in the base grade and gauge, whether or not they are among those tried
	Unused []string      // measured values of grades and gauges that are not tried

	own struct { // what the part has in the scenario
		grade string
		gauge float64 // m
	}
	quantities []*costmodel.TrialQuantity
}

// A TrialAsk is what is tried: a part in grades (keys of the sheet Materials) at gauges (m), against a base, at an annual volume.
type TrialAsk struct {
	Part      string
	Grades    []string  // none for all of the form that the base's grade has
	Gauges    []float64 // none for five around the base's
	BaseGrade string    // "" for that of the part
	BaseGauge float64   // NaN or 0 for that of the part
	Volume    float64   // 1/yr; 0 for the scenario's own
}

// A TrialCell is a grade at a gauge.
type TrialCell struct {
	Grade     string
	Gauge     float64 // m
	PieceCost float64 // of the scenario's product, model currency; NaN where it can't be costed
	NetMass   float64 // of the product, kg
	PartMass  float64 // of the part, kg
	Stiffness float64 // ratios to the base; NaN where a property is not known
	Dent      float64
	Section   float64
	Fails     []string      // checks and targets that do not hold, or why it can't be costed
	Open      []string      // targets that nothing is known of
	Targets   []TrialTarget // and measured values, in the order of their sheets
	Least     bool          // the least cost of those that pass
	Sure      bool          // the least cost of those that pass and have nothing open
	Front     bool          // of those that pass none costs less and weighs less
	IsBase    bool
}

// Passes tells whether nothing speaks against a cell.
func (c TrialCell) Passes() bool { return len(c.Fails) == 0 }

// Costed tells whether a cell could be costed.
func (c TrialCell) Costed() bool { return !math.IsNaN(c.PieceCost) }

// A TrialEqual are gauges of a grade at which a panel or section equals the base; NaN where a property is not known. Metres.
type TrialEqual struct {
	Grade                    string
	Stiffness, Dent, Section float64
}

// Try costs a part in every grade at every gauge. An error says what of the question can't be: the part, the base, a grade.
func Try(ctx context.Context, m *costmodel.Model, p *costmodel.Plan, ask TrialAsk) (*Trial, error) {
	out := &Trial{Scenario: p.Scenario, TrialAsk: ask, quantities: m.TrialQuantities(ask.Part)}
	if err := out.settle(m, p); err != nil {
		return nil, err
	}
	base := out.try(m, out.BaseGrade, out.BaseGauge)
	if !base.known {
		return nil, fmt.Errorf("the base, %s at %s mm, can't be costed: %s", out.BaseGrade, costmodel.ShownNumber(1000*out.BaseGauge),
			strings.Join(base.Fails, "; "))
	}
	base.finish(out, m, base.properties)
	known := make([]properties, len(out.Grades))
	err := InOrder(ctx, len(out.Grades)*len(out.Gauges), func() func(int, *triedCell) {
		return func(i int, into *triedCell) {
			*into = out.try(m, out.Grades[i/len(out.Gauges)], out.Gauges[i%len(out.Gauges)])
		}
	}, func(c *triedCell) error {
		at := len(out.Cells) - 1
		if at < 0 || len(out.Cells[at]) == len(out.Gauges) {
			out.Cells = append(out.Cells, nil)
			at++
		}
		if c.known {
			known[at] = c.properties
		}
		c.finish(out, m, base.properties)
		out.Cells[at] = append(out.Cells[at], c.TrialCell)
		return nil
	})
	if err != nil {
		return nil, err
	}
	for i, g := range out.Grades {
		out.Equal = append(out.Equal, equalGauges(m, out, g, base.properties, known[i]))
	}
	out.Base = base.TrialCell
	out.unused()
	out.mark()
	return out, nil
}
