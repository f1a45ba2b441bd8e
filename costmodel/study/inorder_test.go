package study

import (
	"errors"
	"fmt"
	"runtime"
	"strings"
	"sync/atomic"
	"testing"
	"time"
)

// TestInOrder: things come in their order whatever the makers' pace, an error ends the work, and a maker's panic comes out
// at the caller.
func TestInOrder(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(4))
	var made atomic.Int32
	maker := func() func(int, *int) {
		return func(i int, into *int) {
			if i%7 == 0 {
				time.Sleep(time.Millisecond)
			}
			made.Add(1)
			*into = i
		}
	}
	for _, count := range []int{0, 1, 3, 100} {
		next := 0
		err := InOrder(t.Context(), count, maker, func(v *int) error {
			if *v != next {
				return fmt.Errorf("%d comes where %d should", *v, next)
			}
			next++
			return nil
		})
		if err != nil || next != count {
			t.Errorf("%d things: %v, %d used", count, err, next)
		}
	}
	made.Store(0)
	stop := errors.New("stop")
	if err := InOrder(t.Context(), 1000, maker, func(v *int) error {
		if *v == 5 {
			return stop
		}
		return nil
	}); !errors.Is(err, stop) || made.Load() > 20 {
		t.Errorf("stopped with %v after %d things", err, made.Load())
	}
	defer func() {
		fault, ok := recover().(*workerFault)
		if !ok || fault.fault != "broken" || !strings.Contains(fault.Error(), "TestInOrder") {
			t.Errorf("the panic is %v, its stack is not that of the worker", fault)
		}
	}()
	_ = InOrder(t.Context(), 50, func() func(int, *int) {
		return func(i int, _ *int) {
			if i == 20 {
				panic("broken")
			}
		}
	}, func(*int) error { return nil })
}
