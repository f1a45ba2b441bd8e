package costmodel

import (
	"fmt"
	"math"
	"strings"

	"piececost/costmodel/kernel"
	"piececost/costmodel/plan"
)

// Lanes costs blocks of variants of a scenario: every lane has a volume and a value of each varied input of its own. It
// owns its columns: one goroutine, no allocation per block.
type Lanes struct {
	plan    *Plan
	cells   []plan.Cell // of the quantities, then of the checks
	count   int         // of the quantities
	only    int         // column of the plan that alone can be filled; -1 for all of them
	point   *plan.Point // for narrow ones, made at the first
	scratch *kernel.Scratch
	columns [][]float64 // of the quantities; the first one is a copy, in which lanes that can't be are blanked
	source  []float64   // of the copy
	first   []float64
	checks  [][]float64
}

// Lanes makes an evaluator of the given quantities: those of the scenario by name ("piece_cost", "net_mass"), those of the
// whole case with "case." before it ("case.mass_value").
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
	l := &Lanes{plan: p, cells: cells, count: count, only: -1}
	l.load(p.plan.Program(cells), kernel.Lanes)
	l.Reset()
	return l, nil
}

// load makes the columns of a program of the cells, of so many lanes.
func (l *Lanes) load(prog *plan.Program, lanes int) {
	l.scratch, l.first = prog.Kernel.NewScratch(lanes), make([]float64, lanes)
	for i, o := range prog.Outputs {
		isCheck := i >= l.count
		if isCheck && o.Column < 0 && o.Const != 0 {
			continue // it holds whatever is in the lanes
		}
		var col []float64
		if o.Column >= 0 {
			col = l.scratch.Column(o.Column)
		} else {
			col = make([]float64, lanes)
			fill(col, o.Const)
		}
		if isCheck {
			l.checks = append(l.checks, col)
		} else {
			l.columns = append(l.columns, col)
		}
	}
	l.source = l.columns[0]
	l.columns[0] = l.first
}

// narrowLanes is the block of a narrow evaluator: made anew for each of many inputs, it should be no larger than a search
// needs at once.
const narrowLanes = 256

// Narrow makes an evaluator in which the i-th varied input alone can be filled; the other inputs and the volume stay what
// they are in the first lane now. It computes only what the input moves.
func (l *Lanes) Narrow(i int) *Lanes {
	if l.point == nil {
		inputs := make([]float64, l.plan.graph.columns)
		for c := range inputs {
			inputs[c] = l.scratch.Column(c)[0]
		}
		l.point = l.plan.plan.At(l.cells, inputs)
	}
	out := &Lanes{plan: l.plan, cells: l.cells, count: l.count, only: l.plan.varied[i].column}
	out.load(l.point.Program(out.only), narrowLanes)
	fill(out.Input(i), l.Input(i)[0])
	return out
}

// varyingChecks lists the checks marked as errors whose answer depends on a column.
func (p *Plan) varyingChecks() []plan.Cell {
	var out []plan.Cell
	for e := range p.graph.rows {
		r := &p.graph.rows[e]
		for _, n := range r.scope.Checks {
			if c := r.first + n; r.scope.Quantities[n].Check.Error && p.plan.Has(c) && p.plan.Varying(c) {
				out = append(out, c)
			}
		}
	}
	return out
}

// Size returns the longest block.
func (l *Lanes) Size() int { return l.scratch.Lanes() }

// Volumes returns the column of annual volumes, good products a year. A narrow evaluator has it for the volume only.
func (l *Lanes) Volumes() []float64 { return l.scratch.Column(0) }

// Input returns the column of the i-th varied input, coherent values. It stays as it is filled from block to block.
func (l *Lanes) Input(i int) []float64 {
	if l.only >= 0 {
		return l.scratch.Column(0)
	}
	return l.scratch.Column(l.plan.varied[i].column)
}

// Reset fills all lanes with the scenario's own volume and today's values.
func (l *Lanes) Reset() {
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
// error (a reject share of 100 %, say) is no variant that could be made: its first quantity is NaN. The columns are overwritten by the
// next Block.
func (l *Lanes) Block(n int) [][]float64 {
	l.scratch.Run(n)
	copy(l.first[:n], l.source)
	for _, holds := range l.checks {
		for i, v := range holds[:n] {
			if v == 0 || v != v {
				l.first[i] = math.NaN()
			}
		}
	}
	return l.columns
}
