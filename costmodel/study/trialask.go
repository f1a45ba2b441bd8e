package study

import (
	"fmt"
	"math"

	"piececost/costmodel"
)

// settle fills in what a question leaves open, and finds what of it can't be.
func (t *Trial) settle(m *costmodel.Model, p *costmodel.Plan) error {
	if t.Volume == 0 {
		t.Volume = p.Scenario.Volume
	}
	if err := t.findOwn(p); err != nil {
		return err
	}
	if t.BaseGrade == "" {
		t.BaseGrade = t.own.grade
	}
	if !(t.BaseGauge > 0) {
		t.BaseGauge = t.own.gauge
	}
	if len(t.Grades) == 0 {
		t.Grades = m.MaterialsOfForm(m.FormOf(t.BaseGrade))
	}
	if len(t.Gauges) == 0 {
		for _, share := range []float64{0.8, 0.9, 1, 1.1, 1.2} {
			t.Gauges = append(t.Gauges, math.Round(t.BaseGauge*share*1e5)/1e5)
		}
	}
	if len(t.Grades)*len(t.Gauges) > costmodel.MostTried {
		return fmt.Errorf("a trial has 1 to %d cells; name fewer grades or gauges", costmodel.MostTried)
	}
	for _, grade := range append([]string{t.BaseGrade}, t.Grades...) {
		if _, err := m.Trying(p.Scenario, t.Part, grade, t.BaseGauge); err != nil {
			return err
		}
	}
	return nil
}

// findOwn notes the grade and gauge that the part has in the scenario.
func (t *Trial) findOwn(p *costmodel.Plan) error {
	d := p.Detail(t.Volume)
	for _, e := range d.Entries("part") {
		if e.Record().Key != t.Part {
			continue
		}
		gauge, ok := e.Value("gauge")
		grade, has := e.Follow("material")
		if !ok || !has {
			return fmt.Errorf("part %s has no gauge or no grade, so that there is nothing to try against", t.Part)
		}
		t.own.grade, t.own.gauge = grade.Record().Key, gauge
		return nil
	}
	return fmt.Errorf("there is no part %q in scenario %s", t.Part, p.Scenario.Name)
}

// CountTrial is how many cells a question tries.
func CountTrial(m *costmodel.Model, p *costmodel.Plan, ask TrialAsk) (int, error) {
	t := Trial{Scenario: p.Scenario, TrialAsk: ask}
	err := t.settle(m, p)
	return len(t.Grades) * len(t.Gauges), err
}
