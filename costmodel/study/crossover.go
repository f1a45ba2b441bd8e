package study

import (
	"context"
	"fmt"

	"piececost/costmodel"
)

// A CrossoverAsk says over which volumes scenarios are compared, and how.
type CrossoverAsk struct {
	From, To  int     // whole annual volumes, good products per year, both included; 0 < From <= To
	Tolerance float64 // share of the cheaper cost up to which two scenarios count as costing the same in a band; 0.005
	// EveryVolume costs every whole volume. Without it the volumes are looked at where the pieces of the cost curves say
	// that something may happen; the answer is the same.
	EveryVolume bool
	Progress    Progress
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
	Cheaper       int  // at the volume From
	Equal         bool // they cost the same at every volume; Cheaper then says nothing
	Changes       []OrderChange
	Bands         []VolumeBand // where they differ by no more than the tolerance
}

// An OrderChange is a volume from which another scenario of a pair is the cheaper one.
type OrderChange struct {
	Volume        int // first volume of the new order
	Cheaper       int
	First, Second CostMove
}

// A CostMove is what the piece cost of a scenario does from the volume before to this one, model currency per good piece,
// and what jumped. Without causes the cost only slides along its curve.
type CostMove struct {
	Before, After float64
	Causes        []costmodel.Cause
}

// A VolumeBand is a stretch of whole volumes, both ends included.
type VolumeBand struct{ From, To int }

// equalCosts is the share up to which two costs are equal; rounding alone makes about a hundredth of it.
const equalCosts = 1e-12

// Crossovers compares every pair of at least two plans at every whole volume of a range, on all cores. Memory does not grow
// with the range, only with the number of changes.
func Crossovers(ctx context.Context, plans []*costmodel.Plan, ask CrossoverAsk) (*Crossover, error) {
	if len(plans) < 2 || ask.From < 1 || ask.To < ask.From || !(ask.Tolerance >= 0) {
		return nil, fmt.Errorf("a cross-over needs two scenarios and whole volumes from 1 up")
	}
	c := newComparison(plans, ask)
	length := spanLength(plans)
	count := (ask.To-ask.From)/length + 1
	err := InOrder(ctx, count, func() func(int, *span) {
		w := newSpanWorker(plans, ask)
		return func(i int, s *span) {
			from := ask.From + i*length
			w.look(from, min(ask.To, from+length-1), s)
		}
	}, c.look)
	if err != nil {
		return nil, err
	}
	return c.finish(ctx)
}
