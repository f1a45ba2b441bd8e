package plan

import (
	"piececost/costmodel/formula"
)

// An Entity is a row of some table, numbered densely by the Graph.
type Entity = int32

// A Relation leads from a row to another row, or to many; the Graph numbers them.
type Relation = int32

// A Cell is one quantity of one row: the entity's first cell plus the quantity's number.
type Cell = int32

// A Ref says which cell a name of an equation means, relative to the equation's row.
type Ref struct {
	Hops     []Relation // to follow, in order; of a sum, the last one leads to many rows
	Quantity int32      // of the row arrived at
	Many     bool       // sum over the rows of the last hop
	Option   int        // above 0: the condition that a choice has its Option-1'th value
	Base     bool       // the unchanged definition of the very cell (scenario changes)
	Constant float64    // a named constant, where Fixed
	Fixed    bool
}

// An Equation is a checked expression with what each of its names means.
type Equation struct {
	Expr *formula.Expr
	Refs []Ref // one for each of Expr.Names
}

// A DefKind says where a cell's value comes from.
type DefKind uint8

// The kinds of definition.
const (
	Given    DefKind = iota // Value
	Varies                  // input column Input
	Computed                // Eq
	Scaled                  // Base times input column Input, or times Value where Input is Fixed
	Shifted                 // Base plus input column Input, or plus Value
)

// Fixed in place of an input column means the definition's Value.
const Fixed int32 = -1

// A Definition says where a cell's value comes from.
type Definition struct {
	Kind  DefKind
	Value float64
	Input int32
	Eq    *Equation
	Base  *Definition // what `base` means in Eq, where it is used; what is Scaled or Shifted
	// Fractions leaves ceil out of Eq: what it counts is taken as a fraction.
	Fractions bool
}

// A Graph is what Compile needs to know of the rows. Errors it returns are collected as they are.
type Graph interface {
	// Entities returns the number of rows; FirstCell(Entities()) is the number of cells.
	Entities() int
	// FirstCell returns the number of the row's first cell.
	FirstCell(e Entity) Cell
	// Follow returns the row a relation leads to, or -1 where there is none.
	Follow(e Entity, r Relation) Entity
	// Members returns the rows a relation to many leads to.
	Members(e Entity, r Relation) []Entity
	// Define returns the definition of a quantity of a row, or an error fit to be shown.
	Define(e Entity, quantity int32) (Definition, error)
	// Absent makes the error for a name whose relation leads nowhere.
	Absent(e Entity, quantity int32, name string) error
	// Cycle makes the error for cells that need each other, in order.
	Cycle(cells []Cell) error
	// NotFinite makes the error for a cell whose constant value is no finite number.
	NotFinite(c Cell, value float64) error
	// Curve returns a curve by name; it exists, since the expression was checked.
	Curve(name string) *formula.Curve
}

// Locate finds the row and quantity of a cell.
func Locate(g Graph, c Cell) (Entity, int32) {
	lo, hi := 0, g.Entities()
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; g.FirstCell(int32(mid)) <= c {
			lo = mid
		} else {
			hi = mid
		}
	}
	return int32(lo), c - g.FirstCell(int32(lo))
}
