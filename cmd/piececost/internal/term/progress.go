package term

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"os/signal"
	"time"
)

// errStopped says that the user stopped the work; what is written is written at the end, so nothing is half done.
var ErrStopped = errors.New("stopped; nothing was written")

// A watch tells a person at a terminal how far a long piece of work is, and ends it at Ctrl-C.
type watch struct {
	ctx   context.Context
	what  string
	w     io.Writer // nil where standard error is no terminal
	Start time.Time
	shown time.Time
}

// quietTime is how long work goes on without a word.
const quietTime = time.Second

// startWatch begins to watch for Ctrl-C; stop must be called at the end.
func StartWatch(what string, stderr io.Writer) (p *watch, stop func()) {
	ctx, cancel := signal.NotifyContext(context.Background(), os.Interrupt)
	p = &watch{ctx: ctx, what: what, Start: time.Now()}
	if isTerminal(stderr) {
		p.w = stderr
	}
	return p, func() {
		cancel()
		if p.w != nil && !p.shown.IsZero() {
			fmt.Fprint(p.w, "\r\x1b[K")
		}
	}
}

// report notes the share that is done and returns errStopped after Ctrl-C.
func (p *watch) Report(done float64) error {
	if p.ctx.Err() != nil {
		return ErrStopped
	}
	now := time.Now()
	if p.w == nil || now.Sub(p.Start) < quietTime || now.Sub(p.shown) < quietTime/4 {
		return nil
	}
	p.shown = now
	fmt.Fprintf(p.w, "\r\x1b[K%s", progressLine(p.what, done, now.Sub(p.Start)))
	return nil
}

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

// isTerminal tells whether a writer is a terminal.
func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	if !ok {
		return false
	}
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}
