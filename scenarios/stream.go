package scenarios

import (
	"github.com/xuri/excelize/v2"

	"piececost/scenarios/seal"
)

// A stream is a sheet written row by row from the top, for sheets with too many rows to be held as a page.
type stream struct {
	*excelize.StreamWriter
	b    *Book
	name string
	err  error
}

// stream opens a sheet that is to be written row by row; what the library takes before the first row is set through it.
func (b *Book) stream(name string) (*stream, error) {
	sw, err := b.f.NewStreamWriter(name)
	if err != nil {
		return nil, err
	}
	return &stream{StreamWriter: sw, b: b, name: name}, nil
}

// end attaches the notes of the sheet and ends it.
func (w *stream) end() error {
	if w.err != nil {
		return w.err
	}
	if err := w.b.addNotes(w.name); err != nil {
		return err
	}
	return w.Flush()
}

// cell makes a styled cell; a style that can't be made is remembered for the end.
func (w *stream) cell(value any, k look) excelize.Cell {
	id, err := w.b.looks.id(k)
	if err != nil && w.err == nil {
		w.err = err
	}
	return excelize.Cell{StyleID: id, Value: value}
}

// row writes a row; numbers ascend.
func (w *stream) row(n int, cells []any) error {
	at, err := excelize.CoordinatesToCellName(1, n)
	if err != nil {
		return err
	}
	return w.SetRow(at, cells)
}

// words writes a row of words and notes their fingerprints.
func (w *stream) words(n int, cells []any) error {
	prints := seal.Row{}
	for i := range cells {
		if c, ok := cells[i].(excelize.Cell); ok {
			if print := w.b.printOfValue(c.Value); print != "" {
				prints[i+1] = print
			}
		}
	}
	w.b.seal(w.name, n, nil, prints)
	return w.row(n, cells)
}
