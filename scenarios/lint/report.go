package lint

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"

	"piececost/costmodel/table"
	"piececost/scenarios/ooxml"
)

// A Finding is something doubtful in a workbook: one cell, or several of a block with the same fault.
type Finding struct {
	Code    string
	Place   table.Place // the first cell; no sheet where the whole workbook is meant, no cell where a whole sheet
	Cells   int         // in the block; 1 for a single finding
	Last    table.Place // the last cell of the block
	Summary string      // what is wrong, one line, no full stop
	Why     string      // why it matters
	Help    string      // what to do
}

// A Report is what was found in a workbook, sorted by sheet, row and column.
type Report struct {
	File     string // base name
	Sheets   int    // that were looked at
	Skipped  []string
	Findings []Finding
}

// File looks at a workbook on disk. The error is one line fit to be shown.
func File(path string) (*Report, error) {
	info, err := ooxml.MayRead(path)
	if err != nil {
		return nil, err
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	r, err := Read(f, info.Size(), filepath.Base(path))
	if errors.Is(err, ooxml.ErrPassword) {
		return nil, fmt.Errorf("%s is protected by a password to open it; save a copy without one and look at that (the protection of sheets may stay)", path)
	}
	if err != nil {
		return nil, fmt.Errorf("%s can't be read as an .xlsx workbook: %w; open it in a spreadsheet program and save it as .xlsx", path, err)
	}
	return r, nil
}

// Read looks at a workbook of the given size; file names it in the places. It fails only where the package can't be read.
func Read(in io.ReaderAt, size int64, file string) (*Report, error) {
	p, err := ooxml.Open(in, size)
	if err != nil {
		return nil, err
	}
	b, err := openBook(p)
	if err != nil {
		return nil, err
	}
	c := checker{book: b, file: file}
	for _, check := range checks {
		check(&c)
	}
	r := &Report{File: file, Findings: c.grouped()}
	for _, s := range b.sheets {
		if s.own {
			r.Skipped = append(r.Skipped, s.name)
		} else {
			r.Sheets++
		}
	}
	return r, nil
}

// checks are run one after the other; each adds the findings of one subject.
var checks = []func(*checker){
	(*checker).errors, (*checker).externalLinks, (*checker).patterns, (*checker).formulas, (*checker).mixedUnits,
	(*checker).numbersAsText, (*checker).unusedInputs, (*checker).hidden, (*checker).sheetNames,
}

// A checker collects findings.
type checker struct {
	book  *book
	file  string
	found []found
}

// found is a finding before it is grouped: those of one kind, sheet and key that lie side by side become one.
type found struct {
	rank, sheet, row, col int // sheet -1: the whole workbook
	key, summary          string
}

func (c *checker) add(code string, sheet, row, col int, key, format string, args ...any) {
	c.found = append(c.found, found{rank(code), sheet, row, col, key, fmt.Sprintf(format, args...)})
}

// looked calls visit for every sheet that is looked at.
func (c *checker) looked(visit func(i int, s *sheet)) {
	for i, s := range c.book.sheets {
		if !s.own {
			visit(i, s)
		}
	}
}

// formulaCells calls visit for every formula of the sheets that are looked at.
func (c *checker) formulaCells(visit func(sheet int, cell *cell)) {
	c.looked(func(i int, s *sheet) {
		for k := range s.cells {
			if s.cells[k].facts != nil {
				visit(i, &s.cells[k])
			}
		}
	})
}

// grouped makes findings of what was found, in order.
func (c *checker) grouped() []Finding {
	blocks := blocksOf(c.found)
	slices.SortStableFunc(blocks, func(a, b block) int {
		x, y := a.first, b.first
		return cmp.Or(cmp.Compare(x.sheet, y.sheet), cmp.Compare(x.row, y.row), cmp.Compare(x.col, y.col), cmp.Compare(x.rank, y.rank))
	})
	out := []Finding{}
	for _, b := range blocks {
		k := Kinds[b.first.rank]
		out = append(out, Finding{Code: k.Code, Place: c.place(b.first.sheet, b.first.row, b.first.col), Cells: b.cells,
			Last: c.place(b.first.sheet, b.row2, b.col2), Summary: b.first.summary + b.more(), Why: k.Why, Help: k.Do})
	}
	return out
}

func (c *checker) place(sheet, row, col int) table.Place {
	p := table.Place{File: c.file, Row: row, Col: col}
	if sheet >= 0 {
		p.Sheet = c.book.sheets[sheet].name
	}
	return p
}
