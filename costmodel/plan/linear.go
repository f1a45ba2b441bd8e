package plan

import (
	"slices"

	"piececost/costmodel/kernel"
)

// A linear is a linear sum, a constant plus multiples of registers. Terms are sorted by register, none has the factor 0.
type linear struct {
	Const float64
	Terms []kernel.Term
}

func constant(v float64) linear { return linear{Const: v} }

// isConst tells whether the linear sum does not vary.
func (f linear) isConst() bool { return len(f.Terms) == 0 }

// single returns the register and factor of a linear sum that is one multiple and nothing else.
func (f linear) single() (int32, float64, bool) {
	if len(f.Terms) == 1 && f.Const == 0 {
		return f.Terms[0].Slot, f.Terms[0].Factor, true
	}
	return 0, 0, false
}

func (f linear) scale(k float64) linear {
	if k == 1 {
		return f
	}
	if k == 0 {
		return linear{}
	}
	out := linear{Const: f.Const * k, Terms: make([]kernel.Term, len(f.Terms))}
	for i, t := range f.Terms {
		out.Terms[i] = kernel.Term{Slot: t.Slot, Factor: t.Factor * k}
	}
	return out
}

// divide is scale by 1/k, dividing so that whole results stay whole.
func (f linear) divide(k float64) linear {
	out := linear{Const: f.Const / k, Terms: make([]kernel.Term, len(f.Terms))}
	for i, t := range f.Terms {
		out.Terms[i] = kernel.Term{Slot: t.Slot, Factor: t.Factor / k}
	}
	return out
}

// add returns f + k*g.
func (f linear) add(g linear, k float64) linear {
	out := linear{Const: f.Const + k*g.Const}
	if len(g.Terms) == 0 {
		out.Terms = f.Terms
		return out
	}
	out.Terms = make([]kernel.Term, 0, len(f.Terms)+len(g.Terms))
	i, j := 0, 0
	for i < len(f.Terms) || j < len(g.Terms) {
		switch {
		case j == len(g.Terms) || i < len(f.Terms) && f.Terms[i].Slot < g.Terms[j].Slot:
			out.Terms = append(out.Terms, f.Terms[i])
			i++
		case i == len(f.Terms) || g.Terms[j].Slot < f.Terms[i].Slot:
			out.Terms = append(out.Terms, kernel.Term{Slot: g.Terms[j].Slot, Factor: k * g.Terms[j].Factor})
			j++
		default:
			if v := f.Terms[i].Factor + k*g.Terms[j].Factor; v != 0 {
				out.Terms = append(out.Terms, kernel.Term{Slot: f.Terms[i].Slot, Factor: v})
			}
			i, j = i+1, j+1
		}
	}
	return out
}

// addAll adds many sums at once; adding them one by one would copy the growing sum each time.
func addAll(sums []linear) linear {
	var out linear
	total := 0
	for _, f := range sums {
		out.Const += f.Const
		total += len(f.Terms)
	}
	all := make([]kernel.Term, 0, total)
	for _, f := range sums {
		all = append(all, f.Terms...)
	}
	slices.SortStableFunc(all, func(a, b kernel.Term) int { return int(a.Slot - b.Slot) })
	for _, t := range all {
		if n := len(out.Terms); n > 0 && out.Terms[n-1].Slot == t.Slot {
			out.Terms[n-1].Factor += t.Factor
		} else {
			out.Terms = append(out.Terms, t)
		}
	}
	return out
}

// at evaluates the linear sum over the values of the registers.
func (f linear) at(registers []float64) float64 {
	v := f.Const
	for _, t := range f.Terms {
		v += t.Factor * registers[t.Slot]
	}
	return v
}
