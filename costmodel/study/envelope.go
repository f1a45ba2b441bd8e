package study

import "math"

// A CheapestStretch is a stretch of whole volumes in which one scenario is the cheapest of all.
type CheapestStretch struct {
	From, To int
	Cheapest int // index of the plan
	// What the second best costs more: at both ends, and where it is least and most.
	AtFrom, AtTo, Least, Most Lead
}

// A Lead is what the second best scenario costs more than the cheapest at a volume.
type Lead struct {
	Volume int
	Second int     // index of the plan
	Cost   float64 // of the cheapest, model currency per good piece
	More   float64 // what the second best costs on top
}

// envelope follows which of all scenarios is the cheapest. Where costs are equal the one stays that was the cheapest
// before; at the first volume the first of equals is.
type envelope struct{ stretches []CheapestStretch }

func (e *envelope) see(n int, costs []float64) {
	best := 0
	for i, v := range costs {
		if v < costs[best] {
			best = i
		}
	}
	k := len(e.stretches) - 1
	if k >= 0 {
		best = cheaperOf(costs, best, e.stretches[k].Cheapest, e.stretches[k].Cheapest)
	}
	lead := leadOf(n, costs, best)
	if k < 0 || e.stretches[k].Cheapest != best {
		if k >= 0 {
			e.stretches[k].To = n - 1
		}
		e.stretches = append(e.stretches, CheapestStretch{From: n, Cheapest: best, AtFrom: lead, AtTo: lead, Least: lead, Most: lead})
		return
	}
	s := &e.stretches[k]
	s.AtTo = lead
	if lead.More < s.Least.More {
		s.Least = lead
	}
	if lead.More > s.Most.More {
		s.Most = lead
	}
}

func leadOf(n int, costs []float64, best int) Lead {
	out := Lead{Volume: n, Second: -1, Cost: costs[best], More: math.Inf(1)}
	for i, v := range costs {
		if i != best && v-costs[best] < out.More {
			out.Second, out.More = i, v-costs[best]
		}
	}
	return out
}

func (e *envelope) finish(to int) []CheapestStretch {
	if k := len(e.stretches) - 1; k >= 0 {
		e.stretches[k].To = to
	}
	return e.stretches
}
