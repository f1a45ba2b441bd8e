package study

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sort"

	"piececost/costmodel"
	"piececost/costmodel/table"
)

// A Range is what an input may be: coherent values, or shares of the base value.
type Range struct {
	Input     int // of the response
	Low, High float64
	Likely    float64 // NaN for the base value
	Share     bool    // Low and High are factors of each scenario's own base value: 0.9 and 1.1
}

// A Bar is the part of one input in a tornado.
type Bar struct {
	Input   costmodel.Varied
	Values  []float64 // coherent, ascending
	Results []float64 // the measure at each; NaN where a value can't be
	AtLow   float64
	AtHigh  float64
	Min     float64
	Max     float64
	Swing   float64 // Max less Min, the base value among them
	Turns   bool    // non-monotonic: it rises and falls between low and high
}

// tornadoPoints is how many values a range is looked at: more than five, since whole counts make steps between low and
// high.
const tornadoPoints = 11

// ShareRanges makes ranges of plus and minus a share of the base value, cut at the plausible range and at 100 % of a share
// below it. Inputs without a value other than 0 at the base values are left out; of a
// level of temperature see Varied.AtShare.
func (r *Response) ShareRanges(share float64) []Range {
	var out []Range
	for i := range r.Inputs {
		v := &r.Inputs[i]
		if !v.HasShares() {
			continue
		}
		g := Range{Input: i, Low: 1 - share, High: 1 + share, Likely: math.NaN(), Share: true}
		if v.HasRange() && (v.BaseValue > 0 || v.IsLevel()) {
			g.Low = max(g.Low, min(1, v.ShareAt(v.Low)))
			g.High = min(g.High, max(1, v.ShareAt(v.High)))
		}
		out = append(out, g)
	}
	return out
}

// UncertainRanges makes ranges of the rows of the sheet Uncertainty that are among the inputs.
func (r *Response) UncertainRanges(list []costmodel.Uncertain) []Range {
	var out []Range
	for _, u := range list {
		for i := range r.Inputs {
			if r.Inputs[i].Input == u.Input {
				g := Range{Input: i, Low: u.Low, High: u.High, Likely: math.NaN()}
				if u.HasLikely {
					g.Likely = u.Likely
				}
				out = append(out, g)
			}
		}
	}
	return out
}

// Tornado moves one input at a time through its range, all else unchanged. An input that moves nothing has no bar.
func (r *Response) Tornado(ctx context.Context, ranges []Range) ([]Bar, error) {
	var out []Bar
	baseValue := r.BaseValue()
	for i, g := range ranges {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		r.progress.Tell(float64(i) / float64(len(ranges)))
		if b := r.bar(g, baseValue); b.Swing > 1e-11*r.magnitude {
			out = append(out, b)
		}
	}
	RankBars(out)
	return out, nil
}

// RankBars puts the widest swing first.
func RankBars(bars []Bar) {
	sort.SliceStable(bars, func(i, j int) bool { return bars[i].Swing > bars[j].Swing })
}

func (r *Response) bar(g Range, baseValue float64) Bar {
	v := r.Inputs[g.Input]
	b := Bar{Input: v}
	for i := 0; i < tornadoPoints; i++ {
		b.Values = append(b.Values, g.Low+(g.High-g.Low)*float64(i)/(tornadoPoints-1))
	}
	b.Values[tornadoPoints-1] = g.High
	for _, x := range []float64{g.Likely, v.BaseValue} {
		if !g.Share && x > g.Low && x < g.High {
			b.Values = append(b.Values, x)
		}
	}
	slices.Sort(b.Values)
	b.Values = slices.Compact(b.Values)
	if g.Share {
		b.Results = r.AtShares(g.Input, b.Values)
		for i := range b.Values {
			b.Values[i] = v.AtShare(b.Values[i])
		}
	} else {
		b.Results = r.At(g.Input, b.Values)
	}
	if v.BaseValue < 0 && g.Share && !v.IsLevel() {
		slices.Reverse(b.Values)
		slices.Reverse(b.Results)
	}
	b.measure(baseValue, 1e-11*r.magnitude)
	return b
}

// A Reach is how far a measure moves at the ends of a range.
type Reach struct {
	Far        float64 // model currency per good piece, summed over volumes: of each the farther end of those that are numbers
	Impossible bool    // at one of the ends and volumes nothing can be made
}

