package costmodel

import (
	"context"
	"fmt"
	"math"

	"piececost/costmodel/kernel"
	"piececost/costmodel/plan"
	"piececost/costmodel/table"
)

// A Runner costs blocks of volumes. It owns its columns: one goroutine, no allocation per block.
type Runner struct {
	plan    *Plan
	program *plan.Program
	scratch *kernel.Scratch
	columns [][]float64 // the piece cost, then its elements, or the first of them alone
}

// Runner makes a runner for blocks of at most kernel.Lanes volumes.
func (p *Plan) Runner() *Runner { return p.runner(p.sweep, kernel.Lanes) }

// CostRunner is Runner for the piece cost alone and blocks of at most so many volumes: Block returns that one column, the same
// numbers with less work.
func (p *Plan) CostRunner(most int) *Runner {
	return p.runner(p.plan.Program(p.scenarioCells([]string{"piece_cost"})), most)
}

// Operations returns the number of kernel operations in a block of a Runner.
func (p *Plan) Operations() int { return len(p.sweep.Kernel.Ops) }

func (p *Plan) runner(program *plan.Program, lanes int) *Runner {
	r := &Runner{plan: p, program: program, scratch: program.Kernel.NewScratch(lanes)}
	for _, o := range program.Outputs {
		if o.Column >= 0 {
			r.columns = append(r.columns, r.scratch.Column(o.Column))
			continue
		}
		col := make([]float64, lanes)
		for i := range col {
			col[i] = o.Const
		}
		r.columns = append(r.columns, col)
	}
	for i, v := range p.inputsAt(p.Scenario.Volume) {
		fill(r.scratch.Column(i), v)
	}
	return r
}

// Volumes returns the column to fill with annual volumes (good products per year) before Block.
func (r *Runner) Volumes() []float64 { return r.scratch.Column(0) }

// Block costs the first n volumes and returns a column for the piece cost and each of its elements, in model currency per good product.
// The columns are overwritten by the next Block.
func (r *Runner) Block(n int) [][]float64 {
	r.scratch.Run(n)
	return r.columns
}

// Operations returns the number of kernel operations in a block, the work that a benchmark counts.
func (r *Runner) Operations() int { return len(r.program.Kernel.Ops) }

// A Sweep is the cost of a piece at given volumes.
type Sweep struct {
	Scenario *Scenario
	Volumes  []float64
	Columns  [][]float64 // the piece cost, then its elements in their order, model currency per good product
}

// Sweep costs the volumes. It fails where a volume gives no finite number.
func (p *Plan) Sweep(volumes []float64) (*Sweep, error) {
	return p.SweepTold(context.Background(), volumes, func(float64) {})
}

// SweepTold is Sweep that tells now and then the share that is done, and ends with the error of the context once that is done.
func (p *Plan) SweepTold(ctx context.Context, volumes []float64, told func(done float64)) (*Sweep, error) {
	out := &Sweep{Scenario: p.Scenario, Volumes: volumes, Columns: make([][]float64, len(p.Model.Schema.sweepQuantities()))}
	r := p.Runner()
	for from := 0; from < len(volumes); from += kernel.Lanes {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		told(float64(from) / float64(len(volumes)))
		n := copy(r.Volumes(), volumes[from:])
		for i, col := range r.Block(n) {
			out.Columns[i] = append(out.Columns[i], col[:n]...)
		}
	}
	for i, v := range out.Columns[0] {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return nil, table.Diagnostic{Code: "number", Severity: table.Error, Scenario: p.Scenario.Name, Place: p.Scenario.Place,
				Summary: fmt.Sprintf("at %v per year the piece cost is no number", volumes[i]), Help: "look for an expression that divides by 0 there"}
		}
	}
	return out, nil
}
