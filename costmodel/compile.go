package costmodel

import (
	"errors"
	"fmt"

	"piececost/costmodel/plan"
	"piececost/costmodel/table"
)

// A Plan is a scenario compiled: immutable, safe to share. Volumes go in by Runner, Sweep or Detail.
type Plan struct {
	Model    *Model
	Scenario *Scenario

	graph  *graph
	plan   *plan.Compiled
	sweep  *plan.Program
	varied []Varied

	options CompileOptions // as it was compiled
}

// CompileOptions change how a scenario is compiled.
type CompileOptions struct {
	plain bool // make every step a column instead of folding what is linear; tests compare with it
	// Vary makes input columns of these beside the annual volume (Lanes fills them). A varied value takes the place of what
	// the cell, the library or the scenario's own change says. What decides the structure can't be varied.
	Vary []Input
	Fix  []Fixed // values that hold whatever cells and equations say
	// ContinuousBatches leaves set-up rounding out: the number of batches is a fraction instead of whole.
	ContinuousBatches bool
}

// continuous is a graph whose set-ups are fractions.
type continuous struct{ *graph }

// Define implements plan.Graph.
func (g continuous) Define(e plan.Entity, quantity int32) (plan.Definition, error) {
	d, err := g.graph.Define(e, quantity)
	d.Fractions = g.rows[e].scope.Quantities[quantity].counts == setUps
	return d, err
}

// Compile builds and compiles a scenario of the model. With errors among the diagnostics, or those of the model, the plan
// is nil; even then everything that is wrong with the scenario's structure is found.
func (m *Model) Compile(s *Scenario, o CompileOptions) (*Plan, table.Diagnostics) {
	var ds table.Diagnostics
	st := m.resolve(s, &ds)
	if st.byKey[s.Product] == nil {
		return nil, ds
	}
	g := newGraph(m, st, o.Fix)
	varied := g.vary(o.Vary, &ds)
	g.failedChecks(&ds)
	var seen plan.Graph = g
	if o.ContinuousBatches {
		seen = continuous{g}
	}
	p, errs := plan.Compile(seen, g.wanted(), plan.Options{Inputs: g.columns, Plain: o.plain, Optional: g.optional(), Quiet: func() { g.quiet = true }})
	ds = append(ds, unexplained(errs, ds, len(m.impossible) > 0)...)
	if ds.HasErrors() || m.Diagnostics.HasErrors() {
		return nil, ds
	}
	out := &Plan{Model: m, Scenario: s, graph: g, plan: p, varied: varied, options: o}
	out.sweep = p.Program(out.scenarioCells(m.Schema.sweepQuantities()))
	return out, append(ds, out.doubtful()...)
}

// unexplained turns errors of package plan into diagnostics, without those that only follow from what is reported already:
// a circle of the bill makes circles of quantities, a missing material makes absent prices, an impossible share makes
// divisions by zero.
func unexplained(errs []error, reported table.Diagnostics, impossible bool) table.Diagnostics {
	has := map[string]bool{}
	for _, d := range reported {
		has[d.Code] = has[d.Code] || d.Severity == table.Error
	}
	has["check"] = has["check"] || has["possible"] || impossible
	var out table.Diagnostics
	for _, err := range errs {
		var d table.Diagnostic
		if !errors.As(err, &d) {
			d = table.Diagnostic{Code: "internal", Severity: table.Error, Summary: err.Error()}
		}
		follows := has["cycle"] && d.Code == "cycle" && len(d.Related) == 0 || has["material"] && d.Code == "absent" || has["check"] && d.Code == "number"
		if !follows {
			out = append(out, d)
		}
	}
	return out
}

// wanted lists the cells without which a scenario is not costed: all quantities of the scenario, and the cost of every
// step.
func (g *graph) wanted() []plan.Cell {
	var out []plan.Cell
	sc := g.rows[1].scope
	for i, q := range sc.Quantities {
		if q.Check == nil {
			out = append(out, g.rows[1].first+int32(i))
		}
	}
	for e := range g.rows {
		if g.rows[e].scope.Name == "operation" {
			n := g.rows[e].scope.MustQuantity("piece_cost")
			out = append(out, g.rows[e].first+n)
		}
	}
	return out
}

// optional lists every other cell that has a definition; those whose inputs are not given are left out in compiling.
func (g *graph) optional() []plan.Cell {
	out := make([]plan.Cell, 0, g.cells)
	for e := range g.rows {
		r := &g.rows[e]
		for n, q := range r.scope.Quantities {
			d := r.scope.definition(r.variant, int32(n))
			if q.Structural || d != nil && d.Equation != nil && !d.Item.OnDemand || r.rec.field(int32(n)) != nil || r.rec.bandedBy(int32(n)) != nil {
				out = append(out, r.first+int32(n))
			}
		}
	}
	return out
}

// failedChecks reports what expressions give outside the possible range and the checks marked as errors that fail, both
// whatever the volume, before they make nonsense of the rest.
func (g *graph) failedChecks(ds *table.Diagnostics) {
	var cells []plan.Cell
	for e := range g.rows {
		r := &g.rows[e]
		for _, n := range r.scope.checks {
			if r.scope.Quantities[n].Check.Error && r.scope.definition(r.variant, n) != nil {
				cells = append(cells, r.first+n)
			}
		}
	}
	given := g.expressionCells()
	g.quiet = true
	p, _ := plan.Compile(g, nil, plan.Options{Inputs: g.columns, Optional: append(given, cells...)})
	g.quiet = false
	for _, c := range given {
		if v, ok := p.Constant(c); ok {
			g.impossibleCell(c, v, ds)
		}
	}
	for _, c := range cells {
		if v, ok := p.Constant(c); ok && v == 0 {
			if e, _ := plan.Locate(g, c); !g.holdsImpossible(e) {
				*ds = append(*ds, g.withSizes(g.checkFailure(c), c, p))
			}
		}
	}
}

// checkFailure words a check that does not hold, at the first cell of its own row that it looks at.
func (g *graph) checkFailure(c plan.Cell) table.Diagnostic {
	e, n := plan.Locate(g, c)
	r := &g.rows[e]
	check := r.scope.Quantities[n].Check
	at := r.rec.Place
	if def, err := g.byEquation(r, n); err == nil {
		for _, ref := range def.Eq.Refs {
			if len(ref.Hops) == 0 && !ref.Fixed {
				if p := g.placeOf(e, ref.Quantity); p != r.rec.Place {
					at = p
					break
				}
			}
		}
	}
	d := table.Diagnostic{Code: "check", Severity: table.Warning, Summary: fmt.Sprintf("%s: %s", g.label(e), check.Say), Place: at,
		Scenario: g.st.scenario.Name}
	if check.Error {
		d.Severity = table.Error
	}
	return d
}

// doubtful lists the checks that do not hold at the scenario's own volume.
func (p *Plan) doubtful() table.Diagnostics {
	var ds table.Diagnostics
	values := p.plan.Values(p.inputsAt(p.Scenario.Volume))
	p.impossible(values, &ds)
	for e := range p.graph.rows {
		r := &p.graph.rows[e]
		for _, n := range r.scope.checks {
			if c := r.first + n; r.scope.definition(r.variant, n) != nil && p.plan.Has(c) && values[c] == 0 {
				ds = append(ds, p.graph.checkFailure(c))
			}
		}
	}
	return ds
}

func (p *Plan) scenarioCells(names []string) []plan.Cell {
	out := make([]plan.Cell, len(names))
	for i, n := range names {
		out[i] = p.graph.rows[1].first + p.graph.rows[1].scope.MustQuantity(n)
	}
	return out
}
