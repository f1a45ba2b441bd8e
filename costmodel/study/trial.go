package study

import (
	"context"
	"fmt"
	"math"

	"piececost/costmodel"
)

// A Trial is a part of other grades and gauges: what a piece costs and weighs, what its process and targets say, and how it stands against the
// base, the grade and gauge that it has in the scenario, by screening relations, which verify nothing.
type Trial struct {
	Scenario   *costmodel.Scenario
	Part       string
	Volume     float64
	BaseGrade  string
	BaseGauge  float64 // m
	Grades     []string
	Gauges     []float64 // m
	Cells      [][]TrialCell
	Equal      []TrialEqual // by grade
	Conditions []string     // targets that are computed, by name
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
	Fails     []string              // checks and targets that do not hold, or why it can't be costed
	Targets   []costmodel.Judgement // of what is computed
	Least     bool                  // the least cost of those that pass
	Front     bool                  // of those that pass none costs less and weighs less
	IsBase    bool
}

// Passes tells whether nothing speaks against a cell.
func (c TrialCell) Passes() bool { return len(c.Fails) == 0 }

// A TrialEqual are gauges of a grade at which a panel or section equals the base; NaN where a property is not known. Metres.
type TrialEqual struct {
	Grade                    string
	Stiffness, Dent, Section float64
}

// A properties is what screening relations take of a grade.
type properties struct{ modulus, density, yield float64 }

// Try costs a part in every grade at every gauge. volume is the annual volume, 0 for the scenario's own.
func Try(ctx context.Context, m *costmodel.Model, p *costmodel.Plan, part string, grades []string, gauges []float64, volume float64) (*Trial, error) {
	if volume == 0 {
		volume = p.Scenario.Volume
	}
	out := &Trial{Scenario: p.Scenario, Part: part, Volume: volume, Grades: grades, Gauges: gauges}
	base, err := out.base(p)
	if err != nil {
		return nil, err
	}
	for _, t := range m.Targets {
		if !t.Stated {
			out.Conditions = append(out.Conditions, t.Name())
		}
	}
	known := make([]properties, len(grades))
	err = InOrder(ctx, len(grades)*len(gauges), func() func(int, *triedCell) {
		return func(i int, into *triedCell) { *into = out.try(m, grades[i/len(gauges)], gauges[i%len(gauges)]) }
	}, func(c *triedCell) error {
		at := len(out.Cells) - 1
		if at < 0 || len(out.Cells[at]) == len(gauges) {
			out.Cells = append(out.Cells, nil)
			at++
		}
		if c.known {
			known[at] = c.properties
		}
		c.screen(m, base, out.BaseGauge)
		out.Cells[at] = append(out.Cells[at], c.TrialCell)
		return nil
	})
	if err != nil {
		return nil, err
	}
	for i, g := range grades {
		out.Equal = append(out.Equal, equalGauges(m, g, base, known[i], out.BaseGauge))
	}
	out.mark()
	return out, nil
}

// BaseOf is the key of the grade and the gauge, in metres, that a part has in a scenario. The error says what it lacks.
func BaseOf(p *costmodel.Plan, part string) (grade string, gauge float64, err error) {
	t := Trial{Scenario: p.Scenario, Part: part, Volume: p.Scenario.Volume}
	_, err = t.base(p)
	return t.BaseGrade, t.BaseGauge, err
}

// base notes the grade and gauge that a part has.
func (t *Trial) base(p *costmodel.Plan) (properties, error) {
	d := p.Detail(t.Volume)
	for _, e := range d.Entries("part") {
		if e.Record().Key != t.Part {
			continue
		}
		gauge, ok := e.Value("gauge")
		grade, has := e.Follow("material")
		if !ok || !has {
			return properties{}, fmt.Errorf("part %s has no gauge or no grade, so that there is nothing to try against", t.Part)
		}
		t.BaseGrade, t.BaseGauge = grade.Record().Key, gauge
		return propertiesOf(grade), nil
	}
	return properties{}, fmt.Errorf("there is no part %q in scenario %s", t.Part, p.Scenario.Name)
}

func propertiesOf(grade costmodel.Entry) properties {
	value := func(names ...string) float64 {
		for _, name := range names {
			if v, ok := grade.Value(name); ok {
				return v
			}
		}
		return math.NaN()
	}
	return properties{value("elastic_modulus"), value("density"), value("minimum_yield_strength", "yield_strength")}
}

