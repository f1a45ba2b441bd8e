package report

import (
	"piececost/costmodel"
	"piececost/costmodel/study"
)

type stabilityJSON struct {
	Format            string              `json:"format"`
	Version           int                 `json:"version"`
	File              string              `json:"file"`
	From              int                 `json:"from"`
	To                int                 `json:"to"`
	Ranges            string              `json:"ranges"`
	ContinuousBatches bool                `json:"continuous_batches"`
	Pairs             []stabilityPairJSON `json:"pairs"`
	Caution           string              `json:"caution"`
}

type stabilityPairJSON struct {
	First    string               `json:"first"`
	Second   string               `json:"second"`
	Today    ordersJSON           `json:"base_value"`
	SoughtAt int                  `json:"inputs_sought_at_volume,omitempty"`
	Inputs   []stabilityInputJSON `json:"inputs"`
	Others   int                  `json:"inputs_that_move_less"`
	Unmoved  []string             `json:"not_moved"`
}

type ordersJSON struct {
	Cheaper    string `json:"cheaper_at_from,omitempty"`
	Number     int    `json:"cross_overs"`
	First      *int   `json:"first,omitempty"`
	Last       *int   `json:"last,omitempty"`
	Volumes    []int  `json:"annual_volumes"` // first volume of each new order
	Impossible string `json:"cannot_be,omitempty"`
	Words      string `json:"words"`
}

type stabilityInputJSON struct {
	Input   string           `json:"input"`
	Unit    string           `json:"unit,omitempty"`
	Today   *float64         `json:"base_value,omitempty"`
	Low     stabilityEndJSON `json:"low"`
	High    stabilityEndJSON `json:"high"`
	Breaks  bool             `json:"breaks"`
	MovedBy int              `json:"moved_by_at_most"`
}

type stabilityEndJSON struct {
	Value      float64 `json:"value"`
	FirstMoved *int    `json:"first_moved_by,omitempty"`
	LastMoved  *int    `json:"last_moved_by,omitempty"`
	Breaks     bool    `json:"breaks"`
	ordersJSON
}

// JSON is the stability.
func (r *Stability) JSON() stabilityJSON {
	out := stabilityJSON{Format: "piececost crossover stability", Version: 1, File: r.Model.Case.File, From: r.Found.From, To: r.Found.To,
		Ranges: r.ranges(), ContinuousBatches: r.Continuous, Caution: Caution}
	for i := range r.Found.Pairs {
		p := &r.Found.Pairs[i]
		j := stabilityPairJSON{First: r.name(p.First), Second: r.name(p.Second), Today: r.orders(study.StabilityEnd{Orders: p.Today}), SoughtAt: p.Volume,
			Inputs: []stabilityInputJSON{}, Others: p.Others, Unmoved: append([]string{}, p.Unmoved...)}
		for k := range p.Inputs {
			in := &p.Inputs[k]
			j.Inputs = append(j.Inputs, stabilityInputJSON{Input: in.Input.Input.String(), Unit: unitOf(r.Model, &in.Input),
				Today: finite(in.Input.Shown(in.Input.Today)),
				Low:   r.end(&in.Input, in.Low, p), High: r.end(&in.Input, in.High, p), Breaks: in.Breaks, MovedBy: in.Moved})
		}
		out.Pairs = append(out.Pairs, j)
	}
	return out
}

func (r *Stability) end(v *costmodel.Varied, e study.StabilityEnd, p *study.StabilityPair) stabilityEndJSON {
	out := stabilityEndJSON{Value: v.Shown(e.Value), Breaks: e.Breaks, ordersJSON: r.orders(e)}
	if _, _, had := p.Today.Span(); had && out.First != nil {
		out.FirstMoved, out.LastMoved = &e.FirstMoved, &e.LastMoved
	}
	return out
}

func (r *Stability) orders(e study.StabilityEnd) ordersJSON {
	out := ordersJSON{Number: len(e.Changes), Volumes: append([]int{}, e.Changes...), Impossible: e.Impossible, Words: r.words(e)}
	if e.Impossible == "" && !e.Equal {
		out.Cheaper = r.name(e.Cheaper)
	}
	if first, last, ok := e.Span(); ok {
		out.First, out.Last = &first, &last
	}
	return out
}
