package costmodel

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"piececost/costmodel/kernel"
	"piececost/costmodel/plan"
	"piececost/costmodel/table"
)

// A Combiner costs combinations of alternatives of one scenario, a block of them at once: each tag of the columns
// Alternative is in or out. It compiles the rows of all alternatives into one plan, in which every row that a tag brings
// in or that hangs on one has an input column that is 1 where it is there; a lane is then a combination. Machines that are
// shared by what is combined are counted as for any scenario. It belongs to one goroutine.
type Combiner struct {
	scenario   *Scenario
	tags       []string // as first written
	number     map[string]int
	union      *union
	scratch    *kernel.Scratch
	outputs    [][]float64 // cost, mass
	checks     []laneCheck
	targets    []laneTarget
	failing    []int32 // columns of rows that fail a check whatever the volume
	impossible bool    // a row that is always there fails one
	in         []bool  // the combination under way
	order      []int   // in which tags are decided
	fixed      []int   // as asked of Each, tags of the same rows as another left out
	alike      [][]int // tags that stand on the very same rows
	overlap    bool    // a row bears tags that stand elsewhere on different rows
	left       []LeftOut
	lane       int
	operations int

	seen map[rowSet]struct{} // rows of the combinations since Each began
	bits []byte              // room for making one
}

// laneCheck is a check marked as error that depends on the volume or on other rows.
type laneCheck struct {
	column int32     // of the row's presence, or AlwaysThere
	holds  []float64 // by lane
}

// combiner is Combiner without the broken rows; c is nil with an error.
func (m *Model) combiner(s *Scenario, broken map[*Record]bool) (*Combiner, table.Diagnostics) {
	var ds table.Diagnostics
	c := &Combiner{scenario: s, number: map[string]int{}}
	for _, t := range m.tagsBelow(s) {
		if key := strings.ToLower(t); c.number[key] == 0 {
			c.tags = append(c.tags, t)
			c.number[key] = len(c.tags)
		}
	}
	c.union = newUnion(m, s, c.number, broken, &ds)
	if c.union == nil || ds.HasErrors() {
		return nil, ds
	}
	g := c.union
	quantities := []string{"piece_cost", "net_mass"}
	var wanted []plan.Cell
	for _, q := range quantities {
		wanted = append(wanted, g.rows[1].first+g.rows[1].scope.MustQuantity(q))
	}
	targets, cells := c.targetCells()
	p, errs := plan.Compile(g, wanted, plan.Options{Inputs: g.columns, Optional: slices.Concat(g.errorChecks(), slices.Concat(cells...)),
		Quiet: func() { g.quiet = true }})
	ds = append(ds, unexplained(errs, ds, len(m.impossible) > 0)...)
	if ds.HasErrors() || m.Diagnostics.HasErrors() {
		return nil, append(ds, m.Diagnostics...)
	}
	c.prepare(p, wanted, targets, cells)
	c.findAlike()
	return c, ds
}

// tagsBelow lists the tags of all rows that can belong to a scenario's product, as the scenario has them, in the order of the
// sheets.
func (m *Model) tagsBelow(s *Scenario) []string {
	reached := map[string]bool{s.Product: true}
	for list := []string{s.Product}; len(list) > 0; list = list[1:] {
		for _, r := range m.records["link"] {
			if child := r.Text("child"); r.Text("parent") == list[0] && !reached[child] {
				reached[child] = true
				list = append(list, child)
			}
		}
	}
	var out []string
	for _, of := range [][2]string{{"part", "part"}, {"link", "parent"}, {"operation", "part"}} {
		for _, r := range m.records[of[0]] {
			if reached[r.Text(of[1])] {
				out = append(out, s.tagsOf(r)...)
			}
		}
	}
	return out
}

// errorChecks lists the cells of checks marked as errors.
func (g *union) errorChecks() []plan.Cell {
	var out []plan.Cell
	for e := range g.rows {
		r := &g.rows[e]
		for _, n := range r.scope.checks {
			if r.scope.Quantities[n].Check.Error && r.scope.definition(r.variant, n) != nil {
				out = append(out, r.first+n)
			}
		}
	}
	return out
}

// prepare makes the program of the wanted cells, of the checks that are not settled and of the targets.
func (c *Combiner) prepare(p *plan.Compiled, wanted []plan.Cell, targets []laneTarget, targetCells [][]plan.Cell) {
	cells := append([]plan.Cell(nil), wanted...)
	for _, cell := range c.union.errorChecks() {
		e, _ := plan.Locate(c.union, cell)
		column := c.union.Presence(e)
		v, constant := p.Constant(cell)
		switch {
		case !p.Has(cell) || constant && v != 0:
		case constant && column == plan.AlwaysThere:
			c.impossible = true
		case constant:
			c.failing = append(c.failing, column)
		default:
			cells = append(cells, cell)
			c.checks = append(c.checks, laneCheck{column: column})
		}
	}
	checked := len(cells)
	for i := range targets {
		for _, cell := range targetCells[i] {
			if p.Has(cell) {
				e, _ := plan.Locate(c.union, cell)
				cells = append(cells, cell)
				targets[i].at = append(targets[i].at, laneValue{column: c.union.Presence(e)})
			}
		}
	}
	c.targets = targets
	columns := c.columns(p.Program(cells))
	c.outputs = columns[:len(wanted)]
	for i := range c.checks {
		c.checks[i].holds = columns[len(wanted)+i]
	}
	columns = columns[checked:]
	for i := range c.targets {
		for k := range c.targets[i].at {
			c.targets[i].at[k].value = columns[0]
			columns = columns[1:]
		}
	}
}

