package scenarios

import (
	"testing"

	"github.com/expr-lang/expr"
	"github.com/expr-lang/expr/vm"

	"piececost/costmodel"
	"piececost/costmodel/kernel"
)

// BenchmarkVolume prints ns per volume of scenario A in four ways, to be compared within one run: naive plain Go, plain Go
// with what depends on inputs only computed once, the engine, and the expression library's virtual machine.
func BenchmarkVolume(b *testing.B) {
	c := newPlainCase(b, "TRAY_A")
	h := hoist(c)
	b.Run("naive", func(b *testing.B) {
		for i := 0; b.Loop(); i++ {
			sink = c.cost(float64(1000 + i%100000))
		}
		perVolume(b, 1)
	})
	b.Run("hoisted", func(b *testing.B) {
		for i := 0; b.Loop(); i++ {
			sink = h.cost(float64(1000 + i%100000))
		}
		perVolume(b, 1)
	})
	r := samplePlan(b, sampleModel(b), "A").Runner()
	b.Run("engine", func(b *testing.B) {
		b.ReportAllocs()
		volumes := r.Volumes()
		for i := 0; b.Loop(); i++ {
			for j := range volumes {
				volumes[j] = float64(1000 + (i*kernel.Lanes+j)%100000)
			}
			columns = r.Block(kernel.Lanes)
		}
		perVolume(b, kernel.Lanes)
		b.ReportMetric(float64(r.Operations()), "ops/block")
	})
	machine := newExprCase(b, h)
	b.Run("expression-vm", func(b *testing.B) {
		for i := 0; b.Loop(); i++ {
			machine.cost(b, float64(1000+i%100000))
		}
		perVolume(b, 1)
	})
}

var (
	sink    [12]float64
	columns [][]float64
)

func perVolume(b *testing.B, lanes int) {
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*lanes), "ns/volume")
}

// BenchmarkEveryVolume costs every whole volume from 1 to 300,000 for all three scenarios.
func BenchmarkEveryVolume(b *testing.B) {
	m := sampleModel(b)
	var runners []*costmodel.Runner
	for _, design := range []string{"A", "B", "C"} {
		runners = append(runners, samplePlan(b, m, design).Runner())
	}
	for b.Loop() {
		for _, r := range runners {
			for from := 1; from <= 300_000; from += kernel.Lanes {
				volumes := r.Volumes()
				n := min(kernel.Lanes, 300_000-from+1)
				for j := 0; j < n; j++ {
					volumes[j] = float64(from + j)
				}
				columns = r.Block(n)
			}
		}
	}
	b.ReportMetric(b.Elapsed().Seconds()/float64(b.N), "s/all-volumes")
}

// TestBlockAllocatesNothing holds the promise of Runner.
func TestBlockAllocatesNothing(t *testing.T) {
	r := samplePlan(t, sampleModel(t), "A").Runner()
	for i := range r.Volumes() {
		r.Volumes()[i] = float64(1 + i)
	}
	if n := testing.AllocsPerRun(10, func() { columns = r.Block(kernel.Lanes) }); n != 0 {
		t.Errorf("%v allocations a block", n)
	}
}

// exprCase runs the hoisted equations on the expression library's own virtual machine, a map of names a step.
type exprCase struct {
	h     *hoisted
	hours *vm.Program
	rest  []*vm.Program
	env   []map[string]any
}

func newExprCase(b *testing.B, h *hoisted) *exprCase {
	compile := func(text string) *vm.Program {
		p, err := expr.Compile(text, expr.Env(map[string]any{}), expr.AllowUndefinedVariables())
		if err != nil {
			b.Fatal(err)
		}
		return p
	}
	c := &exprCase{h: h, hours: compile("run*n + ceil(batch*n - 1e-9)*setup")}
	for _, text := range []string{"x*equip", "x*build", "x*maint + sets*toolMaint", "sets*tool + refurbs*refurbCost", "hours*hourLabour"} {
		c.rest = append(c.rest, compile(text))
	}
	c.rest = append(c.rest, compile("max(1, ceil(hours*perPlan - 1e-9), ceil(life*n - 1e-9))"), compile("max(0, ceil(refurb*n - 1e-9) - sets)"))
	for i := range h.steps {
		s := &h.steps[i]
		c.env = append(c.env, map[string]any{"run": s.run, "setup": s.setup, "batch": s.batch, "perPlan": s.perPlan, "life": s.life, "refurb": s.refurb,
			"equip": s.equip, "build": s.build, "maint": s.maint, "tool": s.tool, "toolMaint": s.toolMaint, "refurbCost": s.refurbCost, "hourLabour": s.hourLabour})
	}
	return c
}

func (c *exprCase) cost(b *testing.B, n float64) {
	eval := func(p *vm.Program, env map[string]any) any {
		v, err := expr.Run(p, env)
		if err != nil {
			b.Fatal(err)
		}
		return v
	}
	for i := range c.env {
		env := c.env[i]
		env["n"] = n
		env["hours"] = eval(c.hours, env)
		env["x"] = env["hours"].(float64) * c.h.steps[i].sharedX
		env["sets"] = eval(c.rest[5], env)
		env["refurbs"] = eval(c.rest[6], env)
		for _, p := range c.rest[:5] {
			exprSink = eval(p, env)
		}
	}
}

var exprSink any
