package report

import (
	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/scenarios/costing/wire"
)

// JSON is the stability.
func (r *Stability) JSON() wire.Stability {
	out := wire.Stability{Answer: wire.Begin[wire.Stability](), File: r.Model.Case.File, From: r.Found.From, To: r.Found.To,
		Ranges: r.ranges(), ContinuousBatches: r.Continuous, Caution: wire.Caution}
	for i := range r.Found.Pairs {
		p := &r.Found.Pairs[i]
		j := wire.StabilityPair{First: r.name(p.First), Second: r.name(p.Second), BaseValue: r.orders(study.StabilityEnd{Orders: p.BaseValue}),
			SoughtAt: p.Volume,
			Inputs:   []wire.StabilityInput{}, Others: p.Others, Unmoved: append([]string{}, p.Unmoved...)}
		for k := range p.Inputs {
			in := &p.Inputs[k]
			j.Inputs = append(j.Inputs, wire.StabilityInput{Input: in.Input.Input.String(), Unit: unitOf(r.Model, &in.Input),
				BaseValue: finite(in.Input.Shown(in.Input.BaseValue)),
				Low:       r.end(&in.Input, in.Low, p), High: r.end(&in.Input, in.High, p), Breaks: in.Breaks, MovedBy: in.Moved})
		}
		out.Pairs = append(out.Pairs, j)
	}
	return out
}

func (r *Stability) end(v *costmodel.Varied, e study.StabilityEnd, p *study.StabilityPair) wire.StabilityEnd {
	out := wire.StabilityEnd{Value: v.Shown(e.Value), Breaks: e.Breaks, Orders: r.orders(e)}
	if _, _, had := p.BaseValue.Span(); had && out.First != nil {
		out.FirstMoved, out.LastMoved = &e.FirstMoved, &e.LastMoved
	}
	return out
}

func (r *Stability) orders(e study.StabilityEnd) wire.Orders {
	out := wire.Orders{Number: len(e.Changes), Volumes: append([]int{}, e.Changes...), Impossible: e.Impossible, Words: r.words(e)}
	if e.Impossible == "" && !e.Equal {
		out.Cheaper = r.name(e.Cheaper)
	}
	if first, last, ok := e.Span(); ok {
		out.First, out.Last = &first, &last
	}
	return out
}