// columns makes the scratch of a program and returns the columns of its outputs.
func (c *Combiner) columns(program *plan.Program) [][]float64 {
	c.operations = len(program.Kernel.Ops)
	c.scratch = program.Kernel.NewScratch(kernel.Lanes)
	var out [][]float64
	for _, o := range program.Outputs {
		if o.Column >= 0 {
			out = append(out, c.scratch.Column(o.Column))
			continue
		}
		col := make([]float64, kernel.Lanes)
		fill(col, o.Const)
		out = append(out, col)
	}
	return out
}

// Model returns the model whose rows are combined.
func (c *Combiner) Model() *Model { return c.union.model }

// Tags lists the tags of the case in the order of its sheets.
func (c *Combiner) Tags() []string { return c.tags }

// Tag finds a tag by name, whatever its letters' case; -1 where there is none.
func (c *Combiner) Tag(name string) int {
	return c.number[strings.ToLower(strings.TrimSpace(name))] - 1
}

// Operations returns the number of kernel operations in a block, the work that a benchmark counts.
func (c *Combiner) Operations() int { return c.operations }

// Reset empties the block.
func (c *Combiner) Reset() { c.lane = 0 }

// Full tells whether the block holds no further combination.
func (c *Combiner) Full() bool { return c.lane == kernel.Lanes }

// Add puts a combination (in or out by tag) into the next lane of the block; false where it is not valid: a part counts
// twice, a child or a joining step is missing, a step that stands in several alternatives is left out or doubled, a tag
// brings nothing in, so that the combination without it is the same.
func (c *Combiner) Add(in []bool, volume float64) bool {
	if c.impossible || !c.union.mark(in) {
		return false
	}
	for _, column := range c.failing {
		if c.union.there[column] {
			return false
		}
	}
	c.scratch.Column(0)[c.lane] = volume
	for i := 1; i < c.union.columns; i++ {
		v := 0.0
		if c.union.there[i] {
			v = 1
		}
		c.scratch.Column(i)[c.lane] = v
	}
	c.lane++
	return true
}

// Cost costs the block and begins a new one: piece cost in model currency and net mass in kg by lane, NaN where a check
// marked as error does not hold. The columns are overwritten by the next block.
func (c *Combiner) Cost() (cost, mass []float64) {
	n := c.lane
	c.lane = 0
	c.scratch.Run(n)
	cost, mass = c.outputs[0][:n], c.outputs[1][:n]
	for _, k := range c.checks {
		for i := range n {
			if k.holds[i] == 0 && (k.column == plan.AlwaysThere || c.scratch.Column(int(k.column))[i] != 0) {
				cost[i] = math.NaN()
			}
		}
	}
	return cost, mass
}

// With returns the scenario with the alternatives of a combination, to be compiled as any other.
func (c *Combiner) With(in []bool) *Scenario {
	out := *c.scenario
	out.Alternatives = nil
	for i, yes := range in {
		if yes {
			out.Alternatives = append(out.Alternatives, c.tags[i])
		}
	}
	return &out
}

// Each calls yield for the combinations that may be valid, in a fixed order, until it returns false. Tags fixed to in or
// out stay so; fixed is by tag: 1 in, -1 out, 0 free. Of tags that stand on the same rows one is tried.
func (c *Combiner) Each(fixed []int, yield func(in []bool) bool) {
	c.in = make([]bool, len(c.tags))
	c.order, c.fixed, c.seen = c.union.order(len(c.tags)), c.oneOfTwins(fixed), map[rowSet]struct{}{}
	c.each(c.order, 0, c.fixed, yield)
}

// Share tells how far Each has come, from 0 to 1: where the combination under way stands among all choices. Choices that
// hang together with few others make it advance in leaps.
func (c *Combiner) Share() float64 {
	done, width := 0.0, 1.0
	for _, tag := range c.order {
		if c.fixed[tag] != 0 {
			continue
		}
		width /= 2
		if !c.in[tag] {
			done += width
		}
	}
	return done
}

func (c *Combiner) each(order []int, at int, fixed []int, yield func([]bool) bool) bool {
	if at == len(order) {
		return yield(c.in)
	}
	tag := order[at]
	for _, yes := range []bool{true, false} {
		if yes && fixed[tag] < 0 || !yes && fixed[tag] > 0 {
			continue
		}
		c.in[tag] = yes
		if c.union.possible(c.in, order, at) && !c.each(order, at+1, fixed, yield) {
			return false
		}
	}
	c.in[tag] = false
	return true
}

// sortedSteps sorts by number, keeping the order of the sheet.
func sortedSteps(list []*stepRow) {
	sort.SliceStable(list, func(i, j int) bool { return list[i].number < list[j].number })
}

func (g *union) fault(at table.Place, format string, args ...any) {
	*g.st.ds = append(*g.st.ds, table.Diagnostic{Code: "alternative", Severity: table.Error, Summary: fmt.Sprintf(format, args...), Place: at,
		Scenario: g.st.scenario.Name})
}
