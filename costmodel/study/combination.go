package study

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"piececost/costmodel"
)

// A CombinationAsk says which combinations of alternatives are looked at and which of them may be chosen.
type CombinationAsk struct {
	Volume  float64 // good products per year
	MaxMass float64 // kg of a good product; +Inf for no limit
	Targets bool    // only those that meet every computed target of the sheet Targets
	Fixed   []int   // by tag of the combiner: 1 in, -1 out, 0 free
	Keep    int     // number of the best that are listed, 1 or more
	Most    int     // valid combinations beyond which the search ends with an error
	// Progress is told roughly.
	Progress Progress
}

// A Combination is a choice of alternatives.
type Combination struct {
	Plan *costmodel.Plan // compiled as any scenario
	Tags []string        // that are in, in the order of the sheets
	Cost float64         // model currency per good piece
	Mass float64         // kg, net
	// Missed are the computed targets that it misses.
	Missed []costmodel.Judgement

	in []bool
}

// Combinations is the answer: the cheapest first.
type Combinations struct {
	Best     []Combination // at most Keep; equal costs in the order in which they are tried
	Valid    int           // combinations that hang together, each set of rows once
	Repeated int           // that differ from one of them in alternatives without effect
	TooHeavy int           // of them
	Missing  int           // of the others, those that miss a target, where targets are asked for
	NoCost   int           // of them, those in which a check fails or the cost is no number
}

// Fit is how many combinations have a cost and keep the limits; Best are the cheapest of them.
func (c *Combinations) Fit() int { return c.Valid - c.TooHeavy - c.Missing - c.NoCost }

// ErrManyCombinations ends a search that was given a limit.
var ErrManyCombinations = errors.New("too many valid combinations; fix some of the alternatives")

// Combine costs every valid combination of the alternatives at one volume and keeps the cheapest. The best are compiled
// once more as scenarios of their own and must cost the same; else it is a fault of the program.
func Combine(ctx context.Context, c *costmodel.Combiner, ask CombinationAsk) (*Combinations, error) {
	s := combinationSearch{ctx: ctx, c: c, ask: ask, out: &Combinations{}}
	c.Reset()
	var err error
	c.Each(ask.Fixed, func(in []bool) bool {
		err = s.try(in)
		return err == nil
	})
	if err == nil {
		err = s.cost()
	}
	if err != nil {
		return nil, err
	}
	for i := range s.out.Best {
		b := &s.out.Best[i]
		if err := confirm(c, b, ask.Volume); err != nil {
			return nil, err
		}
		if ask.Targets && len(b.Missed) > 0 {
			return nil, fmt.Errorf("internal: the combination %v misses %s", b.Tags, b.Missed[0].Target.Name())
		}
	}
	return s.out, nil
}

type combinationSearch struct {
	ctx   context.Context // of the one call
	c     *costmodel.Combiner
	ask   CombinationAsk
	out   *Combinations
	block [][]bool // by lane
	lanes int
}

// try puts a combination into the block, each set of rows once.
func (s *combinationSearch) try(in []bool) error {
	if !s.c.Add(in, s.ask.Volume) {
		return nil
	}
	again := s.c.Again()
	if again {
		s.out.Repeated++
	} else {
		s.out.Valid++
	}
	switch {
	case s.out.Valid+s.out.Repeated > s.ask.Most:
		return fmt.Errorf("more than %d are %w", s.ask.Most, ErrManyCombinations)
	case again:
		return nil
	}
	if s.lanes == len(s.block) {
		s.block = append(s.block, nil)
	}
	s.block[s.lanes] = append(s.block[s.lanes][:0], in...)
	s.lanes++
	if s.c.Full() {
		return s.cost()
	}
	return nil
}

// cost costs the block and keeps the best.
func (s *combinationSearch) cost() error {
	if s.lanes > 0 {
		cost, mass := s.c.Cost()
		for i := range cost {
			s.keep(cost[i], mass[i], i)
		}
		s.lanes = 0
	}
	s.ask.Progress.Tell(s.c.Share())
	return s.ctx.Err()
}

func (s *combinationSearch) keep(cost, mass float64, lane int) {
	switch {
	case math.IsNaN(cost) || math.IsInf(cost, 0):
		s.out.NoCost++
		return
	case mass > s.ask.MaxMass*(1+1e-12):
		s.out.TooHeavy++
		return
	case s.ask.Targets && s.c.MissesTarget(lane):
		s.out.Missing++
		return
	}
	n := len(s.out.Best)
	if n == s.ask.Keep && cost >= s.out.Best[n-1].Cost {
		return
	}
	at, _ := slices.BinarySearchFunc(s.out.Best, cost, func(b Combination, cost float64) int {
		if b.Cost <= cost {
			return -1
		}
		return 1
	})
	s.out.Best = slices.Insert(s.out.Best, at, Combination{Cost: cost, Mass: mass, in: slices.Clone(s.block[lane])})
	if len(s.out.Best) > s.ask.Keep {
		s.out.Best = s.out.Best[:s.ask.Keep]
	}
}

// confirm compiles a combination as a scenario and holds the block's figures against it.
func confirm(c *costmodel.Combiner, b *Combination, volume float64) error {
	s := c.With(c.Fewest(b.in))
	p, ds := c.Model().Compile(s, costmodel.CompileOptions{})
	if p == nil {
		return fmt.Errorf("internal: the combination %v does not compile: %w", s.Alternatives, ds[0])
	}
	detail := p.Detail(volume)
	d := detail.Scenario()
	cost, mass := d.Must("piece_cost"), d.Must("net_mass")
	if !(math.Abs(cost-b.Cost) <= 1e-9*math.Abs(cost)) || !(math.Abs(mass-b.Mass) <= 1e-9*mass) {
		return fmt.Errorf("internal: the combination %v costs %v and weighs %v, as a scenario %v and %v", s.Alternatives, b.Cost, b.Mass, cost, mass)
	}
	b.Plan, b.Tags, b.Cost, b.Mass = p, s.Alternatives, cost, mass
	for _, t := range c.Model().Targets {
		if j := t.Judge(detail); !t.Stated && j.Verdict == costmodel.Missed {
			b.Missed = append(b.Missed, j)
		}
	}
	return nil
}
