package sheet

import (
	"github.com/xuri/excelize/v2"

	"piececost/scenarios/seal"
)

// A Stream is a sheet written row by row from the top, for sheets with too many rows to be held as a page.
type Stream struct {
	*excelize.StreamWriter
	b    *Book
	name string
	err  error
}

// Stream opens a sheet that is to be written row by row; what the library takes before the first row is set through it.
func (b *Book) Stream(name string) (*Stream, error) {
	sw, err := b.File.NewStreamWriter(name)
	if err != nil {
		return nil, err
	}
	return &Stream{StreamWriter: sw, b: b, name: name}, nil
}

// End attaches the notes of the sheet and ends it.
func (w *Stream) End() error {
	if w.err != nil {
		return w.err
	}
	if err := w.b.addNotes(w.name); err != nil {
		return err
	}
	return w.Flush()
}

// Cell makes a styled cell; a style that can't be made is remembered for the end.
func (w *Stream) Cell(value any, k Look) excelize.Cell {
	id, err := w.b.looks.ID(k)
	if err != nil && w.err == nil {
		w.err = err
	}
	return excelize.Cell{StyleID: id, Value: value}
}

// Row writes a row; numbers ascend.
func (w *Stream) Row(n int, cells []any) error {
	at, err := excelize.CoordinatesToCellName(1, n)
	if err != nil {
		return err
	}
	return w.SetRow(at, cells)
}

// Words writes a row of words and notes their fingerprints.
func (w *Stream) Words(n int, cells []any) error {
	fingerprints := seal.Fingerprints{}
	for i := range cells {
		if c, ok := cells[i].(excelize.Cell); ok {
			if fingerprint := w.b.FingerprintOfValue(c.Value); fingerprint != "" {
				fingerprints[i+1] = fingerprint
			}
		}
	}
	w.b.Seal(w.name, n, nil, fingerprints)
	return w.Row(n, cells)
}
