package study

// A Progress is told now and then the share of long work that is done, from 0 to 1, by one goroutine at a time; nil where
// nobody wants to know. Work is ended by its context: a study looks at it between spans of volumes, blocks of combinations or
// inputs, never within one, and returns the context's error.
type Progress func(done float64)

// Tell tells it, where there is one.
func (p Progress) Tell(done float64) {
	if p != nil {
		p(done)
	}
}
