package plan

import (
	"piececost/costmodel/formula"
	"piececost/costmodel/kernel"
)

// A Choosing graph has rows that are there in some lanes and not in others, each with an input column that is 1 where it is
// there. A sum counts the rows that are there; a relation to one leads to the first of its candidates that is.
type Choosing interface {
	Graph
	// Presence returns the column of a row, or AlwaysThere.
	Presence(e Entity) int32
	// Candidates lists the rows that a relation to one may lead to, the last one where none of the others is there; empty
	// where Follow says it.
	Candidates(e Entity, r Relation) []Candidate
}

// AlwaysThere is the presence of a row that is there in every lane.
const AlwaysThere int32 = -1

// A Candidate is a row that a relation leads to where its column is 1.
type Candidate struct {
	Row    Entity
	Column int32 // or AlwaysThere
}

func (c *compiler) candidates(e Entity, r Relation) []Candidate {
	if g, ok := c.graph.(Choosing); ok {
		return g.Candidates(e, r)
	}
	return nil
}

// first compiles what a name means through the first candidate that is there.
func (c *compiler) first(list []Candidate, hops []Relation, n *formula.Node, at place) linear {
	out := c.along(list[len(list)-1].Row, hops, n, at)
	for i := len(list) - 2; i >= 0; i-- {
		v := c.along(list[i].Row, hops, n, at)
		if list[i].Column == AlwaysThere {
			out = v
			continue
		}
		out = c.choose(list[i].Column, v, out)
	}
	return out
}

// where is a linear sum in the lanes in which a row is there, and 0 in the others.
func (c *compiler) where(e Entity, f linear) linear {
	g, ok := c.graph.(Choosing)
	if !ok {
		return f
	}
	column := g.Presence(e)
	if column == AlwaysThere {
		return f
	}
	if f.isConst() && f.finite() {
		return register(column).scale(f.Const)
	}
	return c.choose(column, f, linear{})
}

// choose is one linear sum where a column is 1, another where it is 0.
func (c *compiler) choose(column int32, yes, no linear) linear {
	if yes.isConst() && no.isConst() && yes.Const == no.Const {
		return yes
	}
	return c.regs.emit(kernel.Op{Code: kernel.Select, A: column, B: c.regs.settle(yes), C: c.regs.settle(no)})
}
