package scenarios

import (
	"bytes"
	"cmp"
	"context"
	"fmt"
	"os"
	"path/filepath"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel/table"
	"piececost/scenarios/handedits"
	"piececost/scenarios/ooxml"
	"piececost/scenarios/reading"
	"piececost/scenarios/safefile"
	"piececost/scenarios/starter"
)

// A Workbook is a starter being made or filled by the library (f), or a package that results are put into (pack, out).
type Workbook struct {
	path string        // the file it was read from, "" for a new one
	name string        // in the places of findings
	sum  *safefile.Sum // of that file as it was read

	f    *excelize.File
	data []byte
	pack *ooxml.Package
	out  []byte

	summary string              // name of the sheet Summary as written
	hand    *handedits.Handwork // what a person did in the result sheets; of a package only
}

// Open reads a workbook once: the case and what results are put into come from the same bytes.
func Open(path string) (*Workbook, error) {
	if err := reading.Readable(path); err != nil {
		return nil, err
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, fmt.Errorf("%s can't be opened: %w", path, err)
	}
	pack, err := ooxml.Open(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, reading.NotWorkbook(path, err)
	}
	sum := safefile.SumOf(data)
	return &Workbook{path: path, name: filepath.Base(path), sum: &sum, data: data, pack: pack, hand: handedits.In(pack)}, nil
}

// From is Open for a workbook that is no file but bytes; its name stands in the places of findings.
func From(name string, data []byte) (*Workbook, error) {
	pack, err := ooxml.Open(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, reading.NotWorkbook(name, err)
	}
	return &Workbook{name: name, data: data, pack: pack, hand: handedits.In(pack)}, nil
}

// Case reads the known sheets of the workbook. The error is fit to be shown; problems of single cells are in the values.
func (w *Workbook) Case() (*table.Case, error) {
	if err := w.otherForm(); err != nil {
		return nil, err
	}
	c, err := reading.CaseIn(w.pack, w.name)
	if err != nil {
		return nil, reading.NotWorkbook(cmp.Or(w.path, w.name), err)
	}
	return c, nil
}

// otherForm is an error where the workbook is of another version of the program.
func (w *Workbook) otherForm() error {
	if err := starter.OtherForm(w.pack); err != nil {
		return fmt.Errorf("%s %w", cmp.Or(w.path, w.name), err)
	}
	return nil
}

// IsStarter tells whether the workbook was made by `piececost new`.
func (w *Workbook) IsStarter() bool { return w.pack != nil && starter.Is(w.pack) }

// bytes returns the workbook as it is to be saved.
func (w *Workbook) bytes() ([]byte, error) {
	if w.f == nil {
		return w.out, nil
	}
	buf, err := w.f.WriteToBuffer()
	if err != nil {
		return nil, err
	}
	return buf.Bytes(), nil
}

// SaveOptions say what a workbook may be written over.
type SaveOptions struct {
	Replace    bool // an existing file
	IgnoreLock bool // a file whose lock file says that another program has it open
}

// ErrThere says that a file would have been overwritten.
var ErrThere = safefile.ErrThere

// Save writes the workbook to a file, whole or not at all. A workbook that changed since it was read, or is open in
// another program, is not written, nor is any once ctx is done; a file that has begun to be put in its place is put there.
func (w *Workbook) Save(ctx context.Context, path string, o SaveOptions) error {
	if lock := findLock(path); lock != nil && !o.IgnoreLock {
		return lock.refusal(path)
	}
	data, err := w.bytes()
	if err != nil {
		return err
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	how := safefile.Options{Replace: o.Replace}
	if sameFile(path, w.path) {
		how.Old = w.sum
	}
	return safefile.Write(safefile.OS{}, path, data, how)
}

// sameFile tells whether two names lead to one file.
func sameFile(a, b string) bool {
	if a == b {
		return true
	}
	x, errX := os.Stat(a)
	y, errY := os.Stat(b)
	return errX == nil && errY == nil && os.SameFile(x, y)
}

// Read reads the known sheets of a workbook. The error is fit to be shown; problems of single cells are in the values.
func Read(path string) (*table.Case, error) {
	w, err := Open(path)
	if err != nil {
		return nil, err
	}
	return w.Case()
}

// ForbidSaving lets nothing be saved any more and returns true, where nothing is being saved and nothing was: the process may
// end with nothing written.
func ForbidSaving() bool { return safefile.Forbid() }
