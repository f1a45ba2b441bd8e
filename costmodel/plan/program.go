package plan

import (
	"fmt"
	"slices"
	"sort"

	"piececost/costmodel/kernel"
)

// A Program computes given cells of a plan for a block of lanes. It is immutable; each goroutine has its own scratch.
type Program struct {
	Kernel  *kernel.Program
	Outputs []Output // one for each wanted cell
}

// An Output says where a cell's values come from: a column, or a constant where Column is below 0.
type Output struct {
	Column int
	Const  float64
}

// Program picks the operations that the wanted cells need and assigns them columns. The inputs are columns 0, 1, ...
func (p *Compiled) Program(wanted []Cell) *Program {
	sums := make([]linear, len(wanted))
	for i, c := range wanted {
		sums[i] = p.linear[c]
	}
	return programOf(&registers{inputs: p.regs.inputs, ops: slices.Clip(p.regs.ops), known: map[opKey]int32{}, fold: true}, sums)
}

// programOf computes sums over registers.
func programOf(regs *registers, sums []linear) *Program {
	s := scheduler{regs: regs}
	roots, outs := make([]int32, len(sums)), make([]Output, len(sums))
	for i, f := range sums {
		roots[i], outs[i] = -1, Output{Column: -1, Const: f.Const}
		if !f.isConst() {
			roots[i] = regs.settle(f)
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

// scheduler orders operations and assigns columns, giving a column free after its last use.
type scheduler struct {
	regs   *registers
	needed []bool
	column []int32 // by register
}

// A step is an operation at a point of the order; long sums are cut into steps that follow their terms closely, so that
// few columns are in use at once.
type step struct {
	op       kernel.Op // names registers
	register int32
	position int32 // the register after which it runs
}

func (s *scheduler) program(roots []int32) *kernel.Program {
	s.mark(roots)
	steps := s.steps()
	return s.assign(steps, roots)
}

func (s *scheduler) mark(roots []int32) {
	s.needed = make([]bool, len(s.regs.ops))
	for i := 0; i < s.regs.inputs; i++ {
		s.needed[i] = true
	}
	for _, r := range roots {
		if r >= 0 {
			s.needed[r] = true
		}
	}
	for i := len(s.regs.ops) - 1; i >= s.regs.inputs; i-- {
		if s.needed[i] {
			eachOperand(&s.regs.ops[i], func(at int32) { s.needed[at] = true })
		}
	}
}

// eachOperand calls visit for every register an operation reads.
func eachOperand(op *kernel.Op, visit func(int32)) {
	for _, t := range op.Terms {
		visit(t.Slot)
	}
	for _, at := range []int32{op.A, op.B, op.C}[:operandsOf(op.Code)] {
		visit(at)
	}
}

// operandsOf is how many of A, B and C an operation reads.
func operandsOf(code kernel.Code) int {
	switch code {
	case kernel.Linear, kernel.Accumulate:
		return 0
	case kernel.Ceil, kernel.CeilMax, kernel.MaxConst, kernel.MinConst, kernel.Call1:
		return 1
	case kernel.Mul, kernel.Div, kernel.Max, kernel.Min, kernel.Less, kernel.LessEq, kernel.Equal, kernel.Call2:
		return 2
	case kernel.Select:
		return 3
	}
	panic(fmt.Sprintf("no operation has the code %d", code))
}

const chunk = 4 // terms of a long sum taken in one pass

func (s *scheduler) steps() []step {
	var out []step
	for i := s.regs.inputs; i < len(s.regs.ops); i++ {
		op := s.regs.ops[i]
		if !s.needed[i] {
			continue
		}
		if op.Code != kernel.Linear || len(op.Terms) <= chunk {
			out = append(out, step{op: op, register: int32(i), position: int32(i)})
			continue
		}
		for from := 0; from < len(op.Terms); from += chunk {
			part := kernel.Op{Code: kernel.Accumulate, Terms: op.Terms[from:min(from+chunk, len(op.Terms))]}
			if from == 0 {
				part.Code, part.K = kernel.Linear, op.K
			}
			out = append(out, step{op: part, register: int32(i), position: part.Terms[len(part.Terms)-1].Slot})
		}
	}
	// a part runs as soon as its last term is there; a term's register number is never below the point where it is complete
	sort.SliceStable(out, func(a, b int) bool { return out[a].position < out[b].position })
	return out
}

// assign gives each register a column. Columns of inputs, of constant registers and of results are kept to the end.
func (s *scheduler) assign(steps []step, roots []int32) *kernel.Program {
	last := s.lastUses(steps, roots)
	out := &kernel.Program{Inputs: s.regs.inputs}
	s.column = make([]int32, len(s.regs.ops))
	for i := range s.column {
		s.column[i] = -1
	}
	next := int32(0)
	for ; int(next) < s.regs.inputs; next++ {
		s.column[next] = next
	}
	var free []int32
	for i, st := range steps {
		if s.column[st.register] < 0 {
			constant := st.op.Code == kernel.Linear && len(st.op.Terms) == 0
			if n := len(free); n > 0 && !constant {
				s.column[st.register], free = free[n-1], free[:n-1]
			} else {
				s.column[st.register] = next
				next++
			}
			if constant {
				out.Consts = append(out.Consts, kernel.Const{Slot: s.column[st.register], Value: st.op.K})
				continue
			}
		}
		out.Ops = append(out.Ops, s.rename(st))
		eachOperand(&st.op, func(at int32) {
			if last[at] == i {
				last[at] = -1
				free = append(free, s.column[at])
			}
		})
	}
	out.Slots = int(next)
	return out
}

// lastUses returns, by register, the index of the last step that reads it; never for what must stay.
func (s *scheduler) lastUses(steps []step, roots []int32) []int {
	const never = 1 << 60
	last := make([]int, len(s.regs.ops))
	for i := range steps {
		eachOperand(&steps[i].op, func(at int32) { last[at] = i })
	}
	for i := 0; i < s.regs.inputs; i++ {
		last[i] = never
	}
	for i := range steps {
		if op := steps[i].op; op.Code == kernel.Linear && len(op.Terms) == 0 {
			last[steps[i].register] = never
		}
	}
	for _, r := range roots {
		if r >= 0 {
			last[r] = never
		}
	}
	return last
}

// rename writes an operation with columns in place of registers.
func (s *scheduler) rename(st step) kernel.Op {
	op := st.op
	op.Dst = s.column[st.register]
	op.A, op.B, op.C = s.columnOf(op.A), s.columnOf(op.B), s.columnOf(op.C)
	op.Terms = make([]kernel.Term, len(st.op.Terms))
	for i, t := range st.op.Terms {
		op.Terms[i] = kernel.Term{Slot: s.column[t.Slot], Factor: t.Factor}
	}
	return op
}

func (s *scheduler) columnOf(register int32) int32 { return max(0, s.column[register]) }

// Values computes every compiled cell for one lane of inputs. The result is indexed by cell; cells that were not needed
// hold 0.
func (p *Compiled) Values(inputs []float64) []float64 { return p.valuesOf(p.registersAt(inputs)) }

func (p *Compiled) valuesOf(registers []float64) []float64 {
	values := make([]float64, len(p.linear))
	p.fillValues(values, registers)
	return values
}

func (p *Compiled) fillValues(values, registers []float64) {
	for _, c := range p.order {
		values[c] = p.linear[c].at(registers)
	}
}
