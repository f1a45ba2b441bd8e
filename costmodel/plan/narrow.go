package plan

import (
	"slices"

	"piececost/costmodel/kernel"
)

// A Point is a plan with all its inputs at given values, from which one at a time may move. Its programs compute only what
// that input moves; the rest are numbers.
type Point struct {
	plan      *Plan
	wanted    []Cell
	needed    []int32   // registers that the wanted cells need, ascending, inputs left out
	registers []float64 // their values
}

// At fixes the inputs (one for each input column) for programs of the wanted cells.
func (p *Plan) At(wanted []Cell, inputs []float64) *Point {
	s := scheduler{regs: &registers{inputs: p.regs.inputs, ops: p.regs.ops}}
	var roots []int32
	for _, c := range wanted {
		for _, t := range p.forms[c].Terms {
			roots = append(roots, t.Slot)
		}
	}
	s.mark(roots)
	q := &Point{plan: p, wanted: wanted, registers: p.registersAt(inputs)}
	for i := p.regs.inputs; i < len(p.regs.ops); i++ {
		if s.needed[i] {
			q.needed = append(q.needed, int32(i))
		}
	}
	return q
}

// registersAt computes every register for one lane of inputs.
func (p *Plan) registersAt(inputs []float64) []float64 {
	k := kernel.Program{Ops: p.regs.ops[p.regs.inputs:], Inputs: p.regs.inputs, Slots: len(p.regs.ops)} // each writes its own register
	s := k.NewScratch(1)
	for i, v := range inputs {
		s.Column(i)[0] = v
	}
	s.Run(1)
	out := make([]float64, len(p.regs.ops))
	for i := range out {
		out[i] = s.Column(i)[0]
	}
	return out
}

// Program computes the wanted cells with one input as its only column, all others as they were given.
func (q *Point) Program(input int) *Program {
	n := &narrower{point: q, regs: &registers{inputs: 1, ops: make([]kernel.Op, 1), known: map[opKey]int32{}, fold: true}, as: make([]int32, len(q.registers))}
	for i := range n.as {
		n.as[i] = still
	}
	n.as[input] = 0
	for _, r := range q.needed {
		n.take(r)
	}
	s := scheduler{regs: n.regs}
	roots, outs := make([]int32, len(q.wanted)), make([]Output, len(q.wanted))
	for i, c := range q.wanted {
		f := n.form(q.plan.forms[c])
		roots[i], outs[i] = -1, Output{Column: -1, Const: f.Const}
		if !f.IsConst() {
			roots[i] = n.regs.settle(f)
		}
	}
	k := s.program(roots)
	for i, r := range roots {
		if r >= 0 {
			outs[i].Column = int(s.column[r])
		}
	}
	return &Program{Kernel: k, Outputs: outs}
}

// narrower copies the operations that one input moves.
type narrower struct {
	point *Point
	regs  *registers
	as    []int32 // by register of the plan: its register here, or still
}

// still marks a register that does not move.
const still = -1

// take copies an operation if any of its operands moves.
func (n *narrower) take(r int32) {
	op := n.point.plan.regs.ops[r]
	moves := false
	eachOperand(&op, func(at int32) { moves = moves || n.as[at] != still })
	if !moves {
		return
	}
	if op.Code == kernel.Linear {
		f := n.form(Form{Const: op.K, Terms: op.Terms})
		n.as[r] = int32(len(n.regs.ops))
		n.regs.ops = append(n.regs.ops, kernel.Op{Code: kernel.Linear, K: f.Const, Terms: f.Terms})
		return
	}
	operands := []*int32{&op.A, &op.B, &op.C}[:operandsOf(op.Code)]
	for _, at := range operands {
		*at = n.operand(*at)
	}
	n.as[r] = int32(len(n.regs.ops))
	n.regs.ops = append(n.regs.ops, op)
}

// operand is a register here, one that holds a number where it does not move.
func (n *narrower) operand(at int32) int32 {
	if r := n.as[at]; r != still {
		return r
	}
	return n.regs.settle(constant(n.point.registers[at]))
}

// form takes what does not move into the constant.
func (n *narrower) form(f Form) Form {
	out := Form{Const: f.Const, Terms: []kernel.Term{}}
	for _, t := range f.Terms {
		if r := n.as[t.Slot]; r != still {
			out.Terms = append(out.Terms, kernel.Term{Slot: r, Factor: t.Factor})
		} else {
			out.Const += t.Factor * n.point.registers[t.Slot]
		}
	}
	slices.SortFunc(out.Terms, func(a, b kernel.Term) int { return int(a.Slot - b.Slot) })
	return out
}
