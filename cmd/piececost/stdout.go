package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"runtime"
	"syscall"

	"piececost/cmd/piececost/internal/term"
)

// An answer is standard output: it remembers the first write that fails, so that no command has to look. What comes after
// it is swallowed, for the rest of a table with a gap is worth less than none.
type answer struct {
	w    io.Writer
	err  error
	done string // what stands although the output failed: "the results are in tray.xlsx"
}

// Write never fails: the error comes out once, at the end.
func (a *answer) Write(p []byte) (int, error) {
	if a.err == nil {
		_, a.err = a.w.Write(p)
	}
	return len(p), nil
}

// Columns is the width that lines keep to: that of the terminal, where there is one.
func (a *answer) Columns() int { return term.Columns(a.w) }

// alreadyDone notes what a command has done before it answers, for the line that says that the answer failed.
func alreadyDone(out io.Writer, what string) {
	if a, ok := out.(*answer); ok {
		a.done = what
	}
}

// brokenPipe is the exit code of a program whose reader has gone (`| head -1`): 128 and the number of the signal SIGPIPE,
// as a shell reports it. Mostly the runtime ends the program by that signal itself, at the first write to a pipe without
// a reader; where the signal is ignored, as the parent of some programs leaves it, the write fails and we return the same
// number. Either way no line is written: who closes the pipe has seen enough.
const brokenPipe = 128 + 13

// finish closes standard output, which a full disk over a network may tell only then, and returns the exit code: that
// of the command, unless its answer was lost.
func (a *answer) finish(code int, stderr io.Writer) int {
	if c, ok := a.w.(io.Closer); ok && a.err == nil {
		a.err = c.Close()
	}
	switch {
	case a.err == nil:
		return code
	case readerGone(a.err):
		return brokenPipe
	}
	done := ""
	if a.done != "" {
		done = "; " + a.done
	}
	fmt.Fprintf(stderr, "piececost: can't write the output: %v%s\n", plainCause(a.err), done)
	return max(code, 1)
}

// readerGone tells a write to a pipe that nobody reads; Windows has two numbers of its own for it (ERROR_BROKEN_PIPE,
// ERROR_NO_DATA).
func readerGone(err error) bool {
	if runtime.GOOS == "windows" {
		return errors.Is(err, syscall.Errno(109)) || errors.Is(err, syscall.Errno(232))
	}
	return errors.Is(err, syscall.EPIPE)
}

// plainCause is an error without the call and the file that it comes from: "no space left on device".
func plainCause(err error) error {
	var at *os.PathError
	if errors.As(err, &at) {
		return at.Err
	}
	return err
}
