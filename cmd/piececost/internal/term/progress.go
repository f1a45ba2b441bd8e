package term

import (
	"fmt"
	"io"
	"math"
	"time"
)

// A Watch tells a person at a terminal how far a long piece of work is.
type Watch struct {
	what  string
	w     io.Writer // nil where standard error is no terminal
	start time.Time
	shown time.Time
}

// quietTime is how long work goes on without a word.
const quietTime = time.Second

// StartWatch begins to watch; stop must be called at the end.
func StartWatch(what string, stderr io.Writer) (p *Watch, stop func()) {
	p = &Watch{what: what, start: time.Now()}
	if IsTerminal(stderr) {
		p.w = stderr
	}
	return p, func() {
		if p.w != nil && !p.shown.IsZero() {
			fmt.Fprint(p.w, "\r\x1b[K")
		}
	}
}

// Follow watches one piece of work after another; each is told its share, and then that it has ended.
func Follow(stderr io.Writer) func(what string) (told func(done float64), end func()) {
	return func(what string) (func(float64), func()) {
		p, stop := StartWatch(what, stderr)
		return p.Report, stop
	}
}

// Report notes the share that is done.
func (p *Watch) Report(done float64) {
	now := time.Now()
	if p.w == nil || now.Sub(p.start) < quietTime || now.Sub(p.shown) < quietTime/4 {
		return
	}
	p.shown = now
	fmt.Fprintf(p.w, "\r\x1b[K%s", progressLine(p.what, done, now.Sub(p.start)))
}

// Part is Report for one of so many pieces of the work, each taken for as long as the others.
func (p *Watch) Part(piece, pieces int) func(done float64) {
	return func(done float64) { p.Report((float64(piece) + done) / float64(pieces)) }
}

// Spent is how long the work goes on.
func (p *Watch) Spent() time.Duration { return time.Since(p.start) }

// progressLine words how far the work is and how long the rest will take at the pace so far.
func progressLine(what string, done float64, spent time.Duration) string {
	if !(done > 0) {
		return what
	}
	done = min(done, 1)
	left := time.Duration(float64(spent) * (1 - done) / done)
	return fmt.Sprintf("%s: %.0f %%, %s left", what, math.Floor(100*done), shownTime(left))
}

// shownTime writes a time as seconds, or minutes and seconds.
func shownTime(d time.Duration) string {
	seconds := int(math.Ceil(d.Seconds()))
	if seconds < 60 {
		return fmt.Sprintf("%d s", seconds)
	}
	return fmt.Sprintf("%d min %02d s", seconds/60, seconds%60)
}
