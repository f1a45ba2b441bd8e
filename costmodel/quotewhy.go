package costmodel

import (
	"strings"

	"piececost/costmodel/plan"
	"piececost/costmodel/table"
)

// AssumedFor lists by label what a quantity of a quote rests on that the supplier did not state, so that the request or the should-cost
// stands in: inputs that take over the request's, and equations that take the place of one that leads to nothing. What stands among
// the stops is not looked into.
func (p *Plan) AssumedFor(e Entry, name string, stops map[string]bool) (out []string) {
	p.walkFrom(e, name, func(at plan.Entity, n int32) bool {
		q := p.graph.rows[at].scope.Quantities[n]
		if stops[q.Name] && q.Name != name {
			return false
		}
		if o := p.Origin(at, n); (o.Assumed() || strings.HasSuffix(q.Name, "_elsewhere") && o.Kind == FromEquation) && p.elsewhere(o) {
			out = append(out, q.Label)
		}
		return true
	})
	return out
}

// elsewhere tells whether an equation in use names the request or the should-cost.
func (p *Plan) elsewhere(o Origin) bool {
	for _, use := range o.Definition.Equation.Expr.Names {
		if strings.HasPrefix(use.Path, "request.") || strings.HasPrefix(use.Path, "model_") || strings.HasPrefix(use.Path, "lane_") {
			return true
		}
	}
	return false
}

// LackedFor lists by label what a quantity of a row needs that is not there.
func (p *Plan) LackedFor(e Entry, name string) []string {
	g := p.graph
	n, ok := g.rows[e.entity].scope.index[name]
	if !ok {
		return nil
	}
	return g.missingFor(p.plan, g.rows[e.entity].first+n)
}

// walkFrom visits a quantity and all that it rests on, each once, along the branches that were taken, below those for which visit is true.
func (p *Plan) walkFrom(e Entry, name string, visit func(plan.Entity, int32) bool) {
	g := p.graph
	n, ok := g.rows[e.entity].scope.index[name]
	if !ok {
		return
	}
	seen := map[plan.Cell]bool{}
	x := explainer{d: e.detail}
	var walk func(c plan.Cell)
	walk = func(c plan.Cell) {
		if seen[c] || !p.plan.Has(c) {
			return
		}
		seen[c] = true
		at, quantity := plan.Locate(g, c)
		if !visit(at, quantity) {
			return
		}
		def, err := g.Define(at, quantity)
		if err != nil || def.Kind != plan.Computed {
			return
		}
		_, used := x.taken(at, def.Eq, def.Eq.Expr.Root)
		for _, name := range used {
			ref := def.Eq.Refs[name.Ref]
			to, _ := g.ends(at, ref)
			for _, t := range to {
				walk(g.rows[t].first + ref.Quantity)
			}
		}
	}
	walk(g.rows[e.entity].first + n)
}

// A CellOf is an input cell of a quote or line that a quantity rests on.
type CellOf struct {
	Record *Record
	Name   string
	Label  string
	Value  table.Value
	Unit   string // "currency" for that of the quote
}

// CellsOf lists the input cells of a quote and its lines that a quantity of a row rests on, along the branches that were taken: those
// behind facts too.
func (q *Quotes) CellsOf(p *Plan, e Entry, of *Quote, name string) (out []CellOf) {
	add := func(r *Record, name string) {
		for _, c := range out {
			if c.Record == r && c.Name == name {
				return
			}
		}
		if c, ok := q.cellOf(r, name); ok {
			out = append(out, c)
		}
	}
	p.walkFrom(e, name, func(at plan.Entity, n int32) bool {
		r := &p.graph.rows[at]
		quantity := r.scope.Quantities[n]
		rows := q.rowsOf(of, r)
		if len(rows) == 0 {
			return true
		}
		add(rows[0], quantity.Name)
		if d := r.scope.definition(r.variant, n); d != nil {
			for _, from := range d.Item.From {
				for _, row := range append(rows, of.Lines...) {
					add(row, from)
				}
			}
		}
		return true
	})
	return out
}

// rowsOf finds the quote or line that a row of the plan is; nothing where it is another's.
func (q *Quotes) rowsOf(of *Quote, r *row) []*Record {
	if r.scope.Name == "quote" && r.rec.Key == of.Key {
		return []*Record{of.Record}
	}
	for _, l := range of.Lines {
		if r.scope.Name == "quote line" && l.Key == r.rec.Key {
			return []*Record{l}
		}
	}
	return nil
}

// cellOf is a cell of a quote or line as it stands, of a number or of words.
func (q *Quotes) cellOf(r *Record, name string) (CellOf, bool) {
	sc := q.inner.Schema.byName[r.Scope]
	if n, known := sc.index[name]; known {
		f := r.field(n)
		if f == nil {
			return CellOf{}, false
		}
		return CellOf{r, name, sc.Quantities[n].Label, f.value, f.unit.Text}, true
	}
	if text := r.Text(name); text != "" {
		return CellOf{r, name, table.Label(name), table.Value{Kind: table.Text, Text: text, Place: r.TextPlace(name)}, ""}, true
	}
	return CellOf{}, false
}

// OwnChecksOf lists the checks of the sheet Processes that do not hold for a quote or line.
func (p *Plan) OwnChecksOf(e Entry) (out []*Check) {
	r := &p.graph.rows[e.entity]
	for _, n := range r.scope.checks {
		c := r.scope.Quantities[n].Check
		if c.place.Sheet != "" && p.plan.Has(r.first+n) && e.detail.values[r.first+n] == 0 {
			out = append(out, c)
		}
	}
	return out
}
