package costing

import "piececost/costmodel/study"

// A Progress is told that a long piece of work begins ("cross-overs", "volumes"). It returns whom to tell the share that is
// done, now and then and from one goroutine at a time, and what to call when the work has ended, whether it succeeded or not.
type Progress func(work string) (told func(done float64), end func())

// begin is the progress itself, or one that tells nobody.
func (p Progress) begin(work string) (told study.Progress, end func()) {
	if p == nil {
		return nil, func() {}
	}
	return p(work)
}

// part is the progress of one of so many pieces of the work, each taken for as long as the others.
func part(told study.Progress, piece, pieces int) study.Progress {
	if told == nil {
		return nil
	}
	return func(done float64) { told((float64(piece) + done) / float64(pieces)) }
}
