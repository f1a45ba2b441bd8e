package study

import (
	"context"
	"fmt"
	"sort"

	"piececost/costmodel"
)

// A StabilityAsk says whose cross-overs are looked at, and which inputs are moved. Scenarios are indexes of the plans.
type StabilityAsk struct {
	From, To int      // whole annual volumes, good products per year, both included; 0 < From < To
	Pairs    [][2]int // first and second scenario of each pair
	// Stated are the inputs with low and high of the sheet Uncertainty. Without any, the Top inputs that move the difference
	// of a pair most (0 for all) are moved by plus and minus Share of the base value, within the plausible range.
	Stated []costmodel.Uncertain
	Share  float64
	Top    int
	// Sized, where set, is told how many runs over the whole range the inputs of all pairs take, before they begin.
	Sized    func(runs int)
	Progress Progress
}

// A Stability says how cross-overs move when one input is at its low or high, all else unchanged.
type Stability struct {
	From, To int
	Pairs    []StabilityPair
}

// A StabilityPair is the cross-overs of two scenarios. Inputs are ranked: first those that break them, then by how far they
// move.
type StabilityPair struct {
	First, Second int
	BaseValue     Orders
	Volume        int // at which the inputs that move the difference most were sought; 0 where they are stated
	Inputs        []StabilityInput
	Unmoved       []string // inputs that can't be moved, each with the reason
	Others        int      // inputs that move the difference less than those that were looked at
}

// Orders is how two scenarios stand to each other over the range.
type Orders struct {
	Cheaper    int    // at the first volume of the range
	Equal      bool   // they cost the same at every volume; Cheaper then says nothing
	Changes    []int  // the first volume of each new order, ascending
	Impossible string // why such a case can't be costed; then nothing else holds
}

// Span returns the first and the last cross-over; ok is false where there is none.
func (o Orders) Span() (first, last int, ok bool) {
	if len(o.Changes) == 0 || o.Impossible != "" {
		return 0, 0, false
	}
	return o.Changes[0], o.Changes[len(o.Changes)-1], true
}

// A StabilityInput is what an input does to the cross-overs of a pair. Its range holds for both scenarios: the same value
// in both where it is stated, the same share of what its cell says where it is not, at every volume.
type StabilityInput struct {
	Input     costmodel.Varied // as the second scenario has it, or the first where that lacks the row
	Low, High StabilityEnd
	Breaks    bool // at low or high
	Moved     int  // pieces by which the first or the last cross-over moves at most
}

// A StabilityEnd is a pair with an input at one end of its range.
type StabilityEnd struct {
	Value float64 // coherent, of Input; a share is one of the base value, at the scenario's own volume
	Orders
	FirstMoved, LastMoved int // pieces from the base value's, where both have a cross-over
	// Breaks says that there is a cross-over where at the base values there is none, none where at the base values there is one, that the other
	// scenario is the cheaper one throughout, or that one of them is where at the base values they cost the same, or the other way round.
	Breaks bool
}

// against compares an end with the base values.
func (e *StabilityEnd) against(baseValue Orders) {
	first, last, ok := e.Span()
	f, l, had := baseValue.Span()
	switch {
	case e.Impossible != "":
	case ok && had:
		e.FirstMoved, e.LastMoved = first-f, last-l
	default:
		e.Breaks = ok != had || e.Cheaper != baseValue.Cheaper || e.Equal != baseValue.Equal
	}
}

// settle fills in what follows from both ends.
func (in *StabilityInput) settle(baseValue Orders) {
	for _, e := range []*StabilityEnd{&in.Low, &in.High} {
		e.against(baseValue)
		in.Breaks = in.Breaks || e.Breaks
		for _, moved := range []int{e.FirstMoved, e.LastMoved} {
			in.Moved = max(in.Moved, moved, -moved)
		}
	}
}

// Stabilities finds the cross-overs of every pair at every whole volume of the range, as the case stands and with one input
// after the other at its low and its high. Each is a case of its own, compiled anew with that value.
func Stabilities(ctx context.Context, plans []*costmodel.Plan, ask StabilityAsk) (*Stability, error) {
	if len(ask.Pairs) == 0 || ask.From < 1 || ask.To <= ask.From {
		return nil, fmt.Errorf("the stability of a cross-over needs two scenarios and whole volumes from 1 up")
	}
	s := &stabilitySearch{plans: plans, ask: ask}
	out := &Stability{From: ask.From, To: ask.To}
	var baseValue []orderRun
	for _, p := range ask.Pairs {
		baseValue = append(baseValue, orderRun{pair: p})
	}
	before := 1 + choosing
	if len(ask.Stated) > 0 {
		before = 1
	}
	s.expect(len(baseValue) * (before + 2*max(len(ask.Stated), ask.Top)))
	if err := s.run(ctx, baseValue); err != nil {
		return nil, err
	}
	var moved []orderRun
	for i, p := range ask.Pairs {
		pair := StabilityPair{First: p[0], Second: p[1], BaseValue: baseValue[i].out}
		if pair.BaseValue.Impossible != "" {
			return nil, noBaseCost(plans[p[1]], pair.BaseValue.Impossible)
		}
		runs, err := s.choose(ctx, &pair)
		if err != nil {
			return nil, err
		}
		moved = append(moved, runs...)
		out.Pairs = append(out.Pairs, pair)
	}
	if ask.Sized != nil {
		ask.Sized(len(moved))
	}
	s.expect(before*len(baseValue) + len(moved))
	if err := s.run(ctx, moved); err != nil {
		return nil, err
	}
	for i := range out.Pairs {
		moved = out.Pairs[i].settle(moved)
	}
	return out, nil
}

// settle takes the runs of the pair's inputs, low and high of each, and ranks the inputs; it returns the runs left over.
func (p *StabilityPair) settle(runs []orderRun) []orderRun {
	for i := range p.Inputs {
		in := &p.Inputs[i]
		in.Low.Orders, in.High.Orders = runs[2*i].out, runs[2*i+1].out
		in.settle(p.BaseValue)
	}
	n := 2 * len(p.Inputs)
	sort.SliceStable(p.Inputs, func(i, j int) bool {
		a, b := &p.Inputs[i], &p.Inputs[j]
		if a.Breaks != b.Breaks {
			return a.Breaks
		}
		return a.Moved > b.Moved
	})
	return runs[n:]
}
