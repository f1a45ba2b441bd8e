package term

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"time"
)

// ErrStopped says that the user stopped the work; what is written is written at the end, so nothing is half done.
var ErrStopped = errors.New("stopped; nothing was written")

// Stopped is ErrStopped once ctx is done, else nil.
func Stopped(ctx context.Context) error {
	if ctx.Err() != nil {
		return ErrStopped
	}
	return nil
}

// A Watch tells a person at a terminal how far a long piece of work is, and ends it when its context is done.
type Watch struct {
	ctx   context.Context
	what  string
	w     io.Writer // nil where standard error is no terminal
	start time.Time
	shown time.Time
}

// quietTime is how long work goes on without a word.
const quietTime = time.Second

// StartWatch begins to watch; stop must be called at the end. Once ctx is done, Report ends the work.
func StartWatch(ctx context.Context, what string, stderr io.Writer) (p *Watch, stop func()) {
	p = &Watch{ctx: ctx, what: what, start: time.Now()}
	if IsTerminal(stderr) {
		p.w = stderr
	}
	return p, func() {
		if p.w != nil && !p.shown.IsZero() {
			fmt.Fprint(p.w, "\r\x1b[K")
		}
	}
}

// Report notes the share that is done and returns ErrStopped after Ctrl-C.
func (p *Watch) Report(done float64) error {
	if err := Stopped(p.ctx); err != nil {
		return err
	}
	now := time.Now()
	if p.w == nil || now.Sub(p.start) < quietTime || now.Sub(p.shown) < quietTime/4 {
		return nil
	}
	p.shown = now
	fmt.Fprintf(p.w, "\r\x1b[K%s", progressLine(p.what, done, now.Sub(p.start)))
	return nil
}

// Part is Report for one of so many pieces of the work, each taken for as long as the others.
func (p *Watch) Part(piece, pieces int) func(done float64) error {
	return func(done float64) error { return p.Report((float64(piece) + done) / float64(pieces)) }
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
