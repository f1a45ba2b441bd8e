package study

import (
	"piececost/costmodel"
	"piececost/costmodel/kernel"
)

// A span is a stretch of the range that one core looks at: the volumes at which something may happen, ascending, its first
// and last among them, and what every plan costs there. Between two of them nothing happens: neither the order of two
// scenarios nor their being in a band changes.
type span struct {
	volumes []float64
	costs   [][]float64 // by plan
}

// mostSpan is the length of a span, in volumes: long enough to make little of a walk's beginning. spanWork is how many
// operations on volumes a span may take at most, about a tenth of a second, so that a large case can be stopped too.
const (
	mostSpan = 8 * kernel.Lanes
	spanWork = 100_000_000
)

func spanLength(plans []*costmodel.Plan) int {
	operations := 1
	for _, p := range plans {
		operations += p.Operations()
	}
	blocks := spanWork / operations / kernel.Lanes
	return kernel.Lanes * min(max(1, blocks), mostSpan/kernel.Lanes)
}

// spanWorker looks at spans. It owns columns: one goroutine.
type spanWorker struct {
	runners []*costmodel.Runner
	source  *pieceSource // nil where every volume is costed
}

func newSpanWorker(plans []*costmodel.Plan, ask CrossoverAsk) *spanWorker {
	w := &spanWorker{}
	for _, p := range plans {
		w.runners = append(w.runners, p.CostRunner(kernel.Lanes))
	}
	if !ask.EveryVolume {
		w.source = newPieceSource(plans, ask)
	}
	return w
}

// look fills a span.
func (w *spanWorker) look(from, to int, s *span) {
	if cap(s.volumes) < to-from+1 { // at once as large as it may get, so that a long range takes no more than a short one
		s.volumes = make([]float64, 0, to-from+1)
		s.costs = make([][]float64, len(w.runners))
		for i := range s.costs {
			s.costs[i] = make([]float64, 0, to-from+1)
		}
	}
	s.volumes = s.volumes[:0]
	if w.source == nil {
		s.add(VolumeBand{from, to})
	} else {
		w.source.start(from, to)
		for stretch, ok := w.source.next(); ok; stretch, ok = w.source.next() {
			s.add(stretch)
		}
	}
	for i, r := range w.runners {
		s.costs[i] = s.costs[i][:0]
		for from := 0; from < len(s.volumes); from += kernel.Lanes {
			n := copy(r.Volumes(), s.volumes[from:])
			s.costs[i] = append(s.costs[i], r.Block(n)[0][:n]...)
		}
	}
}

func (s *span) add(b VolumeBand) {
	for n := b.From; n <= b.To; n++ {
		s.volumes = append(s.volumes, float64(n))
	}
}
