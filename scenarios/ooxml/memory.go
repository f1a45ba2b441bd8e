package ooxml

import (
	"fmt"
	"strings"
)

// memory counts bytes that are held, roughly: reading any file takes no more than maxMemory, and with what the runtime
// adds less than 512 MB.
type memory int64

const (
	textMemory memory = 16 // of a string without its bytes
	cellMemory memory = 64
	mapMemory  memory = 160 // of an entry of a map with a text
)

var errMemory = fmt.Errorf("it takes more than %d MB of memory to read", maxMemory>>20)

// ofText is what the bytes of a text take: the runtime sets memory aside in steps of an eighth, small texts by sixteens.
func ofText(s string) memory {
	n := memory(len(s))
	return (n + n/8 + 15) &^ 15
}

// used is what the package holds: its file, which callers mostly have in memory, its texts and the sheets that were read.
func (p *Package) used() memory { return memory(p.size) + p.kept }

// hold counts what the scan of a sheet keeps, beside the part that it scans.
func (r *sheetScan) hold(n memory) error {
	r.grid.held += n
	if r.pack.used()+r.grid.held+memory(len(r.data)) > maxMemory {
		return errMemory
	}
	return nil
}

// filledColumns tells the cells that an array formula or a data table fills: for each column the last row of the ranges
// that were met. Cells come row by row, so those above a range have been read before it.
type filledColumns struct {
	until []int32
	work  int
}

// maxFilled bounds the columns of the ranges of all array formulas of a sheet, counted for each range.
const maxFilled = 1 << 26

// add notes a range, "B2:C9"; one of a single cell fills no other.
func (f *filledColumns) add(ref string) error {
	from, to, _ := strings.Cut(ref, ":")
	_, first, ok1 := parseCell(from)
	last, end, ok2 := parseCell(to)
	if !ok1 || !ok2 || last > maxRow || end > maxCol {
		return nil
	}
	if f.until == nil {
		f.until = make([]int32, maxCol+1)
	}
	if f.work += end - first + 1; f.work > maxFilled {
		return fmt.Errorf("its array formulas take more than %d columns", maxFilled)
	}
	for c := first; c <= end; c++ {
		f.until[c] = max(f.until[c], int32(last))
	}
	return nil
}

func (f *filledColumns) holds(row, col int) bool { return f.until != nil && row <= int(f.until[col]) }
