// Command piececost costs manufactured parts from their process, from a scenario workbook and back into it. One file a
// command holds its flags, one call and what is printed: the words are in internal/report, how a terminal shows them in
// internal/term, and what is reckoned in packages costmodel and scenarios.
//
// Change here: a flag, the help of a command, what goes together with what on the command line (a file a command), how
// scenarios and inputs are named there (pick.go, inputs.go), the words for wrong usage and the exit codes (usage.go), what
// becomes of an output that can't be written (stdout.go).
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	go endSoon(ctx, stop)
	os.Exit(runUnder(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}
