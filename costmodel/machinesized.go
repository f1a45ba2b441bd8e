package costmodel

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"piececost/costmodel/plan"
	"piececost/costmodel/table"
)

// The machines of operations whose row of Machines is a price relation: records of their own, made of the row.

type sizedKey struct{ machine, operation *Record }

// sizedFor is the machine that an operation has of a row that is a price relation. It is the same for every scenario.
func (m *Model) sizedFor(machine, operation *Record) *Record {
	if machine.of != nil {
		return machine
	}
	own := *machine
	own.Key, own.of = machine.Key+sizedSuffix+operation.Key, machine
	kept, _ := m.sized.LoadOrStore(sizedKey{machine, operation}, &own)
	return kept.(*Record)
}

// sizedSuffix stands between the key of a row and the operation whose machine is meant: "PRESS for A01/20".
const sizedSuffix = " for "

// sizedNamed finds the machine of an operation's own size by its key, or nil.
func (m *Model) sizedNamed(key string) *Record {
	for i := range key {
		rest, is := strings.CutPrefix(key[i:], sizedSuffix)
		if !is {
			continue
		}
		machines, operations := m.byKey[machineScope][key[:i]], m.byKey["operation"][rest]
		if len(machines) > 0 && len(operations) > 0 && m.sizeOf(machines[0]) != nil {
			return m.sizedFor(machines[0], operations[0])
		}
	}
	return nil
}

// changesOf are what a scenario changes of a row; of a machine of an operation's own size what it changes of that, else of the row that it is made of.
func (s *Scenario) changesOf(r *Record) *changed {
	own, source := s.changes[r], s.changes[r.Source()]
	if own == nil || source == nil || own == source {
		return cmp.Or(own, source)
	}
	both := &changed{fields: maps.Clone(source.fields), texts: maps.Clone(source.texts)}
	maps.Copy(both.fields, own.fields)
	maps.Copy(both.texts, own.texts)
	return both
}

// sizedChanged are the machines of an operation's own size that a scenario changes, by key.
func (m *Model) sizedChanged(s *Scenario) (out []*Record) {
	for r := range s.changes { // sorted below
		if r.of != nil {
			out = append(out, r)
		}
	}
	slices.SortFunc(out, func(a, b *Record) int { return strings.Compare(a.Key, b.Key) })
	return out
}

// SizedFor is what follows the key of its row in the key of a machine of an operation's own size, "" for a row itself.
func (r *Record) SizedFor() string {
	if r.of == nil {
		return ""
	}
	return strings.TrimPrefix(r.Key, r.of.Key)
}

// sizeChecks are the checks of a machine's own that a relation has, as that its series goes far enough.
func (p *choicePlan) sizeChecks(e plan.Entity) (out []choiceCheck) {
	if e < 0 || p.graph.rows[e].variant == nil {
		return nil
	}
	r := &p.graph.rows[e]
	for _, n := range r.scope.checks {
		if r.variant.defined(n) != nil {
			out = append(out, choiceCheck{check: r.scope.Quantities[n].Check, quantity: n, at: e})
		}
	}
	return out
}

// withSizes adds to the failure of a machine's size what is wanted and how far the series goes.
func (g *graph) withSizes(d table.Diagnostic, c plan.Cell, p *plan.Compiled) table.Diagnostic {
	e, n := plan.Locate(g, c)
	r := &g.rows[e]
	if r.scope.Name != machineScope || r.variant == nil || r.variant.defined(n) == nil {
		return d
	}
	wanted, largest := r.scope.MustQuantity(r.variant.Template.size.wanted), r.scope.MustQuantity(r.variant.Template.size.largest)
	q := r.scope.Quantities[largest]
	x := Misfit{Unit: g.model.ShownUnit(q.Unit), factor: q.Unit.Factor}
	var known, also bool
	x.Needs, known = p.Constant(r.first + wanted)
	x.Has, also = p.Constant(r.first + largest)
	if !known || !also {
		return d
	}
	d.Summary = fmt.Sprintf("%s %s: %s", g.label(e), x.Shown(), r.scope.Quantities[n].Check.Say)
	d.Help = "give the relation a longer series where there are such machines, or write another machine for the operation"
	return d
}

// A Sized is the machine of its own size that an operation has in a scenario.
type Sized struct {
	Operation *Record
	Machine   Entry  // the machine; its Record's Source is the row of the sheet
	Size      string // by what it is sized
	Rated     string // the quantity that is sized
	Wanted    string // and the one that is wanted of it, with the reserve
}

// Sized lists the machines that are as large as their operation needs, in the order of the operations.
func (d *Detail) Sized() (out []Sized) {
	machine := relationNamed("operation", machineScope)
	for _, o := range d.Entries("operation") {
		e := d.Plan.graph.Follow(o.entity, machine)
		if e < 0 {
			continue
		}
		if r := &d.Plan.graph.rows[e]; r.rec.of != nil {
			t := r.variant.Template
			out = append(out, Sized{o.Record(), Entry{d, e}, t.Name, t.size.rated, t.size.wanted})
		}
	}
	return out
}

// Says tells which size is taken: "PRESS in a size of 630 kN, 451.9 kN wanted with its reserve".
func (s Sized) Says() string {
	rated, unit, _ := s.Machine.In(s.Rated)
	wanted, _, _ := s.Machine.In(s.Wanted)
	return fmt.Sprintf("%s in a size of %s %s, %s %s wanted with its reserve", s.Machine.Record().Source().Key, figure(rated), unit, figure(wanted), unit)
}

// SizeNotes are notes of the sizes that were taken in the scenarios of plans, each at its operation.
func SizeNotes(plans []*Plan) (ds table.Diagnostics) {
	for _, p := range plans {
		if !p.graph.sizes() {
			continue
		}
		for _, s := range p.Detail(p.Scenario.Volume).Sized() {
			ds = append(ds, table.Diagnostic{Code: "size", Severity: table.Note, Place: s.Operation.TextPlace("machine"), Scenario: p.Scenario.Name,
				Summary: fmt.Sprintf("operation %s: %s", s.Operation.Key, s.Says())})
		}
	}
	return ds
}

// sizes tells whether any machine is of an operation's own size.
func (g *graph) sizes() bool {
	return slices.ContainsFunc(g.st.machines, func(k machineKey) bool { return k.machine.of != nil })
}
