package scenarios

import (
	"math"
	"slices"
	"testing"

	"piececost/costmodel"
)

// hoisted is the sample in plain Go with everything that depends on inputs only computed once: the fair opponent of the
// engine. What is proportional to volume is one factor; what remains a step are its whole counts.
type hoisted struct {
	perPiece [12]float64 // elements proportional to volume, a good product
	steps    []hoistedStep
	pools    []hoistedPool
	hours    []float64 // scratch, by step
	indirect float64
	fixed    float64
	wc       float64
}

type hoistedStep struct {
	run, setup, batch float64 // hours and batches for a volume of 1
	pool              int     // -1: shared
	perPlan           float64
	life, refurb      float64 // sets and refurbishments for a volume of 1
	equip, build      float64 // of one machine, per year
	maint, tool       float64
	toolMaint         float64
	refurbCost        float64
	hourLabour        float64
	crewLabour        float64
	sharedX           float64
}

type hoistedPool struct {
	steps             []int
	perPlan, perShift float64
}

func hoist(c *plainCase) *hoisted {
	h := &hoisted{indirect: c.indirect, fixed: c.fixed, wc: c.wc}
	base := c.cost(1)
	copy(h.perPiece[:5], base[:5])
	demand := map[*plainPart]float64{c.product: 1}
	pools := map[*plainMachine]int{}
	for _, p := range c.parts {
		out := demand[p]
		for i := len(p.steps) - 1; i >= 0; i-- {
			s := p.steps[i]
			out /= 1 - s.r
			for _, l := range s.joining {
				demand[l.child] += l.q * out
			}
			st := hoistedStep{run: out / s.c * s.t / (1 - s.m.u), setup: s.setup, batch: out / s.batch, pool: -1, perPlan: 1 / c.plan,
				life: c.programme * out / s.c / s.life, refurb: c.programme * out / s.c / s.refurb,
				equip: s.m.installed * plainCRF(c.interest, s.m.life), build: s.m.area * c.hall, maint: s.m.installed * s.m.mu,
				tool: s.tool * c.toolCRF, toolMaint: s.tool * c.toolMaint, refurbCost: s.refurbCost / c.programme,
				hourLabour: s.m.crew * c.paid * c.days * c.shifts / c.plan * c.wage, sharedX: 1 / (c.load * c.plan)}
			if s.m.pooled {
				n, ok := pools[s.m]
				if !ok {
					n = len(h.pools)
					pools[s.m] = n
					h.pools = append(h.pools, hoistedPool{perPlan: 1 / c.plan, perShift: c.shifts / c.plan})
				}
				st.pool = n
				if s.m.shifts {
					st.hourLabour, st.crewLabour = 0, c.days*c.paid*s.m.crew*c.wage
				}
				h.pools[n].steps = append(h.pools[n].steps, len(h.steps))
			}
			h.steps = append(h.steps, st)
		}
	}
	h.hours = make([]float64, len(h.steps))
	return h
}

func (h *hoisted) cost(n float64) (e [12]float64) {
	for i := range h.steps {
		s := &h.steps[i]
		h.hours[i] = s.run*n + plainCeil(s.batch*n)*s.setup
	}
	var labour, equip, build, maint, tool float64
	for i := range h.steps {
		s := &h.steps[i]
		if s.pool < 0 {
			x := h.hours[i] * s.sharedX
			labour += h.hours[i] * s.hourLabour
			equip += x * s.equip
			build += x * s.build
			maint += x * s.maint
		}
		k := math.Max(1, plainCeil(h.hours[i]*s.perPlan))
		sets := math.Max(k, plainCeil(s.life*n))
		refurb := math.Max(0, plainCeil(s.refurb*n)-sets)
		tool += sets*s.tool + refurb*s.refurbCost
		maint += sets * s.toolMaint
	}
	for i := range h.pools {
		p := &h.pools[i]
		sum := 0.0
		for _, j := range p.steps {
			sum += h.hours[j]
		}
		perHour := math.Max(1, plainCeil(sum*p.perPlan)) / sum
		crews := math.Max(1, plainCeil(sum*p.perShift)) / sum
		for _, j := range p.steps {
			s := &h.steps[j]
			x := h.hours[j] * perHour
			labour += h.hours[j]*s.hourLabour + h.hours[j]*crews*s.crewLabour
			equip += x * s.equip
			build += x * s.build
			maint += x * s.maint
		}
	}
	per := 1 / n
	e = h.perPiece
	e[5], e[6], e[7], e[8], e[9] = labour*per, equip*per, build*per, maint*per, tool*per
	e[10] = h.indirect*e[5] + h.fixed*(e[6]+e[7]+e[8]+e[9])
	e[11] = h.wc * (e[0] + e[1] + e[2] + e[3] + e[4] + e[5])
	return e
}

// TestEngineEqualsPlainGo compares the engine with the naive and the hoisted function at many volumes, batch and detail.
func TestEngineEqualsPlainGo(t *testing.T) {
	m := sampleModel(t)
	volumes := costmodel.VolumeRange(1, 1_000_000, 3000)
	for _, design := range []string{"A", "B", "C"} {
		c := newPlainCase(t, "TRAY_"+design)
		h := hoist(c)
		p := samplePlan(t, m, design)
		sweep, err := p.Sweep(volumes)
		if err != nil {
			t.Fatal(err)
		}
		for i, v := range volumes {
			naive, fast := c.cost(v), h.cost(v)
			total := 0.0
			columns := slices.Concat(sweep.Columns[1:4], sweep.Columns[5:]) // the sample has no outside processing
			for e := range naive {
				total += naive[e]
				got := columns[e][i]
				if !near(got, naive[e]) || !near(fast[e], naive[e]) {
					t.Fatalf("%s at %v, %s: engine %v, naive %v, hoisted %v", design, v,
						slices.Concat(libraryElements()[:3], libraryElements()[4:])[e], got, naive[e], fast[e])
				}
			}
			if !near(sweep.Columns[0][i], total) {
				t.Fatalf("%s at %v: engine %v, naive %v", design, v, sweep.Columns[0][i], total)
			}
			if i%300 == 0 {
				if got := p.Detail(v).Scenario().Must("piece_cost"); !near(got, total) {
					t.Errorf("%s at %v: detail %v, naive %v", design, v, got, total)
				}
			}
		}
	}
}

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-9*math.Max(math.Abs(a), math.Abs(b))+1e-12 }
