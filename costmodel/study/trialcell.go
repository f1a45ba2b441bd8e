package study

import (
	"math"

	"piececost/costmodel"
)

// A properties is what screening relations take of a grade.
type properties struct{ modulus, density, yield float64 }

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
	known  bool      // it could be costed, and its grade is known
	values []float64 // that the program computes of the quantities of the trial; NaN for none
}

// try costs a cell.
func (t *Trial) try(m *costmodel.Model, grade string, gauge float64) triedCell {
	c := triedCell{TrialCell: TrialCell{Grade: grade, Gauge: gauge, PieceCost: math.NaN(), NetMass: math.NaN(), PartMass: math.NaN()}}
	c.IsBase = grade == t.BaseGrade && costmodel.SameGauge(gauge, t.BaseGauge)
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
			for _, q := range t.quantities {
				c.values = append(c.values, q.Computed(e))
			}
			c.PartMass = e.Must("net_mass_of_this_level")
			if material, ok := e.Follow("material"); ok {
				c.properties, c.known = propertiesOf(material), true
			}
		}
	}
	c.Fails = append(c.Fails, d.Failing(t.Part)...)
	t.targets(m, d, &c)
	return c
}

// finish holds a cell against the base, and against the sheet Trial values.
func (c *triedCell) finish(t *Trial, m *costmodel.Model, base properties) {
	c.screen(m, t, base)
	for i, q := range t.quantities {
		value, source := t.valueOf(q, c, i)
		t.judge(m, q, c, value, source)
	}
}

// screen holds a cell against the base. Of the base's own grade the properties cancel, known or not.
func (c *triedCell) screen(m *costmodel.Model, t *Trial, base properties) {
	of := c.properties
	if c.Grade == t.BaseGrade {
		base, of = base.cancelled(), base.cancelled()
	}
	got := m.Schema.Screening.Of(screeningInputs(base, t.BaseGauge, of, c.Gauge))
	c.Stiffness = ifKnown(got.Number(costmodel.StiffnessRatio), base.modulus, of.modulus)
	c.Dent = ifKnown(got.Number(costmodel.DentRatio), base.yield, of.yield)
	c.Section = ifKnown(got.Number(costmodel.SectionRatio), base.yield, of.yield)
}

func equalGauges(m *costmodel.Model, t *Trial, grade string, base, of properties) TrialEqual {
	if grade == t.BaseGrade {
		base, of = base.cancelled(), base.cancelled()
	}
	got := m.Schema.Screening.Of(screeningInputs(base, t.BaseGauge, of, t.BaseGauge))
	return TrialEqual{grade, ifKnown(got.Number(costmodel.EqualStiffnessGauge), base.modulus, of.modulus),
		ifKnown(got.Number(costmodel.EqualDentGauge), base.yield, of.yield), ifKnown(got.Number(costmodel.EqualSectionGauge), base.yield, of.yield)}
}

// cancelled are properties that stand on both sides of a ratio: 1 where they are not known.
func (p properties) cancelled() properties {
	known := func(v float64) float64 {
		if v > 0 {
			return v
		}
		return 1
	}
	return properties{known(p.modulus), known(p.density), known(p.yield)}
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
