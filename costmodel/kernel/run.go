package kernel

import (
	"fmt"
	"math"
)

// tolerance is taken off before counting whole things (see formula.WholeTolerance; a test holds the two equal).
const tolerance = 1e-9

// Run computes the first n lanes of every column of the program from its input columns.
func (s *Scratch) Run(n int) {
	for i := range s.program.Ops {
		s.step(&s.program.Ops[i], n)
	}
}

// step dispatches one operation. One case a code: the loops themselves stand below.
func (s *Scratch) step(op *Op, n int) {
	dst := s.Column(int(op.Dst))[:n]
	switch op.Code {
	case Linear:
		s.linear(dst, op.K, op.Terms, n)
		return
	case Accumulate:
		s.accumulate(dst, op.Terms, n)
		return
	}
	a := s.Column(int(op.A))[:n]
	switch op.Code {
	case Ceil:
		ceilTo(dst, a, op.S, op.K)
	case CeilMax:
		ceilMaxTo(dst, a, op.S, op.K, op.K2)
	case MaxConst:
		maxConstTo(dst, a, op.K)
	case MinConst:
		minConstTo(dst, a, op.K)
	case Call1:
		for i := range dst {
			s.args[0] = a[i]
			dst[i] = op.Fn(s.args[:1])
		}
	default:
		s.binary(op, dst, a, s.Column(int(op.B))[:n])
	}
}

func (s *Scratch) binary(op *Op, dst, a, b []float64) {
	switch op.Code {
	case Mul:
		mulTo(dst, a, b)
	case Div:
		divTo(dst, a, b)
	case Max:
		maxTo(dst, a, b)
	case Min:
		minTo(dst, a, b)
	case Less:
		lessTo(dst, a, b)
	case LessEq:
		lessEqTo(dst, a, b)
	case Equal:
		equalTo(dst, a, b)
	case Select:
		selectTo(dst, a, b, s.Column(int(op.C))[:len(dst)])
	case Call2:
		for i := range dst {
			s.args[0], s.args[1] = a[i], b[i]
			dst[i] = op.Fn(s.args[:2])
		}
	default: // the column would keep what it held
		panic(fmt.Sprintf("no operation has the code %d", op.Code))
	}
}

// linear sets dst to k plus the terms, four columns a pass.
func (s *Scratch) linear(dst []float64, k float64, terms []Term, n int) {
	switch {
	case len(terms) == 0:
		for i := range dst {
			dst[i] = k
		}
	case len(terms) == 1:
		a, fa := s.Column(int(terms[0].Slot))[:n], terms[0].Factor
		for i := range dst {
			dst[i] = k + fa*a[i]
		}
	case len(terms) == 2:
		linear2To(dst, k, s.Column(int(terms[0].Slot)), s.Column(int(terms[1].Slot)), terms[0].Factor, terms[1].Factor)
	case len(terms) == 3:
		linear2To(dst, k, s.Column(int(terms[0].Slot)), s.Column(int(terms[1].Slot)), terms[0].Factor, terms[1].Factor)
		s.accumulate(dst, terms[2:], n)
	default:
		a, b := s.Column(int(terms[0].Slot))[:n], s.Column(int(terms[1].Slot))[:n]
		c, d := s.Column(int(terms[2].Slot))[:n], s.Column(int(terms[3].Slot))[:n]
		fa, fb, fc, fd := terms[0].Factor, terms[1].Factor, terms[2].Factor, terms[3].Factor
		for i := range dst {
			dst[i] = (k + fa*a[i]) + fb*b[i] + (fc*c[i] + fd*d[i])
		}
		s.accumulate(dst, terms[4:], n)
	}
}

