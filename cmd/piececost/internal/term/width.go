package term

import (
	"io"
	"os"

	"golang.org/x/term"
)

// Width is the number of columns that lines keep to where the output is no terminal: a file, a pipe, another program.
const Width = 80

// A terminal's own width counts between these: tables need the least, and nobody reads lines longer than the most.
const (
	leastWidth = 72
	mostWidth  = 120
)

// Columns is the number of columns that lines on an output keep to. An output that wraps another one tells the width of it by
// a method Columns of its own.
func Columns(w io.Writer) int {
	if of, ok := w.(interface{ Columns() int }); ok {
		return of.Columns()
	}
	f, ok := w.(*os.File)
	if !ok {
		return Width
	}
	columns, _, err := term.GetSize(int(f.Fd()))
	if err != nil || columns <= 0 {
		return Width
	}
	return min(max(columns, leastWidth), mostWidth)
}

// IsTerminal tells whether an output is a terminal, before which a person sits.
func IsTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// A Page is an output that keeps to so many columns.
type Page struct {
	io.Writer
	Width int
}

// Columns is the page's width.
func (p Page) Columns() int { return p.Width }
