package costmodel

import (
	"math"

	"piececost/costmodel/plan"
)

// laneTarget is a requirement of the sheet Targets that is computed for every combination of a block.
type laneTarget struct {
	*Target
	limit float64 // coherent
	at    []laneValue
}

// laneValue is its quantity in one row: of the scenario, or of a part that some combinations have.
type laneValue struct {
	column int32     // of the row's presence, or AlwaysThere
	value  []float64 // by lane, coherent
}

// targetCells finds the requirements that the program computes and that hold for the scenario, each with the cells of its
// quantity.
func (c *Combiner) targetCells() (list []laneTarget, cells [][]plan.Cell) {
	for _, t := range c.Model().Targets {
		limit := t.limitIn(c.scenario.Name)
		if t.Stated || math.IsNaN(limit) {
			continue
		}
		list = append(list, laneTarget{Target: t, limit: limit})
		cells = append(cells, c.union.cellsOf(t))
	}
	return list, cells
}

// cellsOf lists the cells of a target's quantity: one of the scenario, or one for each row of the part's key.
func (g *union) cellsOf(t *Target) []plan.Cell {
	name := t.scope.Quantities[t.quantity].Name
	var out []plan.Cell
	for e := range g.rows {
		r := &g.rows[e]
		if t.Part == "" && e != 1 || t.Part != "" && (r.scope.Name != "part" || r.rec.Key != t.Part) {
			continue
		}
		if n, ok := r.scope.index[name]; ok && r.scope.definition(r.variant, n) != nil {
			out = append(out, r.first+n)
		}
	}
	return out
}

// MissesTarget tells whether a lane of the block that was costed last misses a target that the program computes. Targets
// whose values are stated in the sheet, or whose part a combination has not, leave it free.
func (c *Combiner) MissesTarget(lane int) bool {
	for i := range c.targets {
		t := &c.targets[i]
		for _, a := range t.at {
			if a.column != plan.AlwaysThere && c.scratch.Column(int(a.column))[lane] == 0 {
				continue
			}
			if t.misses(a.value[lane], t.limit) {
				return true
			}
		}
	}
	return false
}
