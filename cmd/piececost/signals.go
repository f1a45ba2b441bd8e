package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"time"

	"piececost/scenarios"
)

// exitStopped is the exit code after Ctrl-C, 128 and the number of SIGINT, as shells have it (common practice, no source).
const exitStopped = 130

// timeToEnd is how long a command that was told to stop has for ending by itself.
const timeToEnd = 300 * time.Millisecond

// endSoon ends the process after a signal, where the command does not end by itself: reading or compiling a large case asks
// nobody. A file that is being put in its place is not disturbed: the command then ends as if there had been no signal. A
// second signal ends the process at once.
func endSoon(ctx context.Context, stop context.CancelFunc) {
	<-ctx.Done()
	stop()
	time.Sleep(timeToEnd)
	if !scenarios.ForbidSaving() {
		return // it is written already, or about to be; the words are still to come
	}
	fmt.Fprintln(os.Stderr, wordsStopped)
	os.Exit(exitStopped)
}

// wordsStopped are what is said at the end after Ctrl-C; what is written is written at the end, so that nothing is half done.
const wordsStopped = "piececost: stopped; nothing was written"

// stopped tells that a command was ended by its context.
func stopped(err error) bool {
	return errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded)
}
