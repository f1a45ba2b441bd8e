package fit

import (
	"context"
	"encoding/binary"
	"fmt"
	"math"
	"strings"
	"testing"
)

// FuzzFit makes a problem of any bytes: no panic, no number that is none, and a refusal says something to do. Three values in
// four are small whole numbers, so that columns depend on each other and bounds are met; the rest are any float.
func FuzzFit(f *testing.F) {
	f.Add([]byte("\x02\x07intercept and one more, with rows of small numbers, as they come from the text itself"))
	f.Add([]byte{3, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23, 24, 25, 26, 27, 28})
	f.Add(append([]byte{1, 5}, make([]byte, 40)...))
	f.Add(append([]byte{2, 1}, []byte("\xff\xf0\x00\x00\x00\x00\x00\x00\x00\xff\x7f\xf0\x00\x00\x00\x00\x00\x00")...))
	f.Fuzz(func(t *testing.T, data []byte) {
		p := problemOf(data)
		r, err := Fit(context.Background(), p)
		if err != nil {
			for _, line := range strings.Split(err.Error(), "\n") {
				if what, do, ok := strings.Cut(line, ": "); !ok || what == "" || do == "" {
					t.Errorf("%q says nothing to do", line)
				}
			}
			return
		}
		if !r.finite() {
			t.Errorf("%+v of %+v", r, p)
		}
		for j, c := range r.Coefficients {
			if p.Coefficients[j].NotNegative && c.Value < 0 {
				t.Errorf("%s is %g", p.name(j), c.Value)
			}
		}
	})
}

// problemOf reads bytes as a problem.
func problemOf(data []byte) Problem {
	next := func() byte {
		if len(data) == 0 {
			return 0
		}
		b := data[0]
		data = data[1:]
		return b
	}
	value := func() float64 {
		if b := next(); b < 192 || len(data) < 8 {
			return float64(b%16) - 3
		}
		x := math.Float64frombits(binary.BigEndian.Uint64(data))
		data = data[8:]
		return x
	}
	n, flags := int(next()%6), next()
	p := Problem{Weighting: Weighting(flags & 1)}
	for j := range n {
		c := Coefficient{Name: fmt.Sprintf("c%d", j), NotNegative: flags>>(j+1)&1 == 1}
		if b := next(); b%7 == 6 {
			c.Held, c.Value = true, value()
		}
		p.Coefficients = append(p.Coefficients, c)
	}
	for len(data) > 0 && len(p.Rows) < 40 {
		row := Row{Observed: value()}
		for range n {
			row.X = append(row.X, value())
		}
		p.Rows = append(p.Rows, row)
	}
	return p
}
