package ooxml

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
)

const (
	firstWindow = 32 << 10 // bytes of a sheet unpacked at first: most sheets are no longer, and of many only the top is asked for
	window      = 1 << 20  // bytes unpacked at a time, in the end
	longest     = 32 << 20 // bytes of one row
)

// errStop ends Rows early.
var errStop = errors.New("enough")

// Rows reads a sheet row by row: visit gets the filled cells of each, in a slice that is used again. A sheet may so be
// far larger than what Read holds. A shared formula whose text comes after its members, and a sheet in UTF-16, which no
// program writes, are refused.
func (p *Package) Rows(s *Sheet, visit func(row int, cells []Cell) error) error {
	f := p.files[partKey(s.part)]
	switch {
	case s.Kind != "worksheet":
		return nil
	case f == nil:
		return fmt.Errorf("the part %s is missing", shown(s.part))
	case f.Flags&1 != 0:
		return ErrPassword
	}
	in, err := f.Open()
	if err != nil {
		return fmt.Errorf("the part %s can't be unpacked", shown(s.part))
	}
	defer in.Close()
	r := &rowReader{scan: sheetScan{pack: p, grid: &Grid{}, shared: map[string]sharedFormula{}}, visit: visit}
	if err := r.read(in); err != nil && !errors.Is(err, errStop) {
		return fmt.Errorf("the sheet %s is broken: %w", shown(s.Name), err)
	}
	return nil
}

// rowReader feeds a scan with whole rows.
type rowReader struct {
	scan  sheetScan
	visit func(row int, cells []Cell) error
	buf   []byte
}

func (r *rowReader) read(in io.Reader) error {
	for size := firstWindow; ; size = min(2*size, window) {
		chunk := len(r.buf)
		r.buf = slices.Grow(r.buf, size)[:chunk+size]
		n, err := io.ReadFull(in, r.buf[chunk:])
		r.buf = r.buf[:chunk+n]
		switch {
		case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
			return r.last()
		case err != nil:
			return errCut
		case isUTF16(r.buf):
			return errors.New("it is UTF-16")
		}
		cut := afterRow(r.buf)
		if cut == 0 {
			if len(r.buf) > longest {
				return fmt.Errorf("it has a row of more than %d MB", longest>>20)
			}
			continue
		}
		if err := r.part(r.buf[:cut]); err != nil {
			return err
		}
		r.buf = r.buf[:copy(r.buf, r.buf[cut:])]
	}
}

func (r *rowReader) last() error {
	if isUTF16(r.buf) {
		return errors.New("it is UTF-16")
	}
	if err := r.part(r.buf); err != nil {
		return err
	}
	return r.scan.whole()
}

// afterRow is the place behind the last end of a row, 0 where there is none. A prefix of the name is allowed.
func afterRow(data []byte) int {
	for end := len(data); ; {
		i := bytes.LastIndex(data[:end], []byte("row>"))
		if i < 0 {
			return 0
		}
		j := i
		for j > 0 && (isLetter(data[j-1]) || isDigit(data[j-1]) || data[j-1] == ':') {
			j--
		}
		if j >= 2 && data[j-1] == '/' && data[j-2] == '<' {
			return i + len("row>")
		}
		end = i
	}
}

// part scans a piece that ends with a row.
func (r *rowReader) part(data []byte) error {
	s := &r.scan
	s.data, s.pos = data, 0
	for {
		t, err := s.next()
		if err != nil || t.kind == endOfPart {
			return err
		}
		name := string(t.name)
		switch {
		case t.kind == endTag && name == "row":
			if err := r.row(); err != nil {
				return err
			}
		case t.kind != startTag:
		case name == "row":
			s.row, s.col = t.number("r", s.row+1), 0
		case name == "c":
			if err := s.cell(&t); err != nil {
				return err
			}
		}
	}
}

// row hands the cells of a row over.
func (r *rowReader) row() error {
	s := &r.scan
	if len(s.early) > 0 {
		return errors.New("a shared formula stands below its members")
	}
	cells := s.grid.Cells
	s.grid.Cells, s.grid.held = s.grid.Cells[:0], 0
	return r.visit(s.row, cells)
}

// Peek returns the value of one cell near the top of a sheet without reading the rest; "" where it is empty.
func (p *Package) Peek(s *Sheet, row, col int) (value string, err error) {
	err = p.Rows(s, func(n int, cells []Cell) error {
		for i := range cells {
			if cells[i].Row == row && cells[i].Col == col {
				value = cells[i].Value
				return errStop
			}
		}
		if n >= row {
			return errStop
		}
		return nil
	})
	return value, err
}
