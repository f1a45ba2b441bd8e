package costmodel

import (
	"fmt"
	"math"
	"strings"

	"piececost/costmodel/kernel"
	"piececost/costmodel/plan"
)

// laneBlock is columns of so many lanes and the program that fills them.
type laneBlock struct {
	scratch *kernel.Scratch
	columns [][]float64 // of the quantities; the first one is a copy, in which lanes that can't be are blanked
	source  []float64   // of the copy
	first   []float64
	checks  [][]float64
}

// Lanes costs blocks of variants of a scenario: every lane has a volume and a value of each varied input of its own. It
// owns its columns: one goroutine, no allocation per block.
type Lanes struct {
	laneBlock
	plan  *Plan
	cells []plan.Cell // of the quantities, then of the checks
	count int         // of the quantities
	point *plan.Point // for narrow ones, made at the first
}

// NarrowLanes costs blocks of variants in which one varied input alone differs. It owns its columns: one goroutine, no
// allocation per block.
type NarrowLanes struct{ laneBlock }

// Lanes makes an evaluator of the given quantities: those of the scenario by name ("piece_cost", "net_mass"), those of the
// whole case with "case." before it ("case.allowable_cost_of_mass_saving").
func (p *Plan) Lanes(quantities ...string) (*Lanes, error) {
	var cells []plan.Cell
	for _, name := range quantities {
		e := plan.Entity(1)
		short, ofCase := strings.CutPrefix(name, "case.")
		if ofCase {
			e = 0
		}
		n, ok := p.graph.rows[e].scope.index[short]
		if !ok || !p.Compiled(e, n) {
			return nil, fmt.Errorf("scenario %s has no quantity %s", p.Scenario.Name, name)
		}
		cells = append(cells, p.graph.rows[e].first+n)
	}
	count := len(cells)
	cells = append(cells, p.varyingChecks()...)
	l := &Lanes{laneBlock: newLaneBlock(p.plan.Program(cells), count, kernel.Lanes), plan: p, cells: cells, count: count}
	l.reset()
	return l, nil
}

// newLaneBlock makes the columns of a program whose first count outputs are quantities and whose others are checks.
func newLaneBlock(prog *plan.Program, count, lanes int) laneBlock {
	b := laneBlock{scratch: prog.Kernel.NewScratch(lanes), first: make([]float64, lanes)}
	for i, o := range prog.Outputs {
		isCheck := i >= count
		if isCheck && o.Column < 0 && o.Const != 0 && o.Const == o.Const {
			continue // it holds whatever is in the lanes
		}
		var col []float64
		if o.Column >= 0 {
			col = b.scratch.Column(o.Column)
		} else {
			col = make([]float64, lanes)
			fill(col, o.Const)
		}
		if isCheck {
			b.checks = append(b.checks, col)
		} else {
			b.columns = append(b.columns, col)
		}
	}
	b.source = b.columns[0]
	b.columns[0] = b.first
	return b
}

// narrowLanes is the block of a narrow evaluator: made anew for each of many inputs, it should be no larger than a search
// needs at once.
const narrowLanes = 256

// Narrow makes an evaluator in which the i-th varied input alone can be filled; the other inputs and the volume stay what
// they are in the first lane now, and so does that input until it is filled. It computes only what the input moves.
func (l *Lanes) Narrow(i int) *NarrowLanes {
	if l.point == nil {
		inputs := make([]float64, l.plan.graph.columns)
		for c := range inputs {
			inputs[c] = l.scratch.Column(c)[0]
		}
		l.point = l.plan.plan.At(l.cells, inputs)
	}
	out := &NarrowLanes{newLaneBlock(l.point.Program(l.plan.varied[i].column), l.count, narrowLanes)}
	fill(out.Column(), l.Input(i)[0])
	return out
}

// varyingChecks lists the checks marked as errors whose answer depends on a column.
func (p *Plan) varyingChecks() []plan.Cell {
	var out []plan.Cell
	for e := range p.graph.rows {
		r := &p.graph.rows[e]
		for _, n := range r.scope.checks {
			if c := r.first + n; r.scope.Quantities[n].Check.Error && p.plan.Has(c) && p.plan.Varying(c) {
				out = append(out, c)
			}
		}
	}
	return out
}

// Size returns the longest block.
func (b *laneBlock) Size() int { return b.scratch.Lanes() }

// Column returns the column of the input, coherent values. It stays as it is filled from block to block.
func (l *NarrowLanes) Column() []float64 { return l.scratch.Column(0) }

// Volumes returns the column of annual volumes, good products per year.
func (l *Lanes) Volumes() []float64 { return l.scratch.Column(0) }

// Input returns the column of the i-th varied input, coherent values. It stays as it is filled from block to block.
func (l *Lanes) Input(i int) []float64 {
	return l.scratch.Column(l.plan.varied[i].column)
}

// reset fills all lanes with the scenario's own volume and the base values.
func (l *Lanes) reset() {
	for i, v := range l.plan.inputsAt(l.plan.Scenario.Volume) {
		fill(l.scratch.Column(i), v)
	}
}

func fill(col []float64, v float64) {
	for i := range col {
		col[i] = v
	}
}

// Block costs the first n lanes and returns a column for each quantity, coherent. A lane that fails a check marked as an
// error (a reject rate of 100 %, say) is no variant that could be made: its first quantity is NaN. The columns are overwritten by the
// next Block.
func (b *laneBlock) Block(n int) [][]float64 {
	b.scratch.Run(n)
	copy(b.first[:n], b.source)
	for _, holds := range b.checks {
		for i, v := range holds[:n] {
			if v == 0 || v != v {
				b.first[i] = math.NaN()
			}
		}
	}
	return b.columns
}
