package costmodel

import (
	"sort"

	"piececost/costmodel/plan"
	"piececost/costmodel/table"
)

// Inputs lists every number that the piece cost and the net mass of a scenario rest on: the cells of the input sheets, what
// the scenario changes, the annual volume, and the library's defaults other than 0. Sheets are in their order, rows and
// columns in that of the scenario.
func (p *Plan) Inputs() []Varied {
	cells := p.needed("piece_cost", "net_mass")
	seen := map[Input]bool{}
	var out []Varied
	for _, c := range cells {
		e, n := plan.Locate(p.graph, c)
		if !p.isNumber(e, n) {
			continue
		}
		v := p.graph.varied(p.graph.inputAt(e, n))
		if !seen[v.Input] {
			seen[v.Input] = true
			out = append(out, v)
		}
	}
	p.graph.baseValues(out)
	sort.SliceStable(out, func(i, j int) bool { return table.SheetRank(out[i].Input.Sheet) < table.SheetRank(out[j].Input.Sheet) })
	return out
}

// needed lists the cells that quantities of the scenario rest on, in their order.
func (p *Plan) needed(names ...string) []plan.Cell {
	seen := map[plan.Cell]bool{}
	var visit func(plan.Cell)
	visit = func(c plan.Cell) {
		if !seen[c] {
			seen[c] = true
			p.plan.Needs(c, visit)
		}
	}
	for _, c := range p.scenarioCells(names) {
		visit(c)
	}
	out := make([]plan.Cell, 0, len(seen))
	for c := range seen {
		out = append(out, c)
	}
	sort.Slice(out, func(i, j int) bool { return out[i] < out[j] })
	return out
}

// isNumber tells whether a cell is a number that somebody gave.
func (p *Plan) isNumber(e plan.Entity, n int32) bool {
	r := &p.graph.rows[e]
	q := r.scope.Quantities[n]
	if q.Structural || q.Flag || len(q.Options) > 0 || q.Check != nil {
		return false
	}
	o := p.Origin(e, n)
	switch o.Kind {
	case FromCell:
		return !restsOnOthers(o.Active)
	case FromChange:
		return !restsOnOthers(o.Active)
	case FromEquation:
		v, constant := p.plan.Constant(r.first + n)
		return o.Definition.Item.Input && constant && v != 0 && len(o.Active.Eq.Refs) == 0
	}
	return false
}

// inputAt names the quantity of a row as an input.
func (g *graph) inputAt(e plan.Entity, n int32) foundInput {
	r := &g.rows[e]
	f := foundInput{layout: layoutOfScope(r.scope.Name), scope: r.scope, quantity: n}
	if r.scope.Name != "scenario" {
		f.records = []*Record{r.rec}
	}
	f.input = Input{Sheet: f.layout.Sheet, Column: r.scope.Quantities[n].Label}
	if r.scope.Name != "case" && r.scope.Name != "scenario" {
		f.input.Row = r.rec.Key
	}
	f.unit = g.model.unitOfCells(&f)
	return f
}

func layoutOfScope(scope string) *table.Layout {
	for i := range table.Layouts {
		if table.Layouts[i].Scope == scope {
			return &table.Layouts[i]
		}
	}
	return nil
}
