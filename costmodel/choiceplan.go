package costmodel

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"piececost/costmodel/plan"
	"piececost/costmodel/table"
)

// A choicePlan is a scenario as a graph of which only what a choice of machines needs is compiled.
type choicePlan struct {
	graph *graph
	plan  *plan.Compiled
}

func newChoicePlan(m *Model, s *Scenario) *choicePlan {
	var ds table.Diagnostics // what is wrong is found when the scenario is compiled
	g := newGraph(m, m.resolve(s, &ds), nil)
	g.columns, g.quiet = 1, true
	return &choicePlan{graph: g}
}

func (p *choicePlan) cell(entity int, quantity string) plan.Cell {
	r := &p.graph.rows[entity]
	return r.first + r.scope.MustQuantity(quantity)
}

// quantitiesOf are cells of the rows of a scope.
func (p *choicePlan) quantitiesOf(scope string, names []string) (out []plan.Cell) {
	for e := range p.graph.rows {
		if p.graph.rows[e].scope.Name != scope {
			continue
		}
		for _, name := range names {
			out = append(out, p.cell(e, name))
		}
	}
	return out
}

// all are the cells of a scope that a cell of a sheet may give.
func (p *choicePlan) all(scope string) (out []plan.Cell) {
	for e := range p.graph.rows {
		r := &p.graph.rows[e]
		if r.scope.Name != scope {
			continue
		}
		for n, q := range r.scope.Quantities {
			if q.Check == nil && !q.Structural {
				out = append(out, r.first+int32(n))
			}
		}
	}
	return out
}

// values computes cells at a volume, as far as they can be.
func (p *choicePlan) values(cells []plan.Cell, volume float64) map[plan.Cell]float64 {
	p.plan, _ = plan.Compile(p.graph, nil, plan.Options{Inputs: 1, Optional: cells})
	all := p.plan.Values([]float64{volume})
	out := map[plan.Cell]float64{}
	for _, c := range cells {
		if p.plan.Has(c) {
			out[c] = all[c]
		}
	}
	return out
}

// givenOf lists the numbers of a machine that cells, changes or defaults give, with their values, and a word that is the same for machines that
// have the same ones and the same choices.
func (p *choicePlan) givenOf(entity int, values map[plan.Cell]float64) (given []int32, own map[int32]float64, key string) {
	r := &p.graph.rows[entity]
	own = map[int32]float64{}
	var word strings.Builder
	for n, q := range r.scope.Quantities {
		quantity := int32(n)
		if q.Check != nil || q.Structural {
			continue
		}
		_, _, written := p.graph.given(r, quantity)
		d := r.scope.definition(r.variant, quantity)
		if !written && (d == nil || !d.Item.Input) {
			continue
		}
		v, there := values[r.first+quantity]
		switch {
		case !there:
		case q.Flag || len(q.Options) > 0:
			fmt.Fprintf(&word, "%d=%v,", n, v)
		default:
			given = append(given, quantity)
			own[quantity] = v
			fmt.Fprintf(&word, "%d:%t,", n, v == 0) // what is 0 may turn off what needs a price that is not there
		}
	}
	return given, own, word.String()
}

// fix has each operation yield what it does with the first candidates, so that no operation moves another, and each machine that stands alone
// have what all machines of the group have.
func (p *choicePlan) fix(g *machineGroup, yields map[*Record]float64) {
	var list []Fixed
	for _, e := range p.standing(g) {
		for _, n := range g.same {
			list = append(list, Fixed{Scope: "machine", Quantity: p.graph.rows[e].scope.Quantities[n].Name, Row: e, Value: g.values[0][n]})
		}
	}
	for e := range p.graph.rows {
		r := &p.graph.rows[e]
		if v, is := yields[r.rec]; is && r.scope.Name == "operation" {
			list = append(list, Fixed{Scope: "operation", Quantity: "good_quantity", Row: plan.Entity(e), Value: v})
		}
	}
	p.graph.fix(list)
}

// vary makes columns of what the machines of a group have given.
func (p *choicePlan) vary(g *machineGroup) {
	p.graph.inputs = map[plan.Cell]moved{}
	for _, e := range p.standing(g) {
		r := &p.graph.rows[e]
		for c, n := range g.given {
			p.graph.inputs[r.first+n] = moved{column: int32(c + 1)}
		}
	}
	p.graph.columns = 1 + len(g.given)
}

