package main

import (
	"context"
	"io"
)

// run is the program as a function that nothing stops.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer) (code int) {
	return runUnder(context.Background(), args, stdin, stdout, stderr)
}
