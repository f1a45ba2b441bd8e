package plan

import "piececost/costmodel/kernel"

// A Move is every compiled cell for two lanes of inputs, by cell, and whether a jump went into it: a count or condition
// that says something else, or a function that may jump. A cell without one only slides; one with it may be unmoved.
type Move struct {
	Before, After []float64
	Jumped        []bool
}

// Move computes every compiled cell before and after.
func (p *Compiled) Move(before, after []float64) Move {
	a, b := p.registersAt(before), p.registersAt(after)
	out := Move{Before: p.valuesOf(a), After: p.valuesOf(b), Jumped: make([]bool, len(p.linear))}
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
	return out
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
