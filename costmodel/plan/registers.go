package plan

import (
	"math"
	"slices"

	"piececost/costmodel/kernel"
)

// registers collects the operations of a plan in single-assignment form: operation i yields register i. The first
// registers are the input columns. Equal operations on equal registers are made once.
type registers struct {
	inputs int
	ops    []kernel.Op // A, B, C, Terms and Dst name registers
	known  map[opKey]int32
	fold   bool
}

type opKey struct {
	code    kernel.Code
	a, b, c int32
	k, k2   float64
	s       float64
}

func newRegisters(inputs int, fold bool) *registers {
	return &registers{inputs: inputs, ops: make([]kernel.Op, inputs), known: map[opKey]int32{}, fold: fold}
}

// emit appends an operation, or finds the equal one that is there.
func (r *registers) emit(op kernel.Op) linear {
	key := opKey{op.Code, op.A, op.B, op.C, op.K, op.K2, op.S}
	if op.Fn == nil && op.Terms == nil {
		if at, ok := r.known[key]; ok {
			return register(at)
		}
		r.known[key] = int32(len(r.ops))
	}
	op.Dst = int32(len(r.ops))
	if len(r.ops) == cap(r.ops) { // append alone grows a long list by a quarter, which copies it five times over
		r.ops = slices.Grow(r.ops, len(r.ops)+1)
	}
	r.ops = append(r.ops, op)
	return register(op.Dst)
}

func register(at int32) linear { return linear{Terms: []kernel.Term{{Slot: at, Factor: 1}}} }

// settle returns a register that holds the linear sum, making one where it is not a plain register already.
func (r *registers) settle(f linear) int32 {
	if slot, k, ok := f.single(); ok && k == 1 {
		return slot
	}
	return r.combine(f).Terms[0].Slot
}

// combine makes a register of a sum. Short sums are looked up, so that equal ones are made once.
func (r *registers) combine(f linear) linear {
	if len(f.Terms) > 2 {
		return r.emit(kernel.Op{Code: kernel.Linear, K: f.Const, Terms: f.Terms})
	}
	key := opKey{code: kernel.Linear, a: -1, b: -1, k: f.Const}
	if len(f.Terms) > 0 {
		key.a, key.s = f.Terms[0].Slot, f.Terms[0].Factor
	}
	if len(f.Terms) > 1 {
		key.b, key.k2 = f.Terms[1].Slot, f.Terms[1].Factor
	}
	if at, ok := r.known[key]; ok {
		return register(at)
	}
	r.known[key] = int32(len(r.ops))
	terms := f.Terms
	if terms == nil {
		terms = []kernel.Term{}
	}
	return r.emit(kernel.Op{Code: kernel.Linear, K: f.Const, Terms: terms})
}

// plainly makes every step a register of its own where folding is switched off, which tests compare with.
func (r *registers) plainly(f linear) linear {
	if r.fold || f.isConst() {
		return f
	}
	if _, k, ok := f.single(); ok && k == 1 {
		return f
	}
	return r.combine(f)
}

func (r *registers) add(f, g linear, k float64) linear { return r.plainly(f.add(g, k)) }

func (r *registers) mul(f, g linear) linear {
	if f.isConst() {
		f, g = g, f
	}
	if g.isConst() {
		return r.plainly(f.scale(g.Const))
	}
	a, fa, oka := f.single()
	b, fb, okb := g.single()
	if !oka {
		a, fa = r.settle(f), 1
	}
	if !okb {
		b, fb = r.settle(g), 1
	}
	return r.plainly(r.emit(kernel.Op{Code: kernel.Mul, A: min(a, b), B: max(a, b)}).scale(fa * fb))
}

func (r *registers) div(f, g linear) linear {
	if g.isConst() {
		return r.plainly(f.divide(g.Const))
	}
	a, fa, oka := f.single()
	b, fb, okb := g.single()
	if oka && okb && a == b && r.fold {
		return constant(fa / fb)
	}
	if !okb {
		b, fb = r.settle(g), 1
	}
	if oka {
		return r.plainly(r.emit(kernel.Op{Code: kernel.Div, A: a, B: b}).scale(fa / fb))
	}
	if r.fold && (f.isConst() || len(f.Terms) == 1 && f.Terms[0].Slot == b) {
		// (c + k*x)/y with x = y is k + c/y
		out := r.emit(kernel.Op{Code: kernel.Div, A: r.settle(constant(1)), B: b}).scale(f.Const / fb)
		if !f.isConst() {
			out.Const = f.Terms[0].Factor / fb
		}
		return out
	}
	return r.plainly(r.emit(kernel.Op{Code: kernel.Div, A: r.settle(f), B: b}).divide(fb))
}

// ceil takes the scaled register of a one-term sum into the operation itself.
func (r *registers) ceil(f linear) linear {
	op := kernel.Op{Code: kernel.Ceil, S: 1}
	if len(f.Terms) == 1 {
		op.A, op.S, op.K = f.Terms[0].Slot, f.Terms[0].Factor, f.Const
	} else {
		op.A = r.settle(f)
	}
	return r.emit(op)
}

// extreme makes max (or min) of two linear sums; a ceil that is only bounded below becomes one operation.
func (r *registers) extreme(f, g linear, greatest bool) linear {
	if f.isConst() {
		f, g = g, f
	}
	if !g.isConst() {
		code := kernel.Min
		if greatest {
			code = kernel.Max
		}
		a, b := r.settle(f), r.settle(g)
		return r.emit(kernel.Op{Code: code, A: min(a, b), B: max(a, b)})
	}
	at := r.settle(f)
	if !greatest {
		return r.emit(kernel.Op{Code: kernel.MinConst, A: at, K: g.Const})
	}
	if c := r.ops[at]; c.Code == kernel.Ceil && int(at) >= r.inputs {
		return r.emit(kernel.Op{Code: kernel.CeilMax, A: c.A, S: c.S, K: c.K, K2: g.Const})
	}
	return r.emit(kernel.Op{Code: kernel.MaxConst, A: at, K: g.Const})
}

func (r *registers) call(fn func([]float64) float64, args []linear) linear {
	vals := make([]float64, len(args))
	varies := false
	for i, a := range args {
		vals[i] = a.Const
		varies = varies || !a.isConst()
	}
	if !varies {
		return constant(fn(vals))
	}
	op := kernel.Op{Code: kernel.Call1, Fn: fn, A: r.settle(args[0])}
	if len(args) == 2 {
		op.Code, op.B = kernel.Call2, r.settle(args[1])
	}
	return r.emit(op)
}

// finite tells whether the linear sum holds numbers to go on with.
func (f linear) finite() bool {
	ok := !math.IsNaN(f.Const) && !math.IsInf(f.Const, 0)
	for _, t := range f.Terms {
		ok = ok && !math.IsNaN(t.Factor) && !math.IsInf(t.Factor, 0)
	}
	return ok
}
