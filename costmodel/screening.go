package costmodel

import (
	"errors"
	"fmt"

	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// screeningScope is the scope of the file of screening relations; it has no rows of the model.
const screeningScope = "screening"

// The names that Go takes from the screening relations: ratios to the base, and the gauges at which they are 1.
const (
	StiffnessRatio      ComparedName = "stiffness_ratio"
	DentRatio           ComparedName = "dent_resistance_ratio"
	SectionRatio        ComparedName = "section_strength_ratio"
	EqualStiffnessGauge ComparedName = "gauge_of_equal_stiffness"
	EqualDentGauge      ComparedName = "gauge_of_equal_dent_resistance"
	EqualSectionGauge   ComparedName = "gauge_of_equal_section_strength"
)

// newScreening checks the relations by which a grade and gauge are held against a base. They are equations over each other and their
// inputs, as those of a comparison, without cases.
func newScreening(t *Template, sys *units.System) (*Comparison, error) {
	if t == nil {
		return nil, errors.New("equations: no file has the scope " + screeningScope)
	}
	c := &Comparison{index: map[string]int{}, Caution: t.Caution}
	if err := c.read(t.Items, sys); err != nil {
		return nil, err
	}
	for _, name := range []ComparedName{StiffnessRatio, DentRatio, SectionRatio, EqualStiffnessGauge, EqualDentGauge, EqualSectionGauge} {
		if _, ok := c.index[string(name)]; !ok {
			return nil, fmt.Errorf("%s: no quantity %s, which the program asks for by name", t.File, name)
		}
	}
	return c, nil
}

// carrying is the ratio that carries a measured quantity over from the base, and what the quantity is called; "" where none does.
func (c *Comparison) carrying(quantity string) (ComparedName, string) {
	for _, q := range c.items {
		for _, name := range q.item.Carries {
			if table.Normalise(name) == table.Normalise(quantity) {
				return ComparedName(q.item.Name), table.Label(q.item.Carries[0])
			}
		}
	}
	return "", ""
}

// carried lists what the ratios carry over.
func (c *Comparison) carried() (out []string) {
	for _, q := range c.items {
		out = append(out, q.item.Carries...)
	}
	return out
}

// possible is the range of an input, coherent.
func (c *Comparison) possible(name ComparedName) Interval {
	q := c.items[c.index[string(name)]]
	return q.item.Possible.coherent(q.unit)
}
