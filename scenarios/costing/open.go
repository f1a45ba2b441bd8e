package costing

import (
	"context"
	"io"
	"io/fs"

	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/scenarios"
)

// Edits say what becomes of results that a person changed by hand in the result sheets of an earlier run.
type Edits uint8

// What becomes of hand edits.
const (
	TakeOverEdits Edits = iota // they replace what would be computed, and Write keeps them in the sheet Overrides
	DiscardEdits               // they are left out, and Write empties the sheet Overrides
	LeaveEdits                 // nobody looks for them: for questions that write nothing; the sheet Overrides counts
)

// Options are all that can be left out.
type Options struct {
	Program    string             // name and version, for the sheet Cost statement; piececost where empty
	Output     string             // the file that Write writes; where empty the one that was opened, in place
	Replace    bool               // let Output replace a file that is there
	IgnoreLock bool               // write although a lock file says that another program has the file open
	Edits      Edits              // what becomes of hand edits
	Progress   Progress           // told how far long work is; nil for nobody
	Notice     func(words string) // told while Write works what is left out and why, as Written.Notices lists it; nil for nobody
	Library    *costmodel.Library // equations, forms and processes; nil for the program's own
}

// An OutputError says that Output can't be written, before any work is done.
type OutputError struct{ Err error }

// Error is what is wrong with the place.
func (e *OutputError) Error() string { return e.Err.Error() }

// Unwrap is the error of the file.
func (e *OutputError) Unwrap() error { return e.Err }

// A Workbook is a scenario workbook that was read, to be checked, costed and given its results. It is of one goroutine.
type Workbook struct {
	book    *scenarios.Workbook
	file    string // "" where it is no file
	options Options
	lib     *costmodel.Library
	data    *table.Case
	edits   []scenarios.Edit
	names   []string // of the scenarios, once compiled
}

// Open reads a scenario workbook. The error is for the file: it can't be read, is no scenario workbook, or Output can't be
// written (an *OutputError). What is wrong in its cells is found by Check and Cost.
func Open(ctx context.Context, file string, o Options) (*Workbook, error) {
	book, err := scenarios.Open(file)
	if err != nil {
		return nil, err
	}
	return opened(ctx, book, file, o)
}

// Read is Open for a workbook that is no file; its name stands in the places of findings. Write needs Output.
func Read(ctx context.Context, name string, r io.Reader, o Options) (*Workbook, error) {
	data, err := io.ReadAll(r)
	if err != nil {
		return nil, err
	}
	book, err := scenarios.From(name, data)
	if err != nil {
		return nil, err
	}
	return opened(ctx, book, "", o)
}

// Tables is Open for the CSV tables of a folder, one for each input sheet, named after it in lower case with underscores
// (bill_of_materials.csv), headings as in a workbook. They are put into a new workbook, whose name stands in the places of
// findings. Write needs Output.
func Tables(ctx context.Context, name string, tables fs.FS, o Options) (*Workbook, error) {
	lib, err := o.library()
	if err != nil {
		return nil, err
	}
	book, err := scenarios.FromTables(name, tables, lib)
	if err != nil {
		return nil, err
	}
	return opened(ctx, book, "", o)
}

func (o Options) library() (*costmodel.Library, error) {
	if o.Library != nil {
		return o.Library, nil
	}
	return Library()
}

// saving says what may be written over: in place the workbook itself.
func (o Options) saving() scenarios.SaveOptions {
	return scenarios.SaveOptions{Replace: o.Replace || o.Output == "", IgnoreLock: o.IgnoreLock}
}

// opened reads the case of a workbook.
func opened(ctx context.Context, book *scenarios.Workbook, file string, o Options) (*Workbook, error) {
	if o.Output != "" {
		if err := book.MaySaveAs(o.Output, o.saving()); err != nil {
			return nil, &OutputError{err}
		}
	}
	w := &Workbook{book: book, file: file, options: o}
	var err error
	if w.data, err = book.Case(); err != nil {
		return nil, err
	}
	if w.lib, err = o.library(); err != nil {
		return nil, err
	}
	switch o.Edits {
	case TakeOverEdits:
		w.edits, err = book.TakeOver(w.data, w.lib)
	case DiscardEdits:
		err = book.DiscardEdits(w.data)
	}
	if err != nil {
		return nil, err
	}
	return w, ctx.Err()
}

// Case is the workbook's input sheets as tables. A cell that is changed counts at the next Check or Cost.
func (w *Workbook) Case() *table.Case { return w.data }

// Edits are the hand edits that were found, those too that can't be taken over.
func (w *Workbook) Edits() []scenarios.Edit { return w.edits }
