package fit

import (
	"context"
	"math"

	"gonum.org/v1/gonum/mat"
)

// A row whose leverage is 1 but for this alone determines a coefficient; without it there is no fit.
const alone = 1e-10

// takeLeftOut fills what the other rows alone predict for each row, and the root mean square of the misses: exactly by leverage
// (Belsley, Kuh and Welsch 1980, 2.1: the miss is the residual over one less the leverage) where the bounds that hold
// stay the same, else by fitting anew without the row.
func (r *Result) takeLeftOut(ctx context.Context, p Problem, s *system, l *solution, all factor) error {
	keep := newBoundsKept(s, l)
	total := 0.0
	for i, leverage := range all.leverages() {
		if err := ctx.Err(); err != nil {
			return err
		}
		if 1-leverage <= alone {
			continue
		}
		w := &r.Rows[i]
		w.HasLeftOut = true
		if keep.without(i) {
			w.Miss = w.Residual / (1 - l.leverages[i])
		} else {
			rest := s.without(i).solve()
			w.Miss = (s.y[i] - rest.predict(s, i)) * s.target / s.weight[i]
		}
		w.LeftOut = w.Observed - w.Miss
		r.LeftOutRows++
		total = math.Hypot(total, s.weight[i]*w.Miss)
	}
	if r.LeftOutRows > 0 {
		r.LeftOutRMS = total / math.Sqrt(float64(r.LeftOutRows))
	}
	return nil
}

// boundsKept tells whether a solution's bounds stay those that hold when a row is left out.
type boundsKept struct {
	s     *system
	l     *solution
	held  []int      // columns at their bound
	pull  []float64  // of the held ones: column times residuals
	cross *mat.Dense // held columns times free ones
	most  float64    // what a pull may be by rounding alone
}

func newBoundsKept(s *system, l *solution) *boundsKept {
	b := &boundsKept{s: s, l: l, most: rounding(len(s.y)) * norm(s.y)}
	rest := mat.NewVecDense(len(s.y), l.residuals)
	for j, free := range l.free {
		if !free {
			b.held = append(b.held, j)
			b.pull = append(b.pull, mat.Dot(s.a.ColView(j), rest))
		}
	}
	if len(b.held) == 0 || len(l.columns) == 0 {
		return b
	}
	_, part := freeColumns(s.a, l.free)
	b.cross = mat.NewDense(len(b.held), len(l.columns), nil)
	for k, j := range b.held {
		for c := range l.columns {
			b.cross.Set(k, c, mat.Dot(s.a.ColView(j), part.ColView(c)))
		}
	}
	return b
}

// without tells whether, with row i left out, the free columns' own solution stays within the bounds and no held column
// would lessen the error: the conditions of Karush, Kuhn and Tucker. Where rounding could decide it says no.
func (b *boundsKept) without(i int) bool {
	move := b.move(i)
	for k, j := range b.l.columns {
		if b.s.bounded[j] && b.l.x[j]-move[k] <= 0 {
			return false
		}
	}
	row := b.s.a.RawRowView(i)
	miss := b.l.residuals[i] / (1 - b.l.leverages[i])
	for k, j := range b.held {
		pull := b.pull[k] - row[j]*miss
		for c, m := range move {
			pull += b.cross.At(k, c) * m
		}
		if pull >= -b.most {
			return false
		}
	}
	return true
}

// move is by how much the free coefficients are greater with row i than without it.
func (b *boundsKept) move(i int) []float64 {
	if len(b.l.columns) == 0 {
		return nil
	}
	move := b.l.factor.solve(b.l.factor.q.RawRowView(i))
	for k := range move {
		move[k] *= b.l.residuals[i] / (1 - b.l.leverages[i])
	}
	return move
}