// Reaches tells of each range of shares how far the measure moves at its low and high, over annual volumes (1/yr), of which
// there may be half a block at most. A volume at which there is no measure at the base values says nothing. All ranges are tried in
// blocks; report is told before each how many it tries.
func (r *Response) Reaches(ctx context.Context, ranges []Range, volumes []float64, report func(tried int)) ([]Reach, error) {
	lanes := 2 * len(volumes)
	if lanes > r.Size() {
		return nil, fmt.Errorf("inputs are tried at %d volumes at most, not at %d", r.Size()/2, len(volumes))
	}
	defer r.Reset()
	out := make([]Reach, 0, len(ranges))
	r.setVolumes(0, volumes)
	baseValue := slices.Clone(r.Block(len(volumes)))
	for len(ranges) > 0 {
		n := min(len(ranges), r.Size()/max(1, lanes))
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		report(n)
		for i, g := range ranges[:n] {
			for k := range volumes {
				r.Scale(i*lanes+2*k, g.Input, g.Low)
				r.Scale(i*lanes+2*k+1, g.Input, g.High)
				r.setVolumes(i*lanes+2*k, []float64{volumes[k], volumes[k]})
			}
		}
		results := r.Block(n * lanes)
		for i, g := range ranges[:n] {
			out = append(out, reachOf(baseValue, results[i*lanes:(i+1)*lanes]))
			r.restore(g.Input, n*lanes)
		}
		ranges = ranges[n:]
	}
	return out, nil
}

// reachOf compares what is at the low and high end with the base values, volume by volume.
func reachOf(baseValue, ends []float64) Reach {
	var out Reach
	for k, t := range baseValue {
		far := 0.0
		for _, end := range ends[2*k : 2*k+2] {
			switch d := math.Abs(end - t); {
			case d == d:
				far = max(far, d)
			case t == t:
				out.Impossible = true
			}
		}
		out.Far += far
	}
	return out
}

// setVolumes gives the lanes from one on these annual volumes, in both scenarios.
func (r *Response) setVolumes(from int, volumes []float64) {
	for i := range r.sides {
		copy(r.sides[i].lanes.Volumes()[from:], volumes)
	}
}

// measure fills in what follows from the results.
func (b *Bar) measure(baseValue, noise float64) {
	n := len(b.Results)
	b.AtLow, b.AtHigh, b.Min, b.Max = b.Results[0], b.Results[n-1], baseValue, baseValue
	rises, falls := false, false
	last := math.NaN()
	for _, f := range b.Results {
		if f != f {
			continue
		}
		b.Min, b.Max = min(b.Min, f), max(b.Max, f)
		rises = rises || f > last+noise
		falls = falls || f < last-noise
		last = f
	}
	b.Turns = rises && falls
	b.Swing = b.Max - b.Min
}

// Moved lists the inputs to be moved: those of the sheet Uncertainty, or where it has none all that may be tried one by one.
func (m Measure) Moved(list []costmodel.Uncertain) ([]costmodel.Input, table.Diagnostics) {
	if len(list) == 0 {
		return m.Levers()
	}
	var out []costmodel.Input
	for _, u := range list {
		out = append(out, u.Input)
	}
	return out, nil
}

// Swings moves each of the inputs alone, through its row of the list or, without a list, by a share of the base value either
// way, and ranks them. first is the response with the inputs that are numbers, nil where none can be moved.
func (m Measure) Swings(ctx context.Context, inputs []costmodel.Input, list []costmodel.Uncertain, share float64) (first *Response, bars []Bar,
	ds table.Diagnostics, err error) {
	responses, ds := m.RespondApart(ctx, inputs)
	if err := ctx.Err(); err != nil {
		return nil, nil, ds, err
	}
	for _, r := range responses {
		if first == nil {
			first = r
		}
		ranges := r.ShareRanges(share)
		if len(list) > 0 {
			ranges = r.UncertainRanges(list)
		}
		more, err := r.Tornado(ctx, ranges)
		if err != nil {
			return first, nil, ds, err
		}
		bars = append(bars, more...)
	}
	RankBars(bars)
	return first, bars, ds, nil
}
