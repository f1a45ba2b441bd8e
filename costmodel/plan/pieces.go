package plan

import (
	"math"
	"slices"

	"piececost/costmodel/kernel"
)

// A Piece is a stretch of whole volumes in which no count, comparison or choice that a cell depends on changes, so that
// the cell is one smooth function of the volume.
type Piece struct {
	From, To int    // volumes, both included
	Cell     Smooth // the cell inside the piece
	// Switched is what changed from From-1 to From; empty in the first piece, and where nothing changed but the volume has
	// doubled since the piece before began. Valid until the next Next.
	Switched []Switch
}

// A Smooth is a cell inside a piece: Inverse/n + Constant + Slope*n at the volume n, give or take Slack. Open means that
// it is not of that shape (a power, a product of two varying quantities, a table), so that only the kernel knows.
type Smooth struct {
	Inverse, Constant, Slope float64
	Slack                    float64
	Open                     bool
}

// At evaluates it at a volume.
func (s Smooth) At(n float64) float64 { return s.Inverse/n + s.Constant + s.Slope*n }

// A Switch is a register that says something else than at the volume before: a count (Before and After are the counts), a
// condition (1 or 0), or which of two is taken (0 the first, 1 the second).
type Switch struct {
	Register      int32
	Code          kernel.Code
	Before, After float64
}

// A Walker goes over the whole volumes of a range piece by piece. It owns its columns: one goroutine.
//
// At the start of a piece the kernel computes every register; the decisions are frozen and each register gets a curve.
// From the curves follows up to which volume each decision surely stands, rounding allowed for. What comes then is looked
// at with the kernel, volume by volume, so that the place of a jump is the kernel's word and never that of a solved
// equation. Where a decision hangs on a register without a curve, every volume is looked at.
type Walker struct {
	ops       []kernel.Op // of the needed registers, in order; A, B, C, Terms and Dst are slots
	registers []int32     // by slot
	inputs    int
	root      int32 // slot of the cell
	decisions []decision
	at        []int32 // by slot: its decision, or -1
	curves    []curve // by slot
	dirty     []bool  // by slot: its curve is to be made again
	near, far *lanes
	anchor    int // volume at which all curves were made last
	next, to  int
	piece     Piece
}

// Pieces starts a walk over a cell from a whole volume above 0 to another. The volume is input column 0; the others stand
// at the given values.
func (p *Compiled) Pieces(c Cell, inputs []float64, from, to int) *Walker {
	s := scheduler{regs: &registers{inputs: p.regs.inputs, ops: slices.Clip(p.regs.ops), known: map[opKey]int32{}, fold: true}}
	root := s.regs.settle(p.linear[c])
	s.mark([]int32{root})
	w := &Walker{inputs: p.regs.inputs, next: from, to: to}
	slot := make([]int32, len(s.regs.ops))
	for r, needed := range s.needed {
		if !needed {
			continue
		}
		slot[r] = int32(len(w.registers))
		w.registers = append(w.registers, int32(r))
		if r >= w.inputs {
			w.add(s.regs.ops[r], slot, slot[r])
		}
	}
	w.root = slot[root]
	w.curves = make([]curve, len(w.registers))
	w.dirty = make([]bool, len(w.registers))
	program := &kernel.Program{Ops: w.ops, Inputs: w.inputs, Slots: len(w.registers)}
	w.near, w.far = newLanes(program, inputs, nearLanes), newLanes(program, inputs, farLanes)
	for i := 1; i < w.inputs; i++ {
		w.curves[i] = flat(inputs[i])
	}
	return w
}

// add appends an operation with slots in place of registers.
func (w *Walker) add(op kernel.Op, slot []int32, dst int32) {
	op.Dst, op.A, op.B, op.C = dst, slot[op.A], slot[op.B], slot[op.C]
	terms := make([]kernel.Term, len(op.Terms))
	for i, t := range op.Terms {
		terms[i] = kernel.Term{Slot: slot[t.Slot], Factor: t.Factor}
	}
	op.Terms = terms
	w.ops = append(w.ops, op)
	for len(w.at) < len(w.registers) {
		w.at = append(w.at, -1)
	}
	if decides(op.Code) {
		w.at[dst] = int32(len(w.decisions))
		own := op
		w.decisions = append(w.decisions, decision{op: &own, slot: dst})
	}
}

// Next goes to the next piece and tells whether there is one.
func (w *Walker) Next() bool {
	if w.next > w.to {
		return false
	}
	from := w.next
	w.piece = Piece{From: from, Switched: w.piece.Switched[:0]}
	w.enter(from)
	w.next = w.jumpAfter(from)
	w.piece.To = w.next - 1
	w.piece.Cell = w.smooth()
	return true
}

// jumpAfter returns the first volume after the start of a piece at which a decision changes, or the one after the last
// volume of the piece: that of the range, or double the first, since rounding is reckoned from the size of things there.
func (w *Walker) jumpAfter(from int) int {
	limit := min(w.to, 2*from)
	seen, narrow := from, true
	for seen < limit {
		sure := w.surelyUntil(seen, limit)
		if sure >= limit {
			break
		}
		// where nothing is gained by foreseeing, many volumes are looked at together
		narrow = narrow || sure >= seen+nearLanes
		jump := 0
		if jump, seen = w.look(sure, limit, narrow); jump > 0 {
			return jump
		}
		narrow = false
	}
	return limit + 1
}

