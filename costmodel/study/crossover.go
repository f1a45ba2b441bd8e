package study

import (
	"fmt"
	"math"

	"piececost/costmodel"
	"piececost/costmodel/kernel"
)

// A CrossoverAsk says over which volumes scenarios are compared, and how.
type CrossoverAsk struct {
	From, To  int     // whole annual volumes, good products a year, both included; 0 < From <= To
	Tolerance float64 // share of the cheaper cost up to which two scenarios count as costing the same in a band; 0.005
	// EveryVolume costs every whole volume. Without it the volumes are looked at where the pieces of the cost curves say
	// that something may happen; the answer is the same.
	EveryVolume bool
	// Progress, where set, is told now and then the share that is done; an error of it ends the work.
	Progress func(done float64) error
}

// A Crossover is the answer: at which volumes the order of scenarios changes. Scenarios are indexes of the plans.
type Crossover struct {
	From, To int
	Pairs    []CrossoverPair
	Envelope []CheapestStretch // which is the cheapest where, by volume
	Looked   int               // volumes costed, of To-From+1
}

// A CrossoverPair is the order of two scenarios over volume. Costs that differ by less than a millionth of a millionth
// count as equal: then the one that was cheaper at the volume before is still called the cheaper, at the first volume the
// first of the two.
type CrossoverPair struct {
	First, Second int
	Cheaper       int // at the volume From
	Changes       []OrderChange
	Bands         []VolumeBand // where they differ by no more than the tolerance
}

// An OrderChange is a volume from which another scenario of a pair is the cheaper one.
type OrderChange struct {
	Volume        int // first volume of the new order
	Cheaper       int
	First, Second CostMove
}

// A CostMove is what the piece cost of a scenario does from the volume before to this one, model currency a good piece,
// and what jumped. Without causes the cost only slides along its curve.
type CostMove struct {
	Before, After float64
	Causes        []costmodel.Cause
}

// A VolumeBand is a stretch of whole volumes, both ends included.
type VolumeBand struct{ From, To int }

// equalCosts is the share up to which two costs are equal; rounding alone makes about a hundredth of it.
const equalCosts = 1e-12

// A volumeSource yields stretches of volumes to be looked at, ascending. Between two stretches nothing happens: neither
// the order of two scenarios nor their being in a band changes but at a volume that is looked at.
type volumeSource interface {
	next() (VolumeBand, bool)
}

// everyVolume is the source that leaves nothing out.
type everyVolume struct{ rest []VolumeBand }

func (s *everyVolume) next() (VolumeBand, bool) {
	if len(s.rest) == 0 {
		return VolumeBand{}, false
	}
	out := s.rest[0]
	s.rest = s.rest[1:]
	return out, true
}

// Crossovers compares every pair of at least two plans at every whole volume of a range. Memory does not grow with the
// range, only with the number of changes.
func Crossovers(plans []*costmodel.Plan, ask CrossoverAsk) (*Crossover, error) {
	if len(plans) < 2 || ask.From < 1 || ask.To < ask.From || !(ask.Tolerance >= 0) {
		return nil, fmt.Errorf("a cross-over needs two scenarios and whole volumes from 1 up")
	}
	var source volumeSource = &everyVolume{[]VolumeBand{{ask.From, ask.To}}}
	if !ask.EveryVolume {
		source = newPieceSource(plans, ask)
	}
	c := newComparison(plans, ask)
	for {
		stretch, ok := source.next()
		if !ok {
			break
		}
		for n := stretch.From; n <= stretch.To; n++ {
			if c.filled == kernel.Lanes {
				if err := c.look(); err != nil {
					return nil, err
				}
			}
			c.volumes[c.filled] = float64(n)
			c.filled++
		}
	}
	if err := c.look(); err != nil {
		return nil, err
	}
	return c.finish()
}

// comparison goes over costed volumes and keeps what changes.
type comparison struct {
	plans    []*costmodel.Plan
	ask      CrossoverAsk
	runners  []*costmodel.Runner
	volumes  []float64
	filled   int
	costs    []float64 // of the plans, at the volume under way
	open     []int     // by pair: where its band began, 0 outside
	envelope envelope
	out      *Crossover
}

func newComparison(plans []*costmodel.Plan, ask CrossoverAsk) *comparison {
	c := &comparison{plans: plans, ask: ask, volumes: make([]float64, kernel.Lanes), costs: make([]float64, len(plans)), out: &Crossover{From: ask.From, To: ask.To}}
	for i, p := range plans {
		c.runners = append(c.runners, p.Runner())
		for j := i + 1; j < len(plans); j++ {
			c.out.Pairs = append(c.out.Pairs, CrossoverPair{First: i, Second: j})
		}
	}
	c.open = make([]int, len(c.out.Pairs))
	return c
}

// look costs the volumes that have gathered and goes over them.
func (c *comparison) look() error {
	if c.filled == 0 {
		return nil
	}
	columns := make([][]float64, len(c.runners))
	for i, r := range c.runners {
		copy(r.Volumes(), c.volumes[:c.filled])
		columns[i] = r.Block(c.filled)[0]
	}
	for k, v := range c.volumes[:c.filled] {
		for i := range columns {
			if c.costs[i] = columns[i][k]; math.IsNaN(c.costs[i]) || math.IsInf(c.costs[i], 0) {
				return noCost(c.plans[i], v)
			}
		}
		c.see(int(v))
	}
	c.out.Looked += c.filled
	last := c.volumes[c.filled-1]
	c.filled = 0
	if c.ask.Progress == nil {
		return nil
	}
	return c.ask.Progress((last - float64(c.ask.From) + 1) / float64(c.ask.To-c.ask.From+1))
}

func noCost(p *costmodel.Plan, volume float64) error {
	return costmodel.Diagnostic{Code: "number", Severity: costmodel.Error, Scenario: p.Scenario.Name, Place: p.Scenario.Place,
		Summary: fmt.Sprintf("at %.0f a year the piece cost is no number", volume), Help: "look for an expression that divides by 0 there"}
}

// see notes what changes at a volume.
func (c *comparison) see(n int) {
	first := n == c.ask.From
	for i := range c.out.Pairs {
		p := &c.out.Pairs[i]
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
	case math.Abs(x-y) <= equalCosts*min(math.Abs(x), math.Abs(y)):
		return held
	case x < y:
		return a
	}
	return b
}

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
func (c *comparison) finish() (*Crossover, error) {
	for i := range c.out.Pairs {
		p := &c.out.Pairs[i]
		if c.open[i] > 0 {
			p.Bands = append(p.Bands, VolumeBand{c.open[i], c.ask.To})
		}
		for k := range p.Changes {
			ch := &p.Changes[k]
			ch.First, ch.Second = c.move(p.First, ch.Volume), c.move(p.Second, ch.Volume)
			if c.ask.Progress != nil && k%64 == 63 {
				if err := c.ask.Progress(1); err != nil {
					return nil, err
				}
			}
		}
	}
	c.out.Envelope = c.envelope.finish(c.ask.To)
	return c.out, nil
}

func (c *comparison) move(plan, volume int) CostMove {
	before, after := float64(volume-1), float64(volume)
	out := CostMove{Causes: c.plans[plan].Causes(before, after)}
	r := c.runners[plan]
	copy(r.Volumes(), []float64{before, after})
	costs := r.Block(2)[0]
	out.Before, out.After = costs[0], costs[1]
	return out
}
