package kernel_test

import (
	"math"
	"math/rand"
	"testing"

	"piececost/costmodel/formula"
	"piececost/costmodel/kernel"
)

// The kernel has its own copies of two rules of the language, since it may import nothing; these tests hold them equal.

// TestCeilAsInTheLanguage compares around the very threshold, one representable number after the other.
func TestCeilAsInTheLanguage(t *testing.T) {
	p := kernel.Program{Ops: []kernel.Op{{Code: kernel.Ceil, Dst: 2, A: 0, S: 1}}, Inputs: 2, Slots: 3}
	least := kernel.Program{Ops: []kernel.Op{{Code: kernel.CeilMax, Dst: 2, A: 0, S: 1, K2: -1e18}}, Inputs: 2, Slots: 3}
	for _, whole := range []float64{-3, -1, 0, 1, 2, 7, 1000, 123456} {
		for _, sign := range []float64{-1, 1} {
			v := whole + sign*formula.WholeTolerance
			for range 20 {
				v = math.Nextafter(v, math.Inf(-1))
			}
			for range 40 {
				want := formula.Ceil(v)
				if got := runOne(&p, v, 0); got != want {
					t.Fatalf("ceil(%v) is %v in the kernel, %v in the language", v, got, want)
				}
				if got := runOne(&least, v, 0); got != want {
					t.Fatalf("ceil(%v) with a bound is %v in the kernel, %v in the language", v, got, want)
				}
				v = math.Nextafter(v, math.Inf(1))
			}
		}
	}
}

// comparisons are the operators as the plan makes them: > and >= by exchanging the sides.
var comparisons = []struct {
	code    kernel.Code
	op      formula.Op
	swapped bool
}{
	{kernel.Less, formula.Less, false}, {kernel.LessEq, formula.LessEq, false}, {kernel.Equal, formula.Equal, false},
}

// TestComparesAsTheLanguage walks away from a number by single units of the last place, on both sides and with both
// orders, past the distance at which two numbers are no longer the same.
func TestComparesAsTheLanguage(t *testing.T) {
	r := rand.New(rand.NewSource(2))
	starts := []float64{1, 1.5, 2 - 0x1p-52, 3, 1e-300, 5e-324, 1e300, 0.1, 1e9, 0, 0x1p-1022}
	for range 20 {
		starts = append(starts, math.Ldexp(1+r.Float64(), r.Intn(200)-100))
	}
	differing := 0
	for _, a := range starts {
		for _, towards := range []float64{math.Inf(-1), math.Inf(1)} {
			b := a
			for range 40 {
				for _, pair := range [][2]float64{{a, b}, {b, a}, {-a, -b}, {-b, -a}} {
					compareOne(t, pair[0], pair[1])
				}
				if !formula.SameNumber(a, b) {
					differing++
				}
				b = math.Nextafter(b, towards)
			}
		}
	}
	if differing < 100 {
		t.Errorf("only %d pairs differ: the walk is too short to tell", differing)
	}
	special := []float64{0, math.Copysign(0, -1), 1, math.Inf(1), math.Inf(-1), math.NaN(), math.MaxFloat64}
	for _, a := range special {
		for _, b := range special {
			compareOne(t, a, b)
		}
	}
}

func compareOne(t *testing.T, a, b float64) {
	t.Helper()
	for _, c := range comparisons {
		p := kernel.Program{Ops: []kernel.Op{{Code: c.code, Dst: 2, A: 0, B: 1}}, Inputs: 2, Slots: 3}
		if got, want := runOne(&p, a, b), formula.Apply(c.op, a, b); got != want {
			t.Fatalf("%v %s %v is %v in the kernel, %v in the language", a, c.op, b, got, want)
		}
	}
}
