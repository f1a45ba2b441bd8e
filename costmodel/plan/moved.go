package plan

import "piececost/costmodel/kernel"

// A Move is every compiled cell for two lanes of inputs, by cell, and whether a jump went into it: a count or condition
// that says something else, or a function that may jump. A cell without one only slides; one with it may be unmoved.
type Move struct {
	Before, After []float64
	Jumped        []bool
}

// Move computes every compiled cell before and after. It takes the slices of an earlier move again where they are large enough.
func (p *Compiled) Move(out *Move, before, after []float64) {
	a, b := p.registersAt(before), p.registersAt(after)
	out.Before, out.After, out.Jumped = again(out.Before, len(p.linear)), again(out.After, len(p.linear)), again(out.Jumped, len(p.linear))
	p.fillValues(out.Before, a)
	p.fillValues(out.After, b)
	jumped := make([]bool, len(p.regs.ops))
	for i := p.regs.inputs; i < len(p.regs.ops); i++ {
		op := &p.regs.ops[i]
		jumped[i] = jumps(op, i, a, b)
		if !stands(op.Code) {
			eachOperand(op, func(at int32) { jumped[i] = jumped[i] || jumped[at] })
		}
	}
	for _, c := range p.order {
		for _, t := range p.linear[c].Terms {
			out.Jumped[c] = out.Jumped[c] || jumped[t.Slot]
		}
	}
}

// again is a slice of n zeros, the given one where it is large enough.
func again[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	s = s[:n]
	clear(s)
	return s
}

// stands tells whether an operation hides the jumps of its operands while its own value stands.
func stands(c kernel.Code) bool { return isCount(c) || c == kernel.Call1 || c == kernel.Call2 }

// jumps tells whether an operation itself says something else.
func jumps(op *kernel.Op, at int, before, after []float64) bool {
	if op.Code == kernel.Select {
		return (before[op.A] != 0) != (after[op.A] != 0)
	}
	return stands(op.Code) && before[at] != after[at]
}