// Piece returns the piece that Next went to.
func (w *Walker) Piece() *Piece { return &w.piece }

// enter freezes the decisions at the first volume of a piece and makes the curves that change.
func (w *Walker) enter(n int) {
	v := w.lane(n)
	first := w.anchor == 0
	all := first || n > 2*w.anchor
	if all {
		w.anchor = n
	}
	for i := range w.dirty {
		w.dirty[i] = all
	}
	for i := range w.decisions {
		d := &w.decisions[i]
		if !first && !d.changed(v) {
			continue
		}
		says := d.says(v)
		if !first {
			w.piece.Switched = append(w.piece.Switched, Switch{w.registers[d.slot], d.op.Code, d.frozen, says})
		}
		d.frozen = says
		d.sure = 0
		w.dirty[d.slot] = true
	}
	w.bend(v, n)
}

// bend makes the dirty curves anew, and those of what hangs on them.
func (w *Walker) bend(v lane, n int) {
	w.curves[0] = curve{lin: 1, size: float64(n)}
	for i := range w.ops {
		op := &w.ops[i]
		old := w.dirty[op.Dst]
		operands := false
		eachOperand(op, func(at int32) { operands = operands || w.dirty[at] })
		if !old && !operands {
			continue
		}
		w.dirty[op.Dst] = true
		if k := w.at[op.Dst]; k >= 0 {
			if operands {
				w.decisions[k].sure = 0
			}
			w.curves[op.Dst] = w.decisions[k].curve(w.curves)
			// a count stays the same number where only its argument bends
			w.dirty[op.Dst] = old || !isCount(op.Code)
			continue
		}
		w.curves[op.Dst] = w.curveOf(op, v, float64(n))
	}
}

func isCount(c kernel.Code) bool {
	return c == kernel.Ceil || c == kernel.CeilMax || c == kernel.Less || c == kernel.LessEq || c == kernel.Equal
}

func (w *Walker) curveOf(op *kernel.Op, v lane, n float64) curve {
	varies := false
	eachOperand(op, func(at int32) { varies = varies || !w.curves[at].isFlat() })
	if !varies {
		out := flat(v.at(op.Dst))
		if op.Code == kernel.Linear {
			all := linearCurve(op.K, op.Terms, w.curves, nil)
			out.size = max(out.size, all.size)
		}
		return out
	}
	switch op.Code {
	case kernel.Linear:
		// whoever took over the poles of this register hangs on it and is made anew too
		return linearCurve(op.K, op.Terms, w.curves, w.curves[op.Dst].poles[:0])
	case kernel.Mul:
		return mulCurve(&w.curves[op.A], &w.curves[op.B], n)
	case kernel.Div:
		return divCurve(&w.curves[op.A], &w.curves[op.B], op.B, n)
	}
	return curve{open: true}
}

// surelyUntil returns the last volume up to which no decision changes for sure, from a volume of the piece on.
func (w *Walker) surelyUntil(n, limit int) int {
	out := limit
	for i := range w.decisions {
		d := &w.decisions[i]
		if d.sure <= n {
			d.foresee(w.curves, n, limit)
		}
		out = min(out, d.sure)
	}
	return out
}

// look takes the kernel's values from a volume on and returns the first volume at which a decision changes; 0 where none
// does up to seen.
func (w *Walker) look(from, limit int, narrow bool) (jump, seen int) {
	l := w.far
	if !w.far.holds(from) || w.far.to == from {
		if narrow {
			l = w.near
		}
		l.run(from, min(w.to, from+l.most-1))
	}
	seen = min(l.to, limit)
	for i := range w.decisions {
		d := &w.decisions[i]
		if d.sure > seen {
			continue
		}
		last := seen
		if jump > 0 {
			last = jump - 1
		}
		for n := max(from, d.sure); n <= last; n++ {
			if d.changed(l.lane(n)) {
				jump = n
				break
			}
		}
	}
	return jump, seen
}

// lane returns the values at a volume, computing them where they are not at hand.
func (w *Walker) lane(n int) lane {
	for _, l := range []*lanes{w.near, w.far} {
		if l.holds(n) {
			return l.lane(n)
		}
	}
	w.near.run(n, min(w.to, n+nearLanes-1))
	return w.near.lane(n)
}

// smooth is the cell over the piece.
func (w *Walker) smooth() Smooth {
	c := &w.curves[w.root]
	if c.open {
		return Smooth{Open: true}
	}
	f, slack := c.flatPart(float64(w.piece.From), float64(w.piece.To))
	if v := f.inv + f.con + f.lin + slack + c.size; math.IsNaN(v) || math.IsInf(v, 0) {
		return Smooth{Open: true}
	}
	return Smooth{Inverse: f.inv, Constant: f.con, Slope: f.lin, Slack: slack + 2*rounding*c.size}
}