// standing are the machines in the plant of a group that stand for one open operation each.
func (p *choicePlan) standing(g *machineGroup) (out []plan.Entity) {
	known := map[*Record]bool{}
	for _, r := range p.graph.model.records["machine"] {
		known[r] = true
	}
	for i, k := range p.graph.st.machines {
		if !known[k.machine] && k.plant.Key == g.plant {
			out = append(out, p.graph.start["machine"]+plan.Entity(i))
		}
	}
	return out
}

// A choiceLanes is what became of an open operation on each machine of a group.
type choiceLanes struct {
	operation *Record
	row       *row
	entity    plan.Entity
	cost      []float64
	checks    []choiceCheck
}

// A choiceCheck is a check of an operation that looks at its machine.
type choiceCheck struct {
	check      *Check
	quantity   int32
	at         plan.Entity // the row whose check it is
	holds      []float64   // nil where it could not be compiled
	needs, has []float64
	factor     float64
	unit       string
	lacks      string      // of a force: what of the machine is not given, where that is all that is missing; of others it is not checked
	own        []plan.Cell // what of the operation it looks at
}

// costByMachine is the quantity of an operation by which machines are compared.
const costByMachine = "cost_on_machine"

// run costs the operations that are meant on all machines of a group.
func (p *choicePlan) run(g *machineGroup, volume float64, meant func(*Record) bool) (out []*choiceLanes) {
	var cells []plan.Cell
	for _, s := range p.graph.st.steps {
		e := p.graph.start["operation"] + int32(s.index)
		r := &p.graph.rows[e]
		if !meant(s.rec) {
			continue
		}
		x := &choiceLanes{operation: s.rec, row: r, entity: e}
		x.checks = append(p.checksOf(e), p.sizeChecks(p.graph.Follow(e, relationNamed("operation", machineScope)))...)
		out = append(out, x)
		cells = append(cells, p.cell(int(e), costByMachine))
		for _, c := range x.checks {
			cells = append(cells, p.cellsOf(c)...)
		}
	}
	p.plan, _ = plan.Compile(p.graph, nil, plan.Options{Inputs: p.graph.columns, Optional: cells})
	column := p.columns(cells, g, volume)
	for _, x := range out {
		x.cost = column[p.cell(int(x.entity), costByMachine)]
		for i := range x.checks {
			p.fill(x, &x.checks[i], column)
		}
	}
	return out
}

// columns computes cells in a lane for each machine of a group; those that can't be compiled are left out.
func (p *choicePlan) columns(cells []plan.Cell, g *machineGroup, volume float64) map[plan.Cell][]float64 {
	cells = slices.DeleteFunc(slices.Clone(cells), func(c plan.Cell) bool { return !p.plan.Has(c) })
	program := p.plan.Program(cells)
	n := len(g.machines)
	scratch := program.Kernel.NewScratch(n)
	fill(scratch.Column(0), volume)
	for i, quantity := range g.given {
		for k := range g.machines {
			scratch.Column(i + 1)[k] = g.values[k][quantity]
		}
	}
	scratch.Run(n)
	out := map[plan.Cell][]float64{}
	for i, o := range program.Outputs {
		if o.Column >= 0 {
			out[cells[i]] = scratch.Column(o.Column)
			continue
		}
		constant := make([]float64, n)
		fill(constant, o.Const)
		out[cells[i]] = constant
	}
	return out
}

// checksOf are the checks of an operation that name its machine.
func (p *choicePlan) checksOf(e plan.Entity) (out []choiceCheck) {
	r := &p.graph.rows[e]
	machine := relationNamed("operation", "machine")
	for _, n := range r.scope.checks {
		d := r.scope.definition(r.variant, n)
		if d == nil || d.Equation == nil {
			continue
		}
		c := choiceCheck{check: r.scope.Quantities[n].Check, quantity: n, at: e}
		looks := false
		for _, ref := range d.Equation.Refs {
			atMachine := len(ref.Hops) == 1 && ref.Hops[0] == machine
			looks = looks || atMachine || p.takesOver(r, ref, machine)
			if to := p.graph.Follow(e, machine); atMachine && c.check.Rule == ForceRule && to >= 0 && p.graph.hasNothing(&p.graph.rows[to], ref.Quantity) {
				c.lacks = p.graph.rows[to].scope.Quantities[ref.Quantity].Label
			} else if !atMachine && len(ref.Hops) == 0 && !ref.Fixed {
				c.own = append(c.own, r.first+ref.Quantity)
			}
		}
		if looks {
			out = append(out, c)
		}
	}
	return out
}

