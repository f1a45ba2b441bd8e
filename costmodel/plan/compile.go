package plan

import (
	"errors"
	"math"
)

// longSum is the number of terms above which a cell's linear sum becomes a register: beyond it, carrying the terms along
// costs more than one pass over them.
const longSum = 48

// A Compiled holds the linear sum of every cell that was needed, and the operations behind the registers.
type Compiled struct {
	graph  Graph
	regs   *registers
	linear []linear // by cell
	state  []uint8  // by cell
	order  []Cell   // cells done, each after what it needs
}

// ErrReported is what a Graph returns for a cell that can't be defined for a reason that is known already: the cell and
// what needs it fail without a further word.
var ErrReported = errors.New("reported already")

// Options change how a plan is compiled.
type Options struct {
	Inputs int  // number of input columns
	Plain  bool // make a register of every step instead of folding; for tests
	// Optional cells are compiled where they can be, after the wanted ones; their errors are dropped.
	Optional []Cell
	// Quiet, where set, is called before the optional cells: their errors need no words.
	Quiet func()
}

// Compile compiles the wanted cells and all they need. It goes on after an error, to find them all; with errors the plan
// is not to be used.
func Compile(g Graph, wanted []Cell, o Options) (*Compiled, []error) {
	cells := g.FirstCell(int32(g.Entities()))
	c := &compiler{graph: g, regs: newRegisters(o.Inputs, !o.Plain), linear: make([]linear, cells), state: make([]uint8, cells),
		order: make([]Cell, 0, cells)}
	for _, w := range wanted {
		c.cell(w)
	}
	if len(c.errs) > 0 {
		return nil, c.errs
	}
	if o.Quiet != nil {
		o.Quiet()
	}
	for _, w := range o.Optional {
		c.cell(w)
	}
	return &Compiled{graph: g, regs: c.regs, linear: c.linear, state: c.state, order: c.order}, nil
}

// The states of a cell.
const (
	unseen uint8 = iota
	open
	done
	failed
)

type compiler struct {
	graph  Graph
	regs   *registers
	linear []linear
	state  []uint8
	order  []Cell
	path   []Cell // cells under way, for reporting a cycle
	errs   []error
}

// A place is the cell whose definition is being compiled.
type place struct {
	cell     Cell
	entity   Entity
	quantity int32
	eq       *Equation
	base     *Definition
	fraction bool // ceil is left out
}

// poison is the linear sum of a cell that could not be compiled: not finite, and never reported again.
func poison() linear { return constant(math.NaN()) }

func (c *compiler) report(at place, err error) {
	if err != nil && !errors.Is(err, ErrReported) {
		c.errs = append(c.errs, err)
	}
	c.state[at.cell] = failed
}

// cell compiles a cell once and returns its linear sum.
func (c *compiler) cell(id Cell) linear {
	switch c.state[id] {
	case done:
		return c.linear[id]
	case failed:
		return poison()
	case open:
		c.cycle(id)
		return poison()
	}
	c.state[id] = open
	c.path = append(c.path, id)
	e, q := Locate(c.graph, id)
	at := place{cell: id, entity: e, quantity: q}
	f := poison()
	if def, err := c.graph.Define(e, q); err != nil {
		c.report(at, err)
	} else {
		f = c.definition(def, at)
	}
	c.path = c.path[:len(c.path)-1]
	return c.finish(id, f)
}

// finish stores the linear sum of a cell, or marks it as failed.
func (c *compiler) finish(id Cell, f linear) linear {
	if c.state[id] == failed {
		return poison()
	}
	if !f.finite() {
		c.errs = append(c.errs, c.graph.NotFinite(id, f.Const))
		c.state[id] = failed
		return poison()
	}
	if len(f.Terms) > longSum {
		f = c.regs.combine(f)
	}
	c.state[id], c.linear[id] = done, f
	c.order = append(c.order, id)
	return f
}

// definition compiles where a value comes from.
func (c *compiler) definition(def Definition, at place) linear {
	at.fraction = at.fraction || def.Fractions
	switch def.Kind {
	case Given:
		return constant(def.Value)
	case Varies:
		return register(def.Input)
	case Scaled:
		return c.regs.mul(c.definition(*def.Base, at), def.by())
	case Shifted:
		return c.regs.add(c.definition(*def.Base, at), def.by(), 1)
	}
	at.eq, at.base = def.Eq, def.Base
	return c.lower(def.Eq.Expr.Root, at)
}

// by is what a definition is scaled or shifted by.
func (d *Definition) by() linear {
	if d.Input == Fixed {
		return constant(d.Value)
	}
	return register(d.Input)
}

// cycle reports the cells that need each other, from the one met again; each is then failed, so it is said once.
func (c *compiler) cycle(id Cell) {
	for i, p := range c.path {
		if p == id {
			cells := append([]Cell(nil), c.path[i:]...)
			c.errs = append(c.errs, c.graph.Cycle(cells))
			for _, m := range cells {
				c.state[m] = failed
			}
			return
		}
	}
}

// visitNeeds calls visit for every cell that a cell's definition names, whether or not it was reached.
func visitNeeds(g Graph, id Cell, visit func(Cell)) {
	e, q := Locate(g, id)
	def, err := g.Define(e, q)
	if err != nil {
		return
	}
	for at := &def; at != nil; at = at.Base {
		if at.Kind != Computed {
			continue
		}
		for _, ref := range at.Eq.Refs {
			visitRef(g, e, ref, visit)
		}
	}
}

func visitRef(g Graph, e Entity, ref Ref, visit func(Cell)) {
	if ref.Fixed || ref.Base {
		return
	}
	for i, hop := range ref.Hops {
		if ref.Many && i == len(ref.Hops)-1 {
			for _, m := range g.Members(e, hop) {
				visit(g.FirstCell(m) + ref.Quantity)
			}
			return
		}
		if e = g.Follow(e, hop); e < 0 {
			return
		}
	}
	visit(g.FirstCell(e) + ref.Quantity)
}

// Constant returns the value of a compiled cell that does not vary.
func (p *Compiled) Constant(c Cell) (float64, bool) {
	return p.linear[c].Const, p.Has(c) && p.linear[c].isConst()
}

// Graph returns the rows the plan was made of.
func (p *Compiled) Graph() Graph { return p.graph }

// Order lists the cells that were needed, each after what it needs.
func (p *Compiled) Order() []Cell { return p.order }

// Has tells whether a cell was needed and compiled.
func (p *Compiled) Has(c Cell) bool { return p.state[c] == done }

// Needs calls visit for every compiled cell that a compiled cell names.
func (p *Compiled) Needs(c Cell, visit func(Cell)) {
	visitNeeds(p.graph, c, func(n Cell) {
		if p.Has(n) {
			visit(n)
		}
	})
}

// Varying tells whether a cell depends on an input column.
func (p *Compiled) Varying(c Cell) bool { return !p.linear[c].isConst() }