// accumulate adds the terms to dst, four columns a pass.
func (s *Scratch) accumulate(dst []float64, terms []Term, n int) {
	for len(terms) >= 4 {
		a, b := s.Column(int(terms[0].Slot))[:n], s.Column(int(terms[1].Slot))[:n]
		c, d := s.Column(int(terms[2].Slot))[:n], s.Column(int(terms[3].Slot))[:n]
		fa, fb, fc, fd := terms[0].Factor, terms[1].Factor, terms[2].Factor, terms[3].Factor
		for i := range dst {
			dst[i] += (fa*a[i] + fb*b[i]) + (fc*c[i] + fd*d[i])
		}
		terms = terms[4:]
	}
	if len(terms) >= 2 {
		a, b := s.Column(int(terms[0].Slot))[:n], s.Column(int(terms[1].Slot))[:n]
		fa, fb := terms[0].Factor, terms[1].Factor
		for i := range dst {
			dst[i] += fa*a[i] + fb*b[i]
		}
		terms = terms[2:]
	}
	if len(terms) == 1 {
		a, fa := s.Column(int(terms[0].Slot))[:n], terms[0].Factor
		for i := range dst {
			dst[i] += fa * a[i]
		}
	}
}

func linear2To(dst []float64, k float64, a, b []float64, fa, fb float64) {
	a, b = a[:len(dst)], b[:len(dst)]
	for i := range dst {
		dst[i] = k + fa*a[i] + fb*b[i]
	}
}

func mulTo(dst, a, b []float64) {
	a, b = a[:len(dst)], b[:len(dst)]
	for i := range dst {
		dst[i] = a[i] * b[i]
	}
}

func divTo(dst, a, b []float64) {
	a, b = a[:len(dst)], b[:len(dst)]
	for i := range dst {
		dst[i] = a[i] / b[i]
	}
}

func ceilTo(dst, a []float64, s, k float64) {
	a = a[:len(dst)]
	for i := range dst {
		dst[i] = math.Ceil((k + s*a[i]) - tolerance)
	}
}

func ceilMaxTo(dst, a []float64, s, k, least float64) {
	a = a[:len(dst)]
	for i := range dst {
		v := math.Ceil((k + s*a[i]) - tolerance)
		if v < least {
			v = least
		}
		dst[i] = v
	}
}

func maxTo(dst, a, b []float64) {
	a, b = a[:len(dst)], b[:len(dst)]
	for i := range dst {
		v := a[i]
		if v < b[i] || b[i] != b[i] {
			v = b[i]
		}
		dst[i] = v
	}
}

func maxConstTo(dst, a []float64, k float64) {
	a = a[:len(dst)]
	for i := range dst {
		v := a[i]
		if v < k {
			v = k
		}
		dst[i] = v
	}
}

func minTo(dst, a, b []float64) {
	a, b = a[:len(dst)], b[:len(dst)]
	for i := range dst {
		v := a[i]
		if v > b[i] || b[i] != b[i] {
			v = b[i]
		}
		dst[i] = v
	}
}

func minConstTo(dst, a []float64, k float64) {
	a = a[:len(dst)]
	for i := range dst {
		v := a[i]
		if v > k {
			v = k
		}
		dst[i] = v
	}
}

// same compares as formula.SameNumber does; a test holds the two equal.
func same(a, b float64) bool {
	return a == b || math.Abs(a-b) < math.Min(math.Abs(a), math.Abs(b))*0x1p-48
}

func lessTo(dst, a, b []float64) {
	a, b = a[:len(dst)], b[:len(dst)]
	for i := range dst {
		dst[i] = 0
		if a[i] < b[i] && !same(a[i], b[i]) {
			dst[i] = 1
		}
	}
}

func lessEqTo(dst, a, b []float64) {
	a, b = a[:len(dst)], b[:len(dst)]
	for i := range dst {
		dst[i] = 0
		if a[i] < b[i] || same(a[i], b[i]) {
			dst[i] = 1
		}
	}
}

func equalTo(dst, a, b []float64) {
	a, b = a[:len(dst)], b[:len(dst)]
	for i := range dst {
		dst[i] = 0
		if same(a[i], b[i]) {
			dst[i] = 1
		}
	}
}

func selectTo(dst, q, a, b []float64) {
	q, a, b = q[:len(dst)], a[:len(dst)], b[:len(dst)]
	for i := range dst {
		v := b[i]
		if q[i] != 0 {
			v = a[i]
		}
		dst[i] = v
	}
}
