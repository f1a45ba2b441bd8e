package costing

import (
	"sync"

	"piececost/costmodel/study"
)

// A Progress is told that a long piece of work begins ("cross-overs", "volumes"). It returns whom to tell the share that is
// done, now and then, and what to call when the work has ended, whether it succeeded or not. Pieces of work of a run go on side by
// side; all of this is called by one goroutine at a time.
type Progress func(work string) (told func(done float64), end func())

// begin is the progress itself, or one that tells nobody.
func (p Progress) begin(work string) (told study.Progress, end func()) {
	if p == nil {
		return nil, func() {}
	}
	return p(work)
}

// oneAtATime is a progress for pieces of work that go on side by side: whoever follows them is called by one of them at a time.
func (p Progress) oneAtATime() Progress {
	if p == nil {
		return nil
	}
	var mu sync.Mutex
	return func(work string) (func(done float64), func()) {
		mu.Lock()
		defer mu.Unlock()
		told, end := p(work)
		return func(done float64) {
				mu.Lock()
				defer mu.Unlock()
				told(done)
			}, func() {
				mu.Lock()
				defer mu.Unlock()
				end()
			}
	}
}

// part is the progress of one of so many pieces of the work, each taken for as long as the others.
func part(told study.Progress, piece, pieces int) study.Progress {
	if told == nil {
		return nil
	}
	return func(done float64) { told((float64(piece) + done) / float64(pieces)) }
}
