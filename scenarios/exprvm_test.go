package scenarios

import (
	"testing"

	"github.com/expr-lang/expr"
	"github.com/expr-lang/expr/vm"

	"piececost/costmodel"
)

// exprCase is the hoisted function with every equation of a step and of a pool left to the expression library's own
// virtual machine; sums and what is proportional to volume stay plain Go, which favours it.
type exprCase struct {
	t     testing.TB
	h     *hoisted
	steps []map[string]any // the variables of a step
	pools []map[string]any
	// equations of a step, of a pool, of the product
	hours, sets, refurbs, sharedX, pooledX *vm.Program
	labour, equip, build, maint, tool      *vm.Program
	machines, crews                        *vm.Program
	overhead, capital                      *vm.Program
}

func newExprCase(t testing.TB, h *hoisted) *exprCase {
	c := &exprCase{t: t, h: h}
	for i := range h.steps {
		s := &h.steps[i]
		c.steps = append(c.steps, map[string]any{"run": s.run, "setup": s.setup, "batch": s.batch, "perPlan": s.perPlan, "life": s.life, "refurb": s.refurb,
			"equip": s.equip, "build": s.build, "maint": s.maint, "tool": s.tool, "toolMaint": s.toolMaint, "refurbCost": s.refurbCost,
			"hourLabour": s.hourLabour, "crewLabour": s.crewLabour, "sharedX": s.sharedX,
			"n": 0.0, "hours": 0.0, "x": 0.0, "sets": 0.0, "refurbs": 0.0, "crews": 0.0, "machines": 0.0})
	}
	for _, p := range h.pools {
		c.pools = append(c.pools, map[string]any{"hours": 0.0, "perPlan": p.perPlan, "perShift": p.perShift})
	}
	step, pool := c.compiler(c.steps[0]), c.compiler(c.pools[0])
	c.hours = step("run*n + ceil(batch*n - 1e-9)*setup")
	c.sets = step("max(1.0, ceil(hours*perPlan - 1e-9), ceil(life*n - 1e-9))")
	c.refurbs = step("max(0.0, ceil(refurb*n - 1e-9) - sets)")
	c.sharedX, c.pooledX = step("hours*sharedX"), step("hours*machines")
	c.labour = step("hours*hourLabour + hours*crews*crewLabour")
	c.equip, c.build = step("x*equip"), step("x*build")
	c.maint, c.tool = step("x*maint + sets*toolMaint"), step("sets*tool + refurbs*refurbCost")
	c.machines = pool("max(1.0, ceil(hours*perPlan - 1e-9)) / hours")
	c.crews = pool("max(1.0, ceil(hours*perShift - 1e-9)) / hours")
	total := c.compiler(c.totals([12]float64{}))
	c.overhead = total("indirect*labour + fixed*(equip + build + maint + tool)")
	c.capital = total("wc*(material + scrap + bought + consumables + energy + labour)")
	return c
}

// compiler compiles equations over given variables, whose types the library then knows.
func (c *exprCase) compiler(env map[string]any) func(string) *vm.Program {
	return func(text string) *vm.Program {
		p, err := expr.Compile(text, expr.Env(env))
		if err != nil {
			c.t.Fatal(err)
		}
		return p
	}
}

func (c *exprCase) eval(p *vm.Program, env map[string]any) float64 {
	v, err := expr.Run(p, env)
	if err != nil {
		c.t.Fatal(err)
	}
	return v.(float64)
}

func (c *exprCase) totals(e [12]float64) map[string]any {
	return map[string]any{"material": e[0], "scrap": e[1], "bought": e[2], "consumables": e[3], "energy": e[4], "labour": e[5],
		"equip": e[6], "build": e[7], "maint": e[8], "tool": e[9], "indirect": c.h.indirect, "fixed": c.h.fixed, "wc": c.h.wc}
}

// cost computes the elements of a good product at annual volume n.
func (c *exprCase) cost(n float64) [12]float64 {
	for _, env := range c.steps {
		env["n"] = n
		env["hours"] = c.eval(c.hours, env)
	}
	for i, p := range c.h.pools {
		sum := 0.0
		for _, j := range p.steps {
			sum += c.steps[j]["hours"].(float64)
		}
		c.pools[i]["hours"] = sum
		machines, crews := c.eval(c.machines, c.pools[i]), c.eval(c.crews, c.pools[i])
		for _, j := range p.steps {
			c.steps[j]["machines"], c.steps[j]["crews"] = machines, crews
		}
	}
	e := c.h.perPiece
	for i, env := range c.steps {
		x := c.sharedX
		if c.h.steps[i].pool >= 0 {
			x = c.pooledX
		}
		env["x"] = c.eval(x, env)
		env["sets"] = c.eval(c.sets, env)
		env["refurbs"] = c.eval(c.refurbs, env)
		for k, p := range []*vm.Program{c.labour, c.equip, c.build, c.maint, c.tool} {
			e[5+k] += c.eval(p, env) / n
		}
	}
	env := c.totals(e)
	e[10], e[11] = c.eval(c.overhead, env), c.eval(c.capital, env)
	return e
}

// TestExpressionMachineEqualsPlainGo holds the benchmark's opponent to the same results.
func TestExpressionMachineEqualsPlainGo(t *testing.T) {
	for _, design := range []string{"A", "B", "C"} {
		h := hoist(newPlainCase(t, "TRAY_"+design))
		machine := newExprCase(t, h)
		for _, n := range costmodel.VolumeRange(1, 1_000_000, 200) {
			got, want := machine.cost(n), h.cost(n)
			for e := range want {
				if !near(got[e], want[e]) {
					t.Fatalf("%s at %v, %s: %v, plain Go %v", design, n, libraryElements()[e], got[e], want[e])
				}
			}
		}
	}
}
