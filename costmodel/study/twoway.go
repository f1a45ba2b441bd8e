package study

import (
	"context"
	"fmt"

	"piececost/costmodel"
)

// A TwoWay is a measure over two inputs.
type TwoWay struct {
	X, Y   costmodel.Varied
	Xs, Ys []float64   // coherent
	Cells  [][]float64 // by Y, then X; NaN where a pair can't be
}

// TwoWay evaluates a measure of exactly two inputs, X first, at every pair of values.
func (r *Response) TwoWay(ctx context.Context, xs, ys []float64) (*TwoWay, error) {
	if len(r.Inputs) != 2 {
		return nil, fmt.Errorf("a table needs two inputs, not %d", len(r.Inputs))
	}
	t := &TwoWay{X: r.Inputs[0], Y: r.Inputs[1], Xs: xs, Ys: ys}
	for _, y := range ys {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		row := make([]float64, 0, len(xs))
		for from := 0; from < len(xs); from += r.Size() {
			part := xs[from:min(from+r.Size(), len(xs))]
			for lane, x := range part {
				r.Set(lane, 0, x)
				r.Set(lane, 1, y)
			}
			row = append(row, r.Block(len(part))...)
		}
		t.Cells = append(t.Cells, row)
	}
	r.Reset()
	return t, nil
}
