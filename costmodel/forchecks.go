package costmodel

import (
	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// ForChecks tells whether an input of a template is read by no result, so that only checks and what they show need it: it
// may stay empty, and the checks are then said not to have been made.
func (lib *Library) ForChecks(t *Template, name string) bool {
	sys, err := units.NewSystem("EUR", nil)
	if err != nil {
		return false
	}
	var ds table.Diagnostics
	s := newSchema(lib, sys, nil, &ds)
	sc := s.byName[t.Scope]
	if sc == nil {
		return false
	}
	n, ok := sc.index[name]
	return ok && !s.neededByResults()[scopedQuantity{sc, n}]
}

type scopedQuantity struct {
	scope    *Scope
	quantity int32
}

// neededByResults finds every quantity that a result may rest on, whatever the forms and processes: the quantities of a
// scenario and the costs of a step, and what their equations name in turn.
func (s *Schema) neededByResults() map[scopedQuantity]bool {
	names := map[scopedQuantity][]scopedQuantity{}
	s.eachReference(func(from *Scope, defined int32, to *Scope, quantity int32) {
		key := scopedQuantity{from, defined}
		names[key] = append(names[key], scopedQuantity{to, quantity})
	})
	needed := map[scopedQuantity]bool{}
	var need func(q scopedQuantity)
	need = func(q scopedQuantity) {
		if needed[q] {
			return
		}
		needed[q] = true
		for _, n := range names[q] {
			need(n)
		}
	}
	for i, q := range s.byName["scenario"].Quantities {
		if q.Check == nil {
			need(scopedQuantity{s.byName["scenario"], int32(i)})
		}
	}
	for i, q := range s.byName["operation"].Quantities {
		if q.Name == "piece_cost" {
			need(scopedQuantity{s.byName["operation"], int32(i)})
		}
	}
	return needed
}