// A triedCell is a cell with the properties of its grade.
type triedCell struct {
	TrialCell
	properties
	known bool
}

// try costs a cell.
func (t *Trial) try(m *costmodel.Model, grade string, gauge float64) triedCell {
	c := triedCell{TrialCell: TrialCell{Grade: grade, Gauge: gauge, PieceCost: math.NaN(), NetMass: math.NaN(), PartMass: math.NaN()}}
	c.IsBase = grade == t.BaseGrade && math.Abs(gauge-t.BaseGauge) <= 1e-9*t.BaseGauge
	s, err := m.Trying(t.Scenario, t.Part, grade, gauge)
	if err != nil {
		c.Fails = []string{err.Error()}
		return c
	}
	s, ds := m.Rechosen(s, t.Volume)
	var p *costmodel.Plan
	if !ds.HasErrors() {
		p, ds = m.Compile(s, costmodel.CompileOptions{})
	}
	if p == nil {
		for _, d := range ds.Errors() {
			c.Fails = append(c.Fails, d.Summary)
		}
		return c
	}
	d := p.Detail(t.Volume)
	c.PieceCost, c.NetMass = d.Scenario().Must("piece_cost"), d.Scenario().Must("net_mass")
	for _, e := range d.Entries("part") {
		if e.Record().Key == t.Part {
			c.PartMass = e.Must("net_mass_of_this_level")
			if material, ok := e.Follow("material"); ok {
				c.properties, c.known = propertiesOf(material), true
			}
		}
	}
	c.Fails = append(c.Fails, d.Failing(t.Part)...)
	for _, target := range m.Targets {
		if target.Stated {
			continue
		}
		j := target.Judge(d)
		c.Targets = append(c.Targets, j)
		if j.Verdict == costmodel.Missed {
			c.Fails = append(c.Fails, fmt.Sprintf("%s %s %v", target.Name(), map[string]string{"at most": "above", "at least": "below"}[target.Direction()],
				j.Wanted))
		}
	}
	return c
}

// screen holds a cell against the base.
func (c *triedCell) screen(m *costmodel.Model, base properties, gauge float64) {
	got := m.Schema.Screening.Of(screeningInputs(base, gauge, c.properties, c.Gauge))
	c.Stiffness = ifKnown(got.Number("stiffness_ratio"), base.modulus, c.modulus)
	c.Dent = ifKnown(got.Number("dent_resistance_ratio"), base.yield, c.yield)
	c.Section = ifKnown(got.Number("section_strength_ratio"), base.yield, c.yield)
}

func equalGauges(m *costmodel.Model, grade string, base, known properties, gauge float64) TrialEqual {
	got := m.Schema.Screening.Of(screeningInputs(base, gauge, known, gauge))
	return TrialEqual{grade, ifKnown(got.Number("gauge_of_equal_stiffness"), base.modulus, known.modulus),
		ifKnown(got.Number("gauge_of_equal_dent_resistance"), base.yield, known.yield),
		ifKnown(got.Number("gauge_of_equal_section_strength"), base.yield, known.yield)}
}

func screeningInputs(base properties, baseGauge float64, of properties, gauge float64) map[costmodel.ComparedName]float64 {
	return map[costmodel.ComparedName]float64{"base_modulus": base.modulus, "base_density": base.density, "base_yield_strength": base.yield,
		"base_gauge": baseGauge, "modulus": of.modulus, "density": of.density, "yield_strength": of.yield, "gauge": gauge}
}

// ifKnown is a value where the properties that it rests on are known.
func ifKnown(v float64, of ...float64) float64 {
	for _, x := range of {
		if !(x > 0) {
			return math.NaN()
		}
	}
	return v
}

// mark finds the least cost, and the front of cost against mass, among the cells that pass.
func (t *Trial) mark() {
	var all []*TrialCell
	for i := range t.Cells {
		for k := range t.Cells[i] {
			if c := &t.Cells[i][k]; c.Passes() && !math.IsNaN(c.PieceCost) {
				all = append(all, c)
			}
		}
	}
	var least *TrialCell
	for _, c := range all {
		if least == nil || c.PieceCost < least.PieceCost {
			least = c
		}
		c.Front = true
		for _, o := range all {
			if o.PieceCost <= c.PieceCost && o.NetMass <= c.NetMass && (o.PieceCost < c.PieceCost || o.NetMass < c.NetMass) {
				c.Front = false
			}
		}
	}
	if least != nil {
		least.Least = true
	}
}
