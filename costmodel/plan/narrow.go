package plan

import (
	"slices"

	"piececost/costmodel/kernel"
)

// A Point is a plan with all its inputs at given values, from which one at a time may move. Its programs compute only what
// that input moves; the rest are numbers.
type Point struct {
	plan      *Compiled
	wanted    []Cell
	registers []float64 // their values there
	users     []int32   // registers that read a register, those that the wanted cells need: of r from first[r] to first[r+1]
	first     []int32
	as        []int32 // by register, for a program being made: its register there, or unmoved
}

// At fixes the inputs (one for each input column) for programs of the wanted cells.
func (p *Compiled) At(wanted []Cell, inputs []float64) *Point {
	s := scheduler{regs: &registers{inputs: p.regs.inputs, ops: p.regs.ops}}
	var roots []int32
	for _, c := range wanted {
		for _, t := range p.linear[c].Terms {
			roots = append(roots, t.Slot)
		}
	}
	s.mark(roots)
	q := &Point{plan: p, wanted: wanted, registers: p.registersAt(inputs), as: make([]int32, len(p.regs.ops))}
	for i := range q.as {
		q.as[i] = unmoved
	}
	q.link(s.needed)
	return q
}

// link lists the users of every register.
func (q *Point) link(needed []bool) {
	ops := q.plan.regs.ops
	each := func(visit func(at, user int32)) {
		for i := q.plan.regs.inputs; i < len(ops); i++ {
			if needed[i] {
				eachOperand(&ops[i], func(at int32) { visit(at, int32(i)) })
			}
		}
	}
	q.first = make([]int32, len(ops)+1)
	each(func(at, _ int32) { q.first[at+1]++ })
	for i := range ops {
		q.first[i+1] += q.first[i]
	}
	q.users = make([]int32, q.first[len(ops)])
	next := append([]int32(nil), q.first[:len(ops)]...)
	each(func(at, user int32) {
		q.users[next[at]] = user
		next[at]++
	})
}

// moved lists the registers that an input moves, ascending, itself left out.
func (q *Point) moved(input int32) []int32 {
	var out []int32
	seen := map[int32]bool{}
	todo := []int32{input}
	for len(todo) > 0 {
		r := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		for _, u := range q.users[q.first[r]:q.first[r+1]] {
			if !seen[u] {
				seen[u] = true
				out, todo = append(out, u), append(todo, u)
			}
		}
	}
	slices.Sort(out)
	return out
}

// registersAt computes every register for one lane of inputs.
func (p *Compiled) registersAt(inputs []float64) []float64 {
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

// Program computes the wanted cells with one input as its only column, all others as they were given. A Point makes one
// program at a time.
func (q *Point) Program(input int) *Program {
	n := &narrower{point: q, regs: &registers{inputs: 1, ops: make([]kernel.Op, 1), known: map[opKey]int32{}, fold: true}, as: q.as}
	moved := q.moved(int32(input))
	n.as[input] = 0
	for _, r := range moved {
		n.take(r)
	}
	sums := make([]linear, len(q.wanted))
	for i, c := range q.wanted {
		sums[i] = n.linear(q.plan.linear[c])
	}
	n.as[input] = unmoved
	for _, r := range moved {
		n.as[r] = unmoved
	}
	return programOf(n.regs, sums)
}

// narrower copies the operations that one input moves.
type narrower struct {
	point *Point
	regs  *registers
	as    []int32 // by register of the plan: its register here, or unmoved
}

// unmoved marks a register that does not move.
const unmoved = -1

// take copies an operation that moves.
func (n *narrower) take(r int32) {
	op := n.point.plan.regs.ops[r]
	if op.Code == kernel.Linear {
		f := n.linear(linear{Const: op.K, Terms: op.Terms})
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
	if r := n.as[at]; r != unmoved {
		return r
	}
	return n.regs.settle(constant(n.point.registers[at]))
}

// linear takes what does not move into the constant.
func (n *narrower) linear(f linear) linear {
	out := linear{Const: f.Const, Terms: []kernel.Term{}}
	for _, t := range f.Terms {
		if r := n.as[t.Slot]; r != unmoved {
			out.Terms = append(out.Terms, kernel.Term{Slot: r, Factor: t.Factor})
		} else {
			out.Const += t.Factor * n.point.registers[t.Slot]
		}
	}
	slices.SortFunc(out.Terms, func(a, b kernel.Term) int { return int(a.Slot - b.Slot) })
	return out
}
