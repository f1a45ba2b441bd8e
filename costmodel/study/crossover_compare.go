package study

import (
	"context"
	"fmt"
	"math"

	"piececost/costmodel"
	"piececost/costmodel/table"
)

// comparison goes over costed volumes in their order and keeps what changes.
type comparison struct {
	plans    []*costmodel.Plan
	ask      CrossoverAsk
	costs    []float64 // of the plans, at the volume under way
	open     []int     // by pair: where its band began, 0 outside
	envelope envelope
	out      *Crossover
}

func newComparison(plans []*costmodel.Plan, ask CrossoverAsk) *comparison {
	c := &comparison{plans: plans, ask: ask, costs: make([]float64, len(plans)), out: &Crossover{From: ask.From, To: ask.To}}
	for i := range plans {
		for j := i + 1; j < len(plans); j++ {
			c.out.Pairs = append(c.out.Pairs, CrossoverPair{First: i, Second: j})
		}
	}
	c.open = make([]int, len(c.out.Pairs))
	return c
}

// look goes over the costed volumes of a span.
func (c *comparison) look(s *span) error {
	for k, v := range s.volumes {
		for i := range c.plans {
			if c.costs[i] = s.costs[i][k]; math.IsNaN(c.costs[i]) || math.IsInf(c.costs[i], 0) {
				return noCost(c.plans[i], v)
			}
		}
		c.see(int(v))
	}
	c.out.Looked += len(s.volumes)
	last := s.volumes[len(s.volumes)-1]
	c.ask.Progress.Tell((last - float64(c.ask.From) + 1) / float64(c.ask.To-c.ask.From+1))
	return nil
}

func noCost(p *costmodel.Plan, volume float64) error {
	return table.Diagnostic{Code: "number", Severity: table.Error, Scenario: p.Scenario.Name, Place: p.Scenario.Place,
		Summary: fmt.Sprintf("at %.0f per year the piece cost is no number", volume), Help: "look for an expression that divides by 0 there"}
}

// see notes what changes at a volume.
func (c *comparison) see(n int) {
	first := n == c.ask.From
	for i := range c.out.Pairs {
		p := &c.out.Pairs[i]
		p.Equal = (first || p.Equal) && equal(c.costs[p.First], c.costs[p.Second])
		if first {
			p.Cheaper = cheaperOf(c.costs, p.First, p.Second, p.First)
		} else if now := p.now(); cheaperOf(c.costs, p.First, p.Second, now) != now {
			p.Changes = append(p.Changes, OrderChange{Volume: n, Cheaper: p.First + p.Second - now})
		}
		c.band(i, n)
	}
	c.envelope.see(n, c.costs)
}

// now is the cheaper one after the changes so far.
func (p *CrossoverPair) now() int {
	if n := len(p.Changes); n > 0 {
		return p.Changes[n-1].Cheaper
	}
	return p.Cheaper
}

// cheaperOf returns the one of two that costs less; where they are equal, the one that held before.
func cheaperOf(costs []float64, a, b, held int) int {
	switch x, y := costs[a], costs[b]; {
	case equal(x, y):
		return held
	case x < y:
		return a
	}
	return b
}

func equal(x, y float64) bool { return math.Abs(x-y) <= equalCosts*min(math.Abs(x), math.Abs(y)) }

// band opens or closes the band of a pair.
func (c *comparison) band(pair, n int) {
	p := &c.out.Pairs[pair]
	x, y := c.costs[p.First], c.costs[p.Second]
	inside := math.Abs(x-y) <= c.ask.Tolerance*math.Abs(min(x, y))
	switch {
	case inside && c.open[pair] == 0:
		c.open[pair] = n
	case !inside && c.open[pair] > 0:
		p.Bands = append(p.Bands, VolumeBand{c.open[pair], n - 1})
		c.open[pair] = 0
	}
}

// finish closes what is open and finds what jumped at each change.
func (c *comparison) finish(ctx context.Context) (*Crossover, error) {
	for i := range c.out.Pairs {
		if c.open[i] > 0 {
			c.out.Pairs[i].Bands = append(c.out.Pairs[i].Bands, VolumeBand{c.open[i], c.ask.To})
		}
	}
	c.out.Envelope = c.envelope.finish(c.ask.To)
	return c.out, c.explain(ctx)
}

// A changeMoves is what both costs of a change do there.
type changeMoves struct {
	change        *OrderChange
	first, second CostMove
}

// explain finds what both costs do at each change.
func (c *comparison) explain(ctx context.Context) error {
	type place struct{ pair, change int }
	var places []place
	for i := range c.out.Pairs {
		for k := range c.out.Pairs[i].Changes {
			places = append(places, place{i, k})
		}
	}
	return InOrder(ctx, len(places), func() func(int, *changeMoves) {
		runners := make([]*costmodel.Runner, len(c.plans))
		for i, p := range c.plans {
			runners[i] = p.CostRunner(2)
		}
		return func(i int, into *changeMoves) {
			p := &c.out.Pairs[places[i].pair]
			into.change = &p.Changes[places[i].change]
			into.first = moveAt(c.plans[p.First], runners[p.First], into.change.Volume)
			into.second = moveAt(c.plans[p.Second], runners[p.Second], into.change.Volume)
		}
	}, func(m *changeMoves) error {
		m.change.First, m.change.Second = m.first, m.second
		return nil
	})
}

// moveAt says what a cost does from the volume before to this one.
func moveAt(p *costmodel.Plan, r *costmodel.Runner, volume int) CostMove {
	before, after := float64(volume-1), float64(volume)
	copy(r.Volumes(), []float64{before, after})
	costs := r.Block(2)[0]
	return CostMove{Before: costs[0], After: costs[1], Causes: p.Causes(before, after)}
}
