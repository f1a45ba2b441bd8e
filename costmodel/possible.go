package costmodel

import (
	"fmt"
	"math"
	"slices"

	"piececost/costmodel/kernel"
	"piececost/costmodel/plan"
	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// Largest and smallest size of a number that a cell may hold, 0 apart. Products of several of them still are numbers, so that
// what is accepted can be costed.
const (
	mostNumber  = 1e15
	leastNumber = 1e-15
)

// PossibleNumber tells whether a number can be computed with where nothing is known of it but that it is one.
func PossibleNumber(v float64) bool {
	return v == 0 || math.Abs(v) >= leastNumber && math.Abs(v) <= mostNumber
}

// Beyond words that a number is not possible, as it is written.
func Beyond(v float64) string { return fmt.Sprintf("%.6g, beyond what can be computed with", v) }

// checkPossible reports given numbers outside the possible range of their definition, each at its cell: those of the sheets
// and those that scenarios and overrides set.
func (m *Model) checkPossible() {
	for _, sc := range m.Schema.Scopes {
		for _, r := range m.records[sc.Name] {
			for i := range r.fields {
				f := &r.fields[i]
				m.possibleCell(sc, m.variantOf(sc, r), f.quantity, f.value, f.unit, f.def)
			}
		}
	}
	for _, s := range m.Scenarios {
		sc := m.Schema.byName["scenario"]
		for i := range s.record.fields {
			f := &s.record.fields[i]
			m.possibleCell(sc, nil, f.quantity, f.value, f.unit, f.def)
		}
		s.eachChange(m, func(sc *Scope, r *Record, quantity int32, ch change) {
			m.possibleCell(sc, m.variantIn(s, sc, r), quantity, ch.value, ch.unit, ch.def)
		})
	}
}

// eachChange calls f for every quantity that the scenario changes, in the order of the sheets.
func (s *Scenario) eachChange(m *Model, f func(sc *Scope, r *Record, quantity int32, ch change)) {
	visit := func(sc *Scope, r *Record) {
		c := s.changes[r]
		if c == nil {
			return
		}
		for n := range sc.Quantities {
			if ch, ok := c.fields[int32(n)]; ok {
				f(sc, r, int32(n), ch)
			}
		}
	}
	for _, sc := range m.Schema.Scopes {
		for _, r := range m.records[sc.Name] {
			visit(sc, r)
		}
	}
	for _, r := range m.sizedChanged(s) {
		visit(m.Schema.byName[machineScope], r)
	}
	visit(m.Schema.byName["scenario"], s.record)
}

// variantIn is variantOf with what the scenario changes of the row's form or process.
func (m *Model) variantIn(s *Scenario, sc *Scope, r *Record) *Variant {
	if sc.Name == gradeScope {
		designation, _ := s.text(r, gradeColumn)
		return m.gradeVariant(designation, r.Key)
	}
	column := variantColumns[sc.Name]
	if column == "" {
		return nil
	}
	name, _ := s.text(r, column)
	return sc.variant(name)
}

func hasPossible(it *Item) bool { return it.Possible.Known() }

// possible is the possible range of a quantity in coherent units, unknown where the library states none.
func (sc *Scope) possible(v *Variant, quantity int32) Interval {
	if d := sc.ranged(v, quantity, hasPossible); d != nil {
		return d.Item.Possible.coherent(d.Unit)
	}
	return Interval{}
}

// possibleCell reports a number that a cell gives and that can't be.
func (m *Model) possibleCell(sc *Scope, v *Variant, quantity int32, cell table.Value, heading units.Unit, def fieldDefinition) {
	if def.failed || def.Kind != plan.Given || len(sc.Quantities[quantity].Options) > 0 || sc.Quantities[quantity].Flag {
		return
	}
	if m.impossible[cell.Place] {
		return // of several rows that a scenario changes alike
	}
	if d := m.rangeError(sc, v, quantity, cell, heading, def.Value); d != nil {
		m.impossible[cell.Place] = true
		m.Diagnostics.Add(d.Code, d.Place, d.Summary, d.Help)
	}
}

// rangeError words that a coherent value of a cell is not possible, or is nil.
func (m *Model) rangeError(sc *Scope, v *Variant, quantity int32, cell table.Value, heading units.Unit, value float64) *table.Diagnostic {
	d := &table.Diagnostic{Code: "possible", Severity: table.Error, Place: cell.Place, Help: "check the value and its unit"}
	label := sc.Quantities[quantity].Label
	def := sc.ranged(v, quantity, hasPossible)
	in := Interval{}
	if def != nil {
		in = def.Item.Possible.coherent(def.Unit)
	}
	size := math.Abs(value)
	if value != 0 && !(size >= leastNumber) || !in.Known() && size > mostNumber {
		if heading.Factor > 0 && cell.Kind == table.Number {
			value = heading.Shown(value) // as it stands in the cell
		}
		d.Summary = label + " is " + Beyond(value)
		return d
	}
	if !in.Known() || in.Contains(value) {
		return nil
	}
	shown := shownIn(def, cell, heading)
	unit := m.unitAfter(shown)
	bare := shown.Shown(value)
	d.Summary = fmt.Sprintf("%s is %s%s, but it must be %s", label, shortNumber(bare), unit, in.shown(shown).demand(bare, unit))
	return d
}

// holdsImpossible tells whether a number that can't be, which is reported, stands in a row: what its checks find follows
// from it.
func (g *graph) holdsImpossible(e plan.Entity) bool {
	r := &g.rows[e]
	if len(g.model.impossible)+len(g.impossible) == 0 {
		return false
	}
	bad := func(at table.Place) bool { return g.model.impossible[at] || g.impossible[at] }
	for i := range r.rec.fields {
		if bad(g.placeOf(e, r.rec.fields[i].quantity)) {
			return true
		}
	}
	if c := g.st.scenario.changesOf(r.rec); c != nil {
		for _, ch := range c.fields {
			if bad(ch.value.Place) {
				return true
			}
		}
	}
	return false
}

// impossible reports what expressions in cells give outside the possible range at the volume of the values, where that
// depends on the volume; the rest was reported before. At the other volumes of the case it is a warning.
func (p *Plan) impossible(values []float64, ds *table.Diagnostics) {
	var cells []plan.Cell
	for _, c := range p.graph.expressionCells() {
		if p.plan.Has(c) && p.plan.Varying(c) {
			cells = append(cells, c)
			p.graph.impossibleCell(c, values[c], ds)
		}
	}
	if len(cells) == 0 {
		return
	}
	b := newLaneBlock(p.plan.Program(cells), len(cells), kernel.Lanes)
	for i, v := range p.inputsAt(p.Scenario.Volume) {
		fill(b.scratch.Column(i), v)
	}
	for volumes := range slices.Chunk(p.Model.Volumes, kernel.Lanes) {
		copy(b.scratch.Column(0), volumes)
		for i, col := range b.Block(len(volumes)) {
			for lane, v := range volumes {
				p.impossibleAt(v, cells[i], col[lane], ds)
			}
		}
	}
}

// impossibleAt is impossibleCell at another volume than the scenario's own: a warning that names it, once a cell.
func (p *Plan) impossibleAt(volume float64, c plan.Cell, value float64, ds *table.Diagnostics) {
	n := len(*ds)
	if p.graph.impossibleCell(c, value, ds); len(*ds) > n {
		d := &(*ds)[n]
		d.Severity = table.Warning
		d.Summary = fmt.Sprintf("at %s per year %s", ShownNumber(volume), d.Summary)
	}
}

// impossibleCell reports what an expression gives, if it can't be.
func (g *graph) impossibleCell(c plan.Cell, value float64, ds *table.Diagnostics) {
	e, n := plan.Locate(g, c)
	r := &g.rows[e]
	at := table.Value{Kind: table.Text, Place: g.placeOf(e, n)}
	d := g.model.rangeError(r.scope, r.variant, n, at, units.Unit{}, value)
	if d == nil || g.impossible[d.Place] { // once for all rows that a change aims at
		return
	}
	d.Scenario = g.st.scenario.Name
	d.Help = "the expression gives it; correct it or one of the quantities it names"
	*ds = append(*ds, *d)
	if g.impossible == nil {
		g.impossible = map[table.Place]bool{}
	}
	g.impossible[d.Place] = true
}

// expressionCells lists the cells that an expression gives, over all rows.
func (g *graph) expressionCells() []plan.Cell {
	var out []plan.Cell
	for e := range g.rows {
		for _, n := range g.expressions(&g.rows[e]) {
			out = append(out, g.rows[e].first+n)
		}
	}
	return out
}

// expressions lists the quantities of a row that an expression in a cell gives, in no case one that is a choice or a flag.
// The library's own equations are not among them: its checks look after these.
func (g *graph) expressions(r *row) []int32 {
	var out []int32
	add := func(n int32, def fieldDefinition) {
		if q := r.scope.Quantities[n]; !def.failed && def.Kind != plan.Given && !q.Flag && len(q.Options) == 0 {
			out = append(out, n)
		}
	}
	changes := g.st.scenario.changesOf(r.rec)
	for i := range r.rec.fields {
		f := &r.rec.fields[i]
		if changes != nil {
			if _, ok := changes.fields[f.quantity]; ok {
				continue
			}
		}
		add(f.quantity, f.def)
	}
	if changes != nil {
		for n := range r.scope.Quantities {
			if ch, ok := changes.fields[int32(n)]; ok {
				add(int32(n), ch.def)
			}
		}
	}
	return out
}