// takesOver tells whether a name of an operation is an input that takes over its machine's figure, as the stroke of a draw that no cell gives.
func (p *choicePlan) takesOver(r *row, ref plan.Ref, machine plan.Relation) bool {
	if len(ref.Hops) > 0 || ref.Fixed || ref.Base {
		return false
	}
	if _, _, given := p.graph.given(r, ref.Quantity); given {
		return false
	}
	d := p.graph.definition(r, ref.Quantity)
	return d != nil && d.Item.Input && d.Equation != nil && len(d.Equation.Refs) == 1 && slices.Equal(d.Equation.Refs[0].Hops, []plan.Relation{machine})
}

// cellsOf are the cells of a check: whether it holds, and what it compares.
func (p *choicePlan) cellsOf(c choiceCheck) []plan.Cell {
	r := &p.graph.rows[c.at]
	out := append([]plan.Cell{r.first + c.quantity}, c.own...)
	for _, path := range []string{c.check.Needs, c.check.Has} {
		if cell, _, ok := p.pathCell(c.at, path); ok {
			out = append(out, cell)
		}
	}
	return out
}

// pathCell is the cell that needs or has of a check names: of the operation, or of a row that a relation leads to.
func (p *choicePlan) pathCell(e plan.Entity, path string) (plan.Cell, *Quantity, bool) {
	if path == "" {
		return 0, nil, false
	}
	if head, last, ok := strings.Cut(path, "."); ok {
		if e = p.graph.Follow(e, relationNamed(p.graph.rows[e].scope.Name, head)); e < 0 {
			return 0, nil, false
		}
		path = last
	}
	r := &p.graph.rows[e]
	n := r.scope.MustQuantity(path)
	return r.first + n, r.scope.Quantities[n], true
}

// fill puts the columns of a check into it.
func (p *choicePlan) fill(x *choiceLanes, c *choiceCheck, column map[plan.Cell][]float64) {
	c.holds = column[p.graph.rows[c.at].first+c.quantity]
	if slices.ContainsFunc(c.own, func(own plan.Cell) bool { return !p.plan.Has(own) }) {
		c.lacks = "" // the operation does not say what it needs
	}
	for _, side := range []struct {
		path string
		into *[]float64
	}{{c.check.Needs, &c.needs}, {c.check.Has, &c.has}} {
		if cell, q, ok := p.pathCell(c.at, side.path); ok {
			*side.into = column[cell]
			c.unit, c.factor = p.graph.model.ShownUnit(q.Unit), q.Unit.Factor
		}
	}
}

// misfit is the first check that does not hold in a lane, or that can't be made since the machine lacks a figure.
func (x *choiceLanes) misfit(machine *Record, lane int) *Misfit {
	for _, c := range x.checks {
		out := &Misfit{Machine: machine, Lacks: c.check.Say, Needs: math.NaN(), Has: math.NaN(), Unit: c.unit, factor: c.factor}
		switch {
		case c.holds == nil && c.lacks != "":
			out.Lacks, out.Ungiven = c.lacks+notGiven, true
			return out
		case c.holds == nil || c.holds[lane] != 0:
			continue
		}
		if c.needs != nil && c.has != nil {
			out.Needs, out.Has = c.needs[lane], c.has[lane]
		}
		return out
	}
	return nil
}

// lacks says what an operation can't be costed without.
func (x *choiceLanes) lacks(p *choicePlan) string {
	n := x.row.scope.MustQuantity(costByMachine)
	if missing := p.graph.missingFor(p.plan, x.row.first+n); len(missing) > 0 {
		return strings.Join(missing, ", ") + notGiven
	}
	return "its cost is no number there"
}
