package ooxml

import (
	"fmt"
	"strconv"
)

// A CellType is how a cell's value is stored.
type CellType byte

// The types of cell.
const (
	Number CellType = 'n'
	Text   CellType = 's' // shared, inline or the result of a formula
	Flag   CellType = 'b'
	Error  CellType = 'e'
	Date   CellType = 'd' // ISO 8601
)

// A Cell is a filled cell: a value, a formula or both. Row and Col count from 1. Value keeps the digits of the file.
type Cell struct {
	Row, Col int
	Type     CellType
	Style    int
	Value    string
	HasValue bool   // a value is stored; a formula may lack one
	Formula  string // of a shared formula, shifted to this cell; "" where there is none
}

// A Grid is the filled cells of a sheet, row by row, and its merged ranges.
type Grid struct {
	Cells  []Cell
	Merged []string
}

// Read scans a sheet. Chart sheets and the like have no cells.
func (p *Package) Read(s *Sheet) (*Grid, error) {
	g := &Grid{}
	if s.Kind != "worksheet" {
		return g, nil
	}
	data, err := p.part(s.part)
	if err != nil {
		return nil, err
	}
	r := sheetScan{scanner: scanner{data: data}, pack: p, grid: g, shared: map[string]sharedFormula{}}
	if err := r.run(); err != nil {
		return nil, fmt.Errorf("the sheet %s is broken: %w", s.Name, err)
	}
	return g, nil
}

// sheetScan is one pass over a sheet.
type sheetScan struct {
	scanner
	pack     *Package
	grid     *Grid
	shared   map[string]sharedFormula
	row, col int
}

type sharedFormula struct {
	text     string
	row, col int
}

func (r *sheetScan) run() error {
	for {
		t, err := r.next()
		if err != nil {
			return err
		}
		switch {
		case t.kind == endOfPart:
			return nil
		case t.kind != startTag:
		case string(t.name) == "row":
			r.row = t.number("r", r.row+1)
			r.col = 0
		case string(t.name) == "c":
			if err := r.cell(&t); err != nil {
				return err
			}
		case string(t.name) == "mergeCell":
			if ref, ok := t.attr("ref"); ok && len(r.grid.Merged) < 100000 {
				r.grid.Merged = append(r.grid.Merged, ref)
			}
		}
	}
}

// cell reads one c element. A cell without value and formula is left out.
func (r *sheetScan) cell(t *token) error {
	r.col++
	row, col := r.row, r.col
	if ref, ok := t.attr("r"); ok {
		if rr, cc, valid := parseCell(ref); valid {
			row, col = rr, cc
		}
	}
	r.row, r.col = row, col
	if row < 1 || row > 1<<20 || col < 1 || col > 1<<14 {
		return fmt.Errorf("a cell at row %d, column %d", row, col)
	}
	kind, _ := t.attr("t")
	c := Cell{Row: row, Col: col, Style: t.number("s", 0)}
	if t.empty {
		return nil
	}
	if err := r.content(&c, kind); err != nil {
		return err
	}
	if c.HasValue || c.Formula != "" {
		if len(r.grid.Cells) == MaxCells {
			return fmt.Errorf("it has more than %d filled cells", MaxCells)
		}
		r.grid.Cells = append(r.grid.Cells, c)
	}
	return nil
}

func (r *sheetScan) content(c *Cell, kind string) error {
	for {
		t, err := r.next()
		if err != nil {
			return err
		}
		switch {
		case t.kind == endOfPart:
			return errCut
		case t.kind == endTag && string(t.name) == "c":
			return nil
		case t.kind != startTag:
		case string(t.name) == "f":
			if err := r.formula(c, &t); err != nil {
				return err
			}
		case string(t.name) == "v":
			raw := ""
			if !t.empty {
				if raw, err = r.text("v"); err != nil {
					return err
				}
			}
			r.value(c, kind, raw)
		case string(t.name) == "is" && !t.empty:
			if c.Value, err = r.richText("is"); err != nil {
				return err
			}
			c.Type, c.HasValue = Text, true
		}
	}
}

// value stores a v element by the cell's type.
func (r *sheetScan) value(c *Cell, kind, raw string) {
	c.HasValue = true
	switch kind {
	case "s":
		c.Type = Text
		if i, err := strconv.Atoi(raw); err == nil && i >= 0 && i < len(r.pack.strings) {
			c.Value = r.pack.strings[i]
		}
	case "str", "inlineStr":
		c.Type, c.Value = Text, plainString(raw)
	case "b":
		c.Type, c.Value = Flag, raw
	case "e":
		c.Type, c.Value = Error, raw
	case "d":
		c.Type, c.Value = Date, raw
	default:
		c.Type, c.Value = Number, raw
		c.HasValue = raw != ""
	}
}

// formula stores an f element; the members of a shared formula get its text shifted to their place.
func (r *sheetScan) formula(c *Cell, t *token) error {
	kind, _ := t.attr("t")
	si, _ := t.attr("si")
	body := ""
	if !t.empty {
		var err error
		if body, err = r.text("f"); err != nil {
			return err
		}
	}
	switch {
	case kind == "shared" && body != "":
		r.shared[si] = sharedFormula{body, c.Row, c.Col}
	case kind == "shared":
		if m, ok := r.shared[si]; ok {
			body = Shift(m.text, c.Row-m.row, c.Col-m.col)
		}
	}
	c.Formula = body
	return nil
}

// text joins the text up to the end of an element.
func (s *scanner) text(until string) (string, error) {
	out := ""
	for {
		t, err := s.next()
		if err != nil {
			return out, err
		}
		switch {
		case t.kind == endOfPart:
			return out, errCut
		case t.kind == text && t.cdata:
			out += string(t.text)
		case t.kind == text:
			out += unescape(t.text)
		case t.kind == endTag && string(t.name) == until:
			return out, nil
		}
	}
}
