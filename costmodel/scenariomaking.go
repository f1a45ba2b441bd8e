package costmodel

import (
	"fmt"
	"strings"

	"piececost/costmodel/table"
)

// Called tells whether a scenario has a name, or begins with it, whatever the capitals.
func (s *Scenario) Called(name string) bool {
	return strings.HasPrefix(strings.ToLower(s.Name), strings.ToLower(strings.TrimSpace(name)))
}

// Makes tells whether a part is among what a scenario makes.
func (s *Scenario) Makes(m *Model, part string) bool {
	var ds table.Diagnostics
	p := m.resolve(s, &ds).byKey[part]
	return p != nil && p.state == walked
}

// Making is the scenario with another product, in another plant where one is named: what a supplier is asked to make.
func (s *Scenario) Making(m *Model, product, plant string) (*Scenario, error) {
	out := *s
	out.Product = product
	if plant != "" {
		if len(m.byKey["plant"][plant]) == 0 {
			return nil, fmt.Errorf("plant %q is not in the sheet Plants", table.Shortened(plant))
		}
		out.plant = plant
	}
	return &out, nil
}
