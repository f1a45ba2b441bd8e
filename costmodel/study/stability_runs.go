package study

import (
	"context"
	"errors"
	"sync"

	"piececost/costmodel"
	"piececost/costmodel/table"
)

// stabilitySearch is a study under way.
type stabilitySearch struct {
	plans []*costmodel.Plan
	ask   StabilityAsk

	lock  sync.Mutex // holds what follows, and Progress
	total int        // volumes of all runs
	done  int
}

// An orderRun is the cross-overs of a pair with values fixed in each of the two.
type orderRun struct {
	pair [2]int
	fix  [2][]costmodel.Fixed
	out  Orders
}

func (s *stabilitySearch) length() int { return s.ask.To - s.ask.From + 1 }

// expect says how many runs there are in all.
func (s *stabilitySearch) expect(runs int) { s.total = runs * s.length() }

// report notes volumes as done.
func (s *stabilitySearch) report(volumes int) {
	s.lock.Lock()
	defer s.lock.Unlock()
	s.done += volumes
	s.ask.Progress.Tell(float64(s.done) / float64(s.total))
}

// run makes the runs, each on one core.
func (s *stabilitySearch) run(ctx context.Context, runs []orderRun) error {
	return InOrder(ctx, len(runs), func() func(int, *error) {
		return func(i int, err *error) { *err = s.order(ctx, &runs[i]) }
	}, func(err *error) error { return *err })
}

// order compiles the pair of a run and finds its orders. What can't be compiled or costed is an impossible case, no error.
func (s *stabilitySearch) order(ctx context.Context, r *orderRun) error {
	plans := make([]*costmodel.Plan, 2)
	for i, n := range r.pair {
		plans[i] = s.plans[n]
		if len(r.fix[i]) == 0 {
			continue
		}
		p, ds := plans[i].With(r.fix[i]...)
		if p == nil {
			r.out.Impossible = ds.Errors()[0].Summary
			s.report(s.length())
			return nil
		}
		plans[i] = p
	}
	found, err := ordersOf(ctx, plans, s.ask.From, s.ask.To, s.report)
	var d table.Diagnostic
	switch {
	case errors.As(err, &d):
		r.out.Impossible = d.Summary
		return nil
	case err != nil:
		return err
	}
	r.out.Cheaper, r.out.Equal = r.pair[found.Cheaper], found.Equal
	for _, ch := range found.Changes {
		r.out.Changes = append(r.out.Changes, ch.Volume)
	}
	return nil
}

// ordersOf finds every change of order of two plans on one core, without what jumped there.
func ordersOf(ctx context.Context, plans []*costmodel.Plan, from, to int, report func(volumes int)) (*CrossoverPair, error) {
	ask := CrossoverAsk{From: from, To: to}
	w, c := newSpanWorker(plans, ask), newComparison(plans, ask)
	length := spanLength(plans)
	var s span
	for at := from; at <= to; at += length {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		last := min(to, at+length-1)
		w.look(at, last, &s)
		if err := c.look(&s); err != nil {
			return nil, err
		}
		report(last - at + 1)
	}
	return &c.out.Pairs[0], nil
}

// noCostToday says that a pair can't be costed as it stands.
func noBaseCost(p *costmodel.Plan, summary string) error {
	return table.Diagnostic{Code: "number", Severity: table.Error, Scenario: p.Scenario.Name, Place: p.Scenario.Place,
		Summary: summary, Help: "look for an expression that divides by 0 there"}
}
