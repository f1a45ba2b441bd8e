package costmodel

import (
	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// Needs tells of the inputs of a library whether a result may rest on them. One that no result reads is needed only by checks and
// what they show: it may stay empty, and the checks are then said not to have been made.
type Needs struct {
	schema *Schema
	named  map[*Scope]map[int32]bool             // that an equation or check names
	needed map[*Template]map[scopedQuantity]bool // found when first asked for
}

// Needs looks at every process and form of the library.
func (lib *Library) Needs() Needs {
	sys, err := units.NewSystem("EUR", nil)
	if err != nil {
		panic(err) // the code is a known one
	}
	var ds table.Diagnostics
	s := newSchema(lib, sys, nil, nil, &ds)
	return Needs{s, s.namedSomewhere(), map[*Template]map[scopedQuantity]bool{}}
}

// OnlyChecks tells whether an input of a template is read by no result of a row of that template.
func (n Needs) OnlyChecks(t *Template, name string) bool {
	sc := n.schema.byName[t.Scope]
	if sc == nil {
		return false
	}
	if n.needed[t] == nil {
		n.needed[t] = n.schema.neededByResults(t)
	}
	q, ok := sc.index[name]
	return ok && !n.needed[t][scopedQuantity{sc, q}]
}

// Unread tells whether no equation and no check of the library reads an input of a template: it serves expressions of the user's own.
func (n Needs) Unread(t *Template, name string) bool {
	sc := n.schema.byName[t.Scope]
	if sc == nil {
		return false
	}
	q, ok := sc.index[name]
	return ok && !n.named[sc][q]
}

type scopedQuantity struct {
	scope    *Scope
	quantity int32
}

// neededByResults finds every quantity that a result may rest on, where the rows of the template's scope are of the template and
// others of any form or process: the quantities of a scenario and the costs of a step, and what their equations name in turn.
func (s *Schema) neededByResults(t *Template) map[scopedQuantity]bool {
	names := map[scopedQuantity][]scopedQuantity{}
	of := func(sc *Scope, v *Variant) bool { return sc.Name != t.Scope || v == sc.Variants[0] || v.Template == t }
	s.eachReference(of, func(from *Scope, defined int32, to *Scope, quantity int32) {
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
		if d := q.scope.definition(nil, q.quantity); d != nil && d.Item.OnDemand {
			return // where nothing asks for it, nothing it rests on is needed
		}
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
