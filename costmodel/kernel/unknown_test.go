package kernel_test

import (
	"strings"
	"testing"

	"piececost/costmodel/kernel"
)

// TestUnknownOperation: a code that no loop computes is a fault of the program; the column would keep what it held.
func TestUnknownOperation(t *testing.T) {
	p := &kernel.Program{Ops: []kernel.Op{{Code: kernel.Call2 + 99, Dst: 1}}, Inputs: 1, Slots: 2}
	s := p.NewScratch(4)
	defer func() {
		if r := recover(); r == nil || !strings.Contains(r.(string), "no operation has the code") {
			t.Errorf("the panic is %v", r)
		}
	}()
	s.Run(4)
}
