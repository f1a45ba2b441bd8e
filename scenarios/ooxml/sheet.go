package ooxml

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"
	"strings"
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
	Style    int
	Value    string
	Formula  string // of a shared formula, shifted to this cell; "" where there is none
	Type     CellType
	HasValue bool // a value is stored; a formula may lack one
	Filled   bool // no formula of its own: an array formula or a data table in another cell fills it
}

// A Grid is the filled cells of a sheet, row by row, and its merged ranges.
type Grid struct {
	Cells  []Cell
	Merged []string
	held   memory
}

// Read scans a sheet. Chart sheets and the like have no cells.
func (p *Package) Read(s *Sheet) (*Grid, error) {
	if s.Kind != "worksheet" {
		return &Grid{}, nil
	}
	if s.part == "" {
		return nil, fmt.Errorf("the sheet %s has no part", shown(s.Name))
	}
	data, err := p.xml(s.part)
	if err != nil {
		return nil, err
	}
	p.kept -= p.sheets[s.part]
	p.sheets[s.part] = 0
	g, err := p.scanSheet(data)
	switch {
	case errors.Is(err, errMemory):
		return nil, err
	case err != nil:
		return nil, fmt.Errorf("the sheet %s is broken: %w", shown(s.Name), err)
	}
	p.sheets[s.part] = g.held
	p.kept += g.held
	return g, nil
}

func (p *Package) scanSheet(data []byte) (*Grid, error) {
	most := bytes.Count(data, []byte("/c>")) + bytes.Count(data, []byte(":c>")) // counted first, for growing holds the cells twice
	most = min(most, MaxCells)
	g := &Grid{}
	r := sheetScan{scanner: scanner{data: data}, pack: p, grid: g, shared: map[string]sharedFormula{}}
	if err := r.hold(cellMemory * memory(most)); err != nil {
		return nil, err
	}
	g.Cells = make([]Cell, 0, most)
	if err := r.run(); err != nil {
		return nil, err
	}
	return g, nil
}

// maxShared bounds the text that the members of shared formulas unfold to: a few bytes each in the file.
const maxShared = 64 << 20

// sheetScan is one pass over a sheet.
type sheetScan struct {
	scanner
	pack     *Package
	grid     *Grid
	shared   map[string]sharedFormula
	early    map[int]string // index of cells that stand before the text of their shared formula: its number
	unfolded int            // bytes of shifted formulas
	filled   filledColumns
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
			if err := r.whole(); err != nil {
				return err
			}
			return r.unfoldEarly()
		case t.kind != startTag:
		case string(t.name) == "row":
			r.row = t.number("r", r.row+1)
			r.col = 0
		case string(t.name) == "c":
			if err := r.cell(&t); err != nil {
				return err
			}
		case string(t.name) == "mergeCell":
			if err := r.merged(&t); err != nil {
				return err
			}
		}
	}
}

func (r *sheetScan) merged(t *token) error {
	ref, ok := t.attr("ref")
	switch {
	case !ok:
		return nil
	case len(r.grid.Merged) == maxMerged:
		return fmt.Errorf("it has more than %d merged ranges", maxMerged)
	}
	r.grid.Merged = append(r.grid.Merged, ref)
	return r.hold(ofText(ref) + textMemory)
}

// cell reads one c element. A cell without value and formula is left out.
func (r *sheetScan) cell(t *token) error {
	if err := r.place(t); err != nil {
		return err
	}
	if t.empty {
		return nil
	}
	kind, _ := t.attr("t")
	c := Cell{Row: r.row, Col: r.col, Style: t.number("s", 0)}
	if err := r.content(&c, kind); err != nil {
		return err
	}
	c.Filled = c.Formula == "" && r.filled.holds(c.Row, c.Col)
	if _, early := r.early[len(r.grid.Cells)]; !early && !c.HasValue && c.Formula == "" && !c.Filled {
		return nil
	}
	if len(r.grid.Cells) == MaxCells {
		return fmt.Errorf("it has more than %d filled cells", MaxCells)
	}
	r.grid.Cells = append(r.grid.Cells, c)
	return r.hold(ofText(c.Formula))
}

// place moves to the cell that a c element names, to the next one where it names none.
func (r *sheetScan) place(t *token) error {
	r.col++
	if ref, ok := t.rawAttr("r"); ok {
		if r.row, r.col, ok = parseCell(string(ref)); !ok {
			return fmt.Errorf("a cell is called %.20q", ref)
		}
	}
	if r.row < 1 || r.row > maxRow || r.col < 1 || r.col > maxCol {
		return fmt.Errorf("a cell at row %d, column %d", r.row, r.col)
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
			if err := r.value(c, kind, raw); err != nil {
				return err
			}
		case string(t.name) == "is" && !t.empty:
			if c.Value, err = r.richText("is"); err != nil {
				return err
			}
			c.Type, c.HasValue = Text, true
			if err := r.hold(ofText(c.Value)); err != nil {
				return err
			}
		}
	}
}

// value stores a v element by the cell's type. Blanks around anything but a text are layout.
func (r *sheetScan) value(c *Cell, kind, raw string) error {
	c.HasValue = true
	c.Value = strings.TrimSpace(raw)
	if kind != "s" {
		if err := r.hold(ofText(raw)); err != nil {
			return err
		}
	}
	switch kind {
	case "s":
		return r.sharedText(c)
	case "str", "inlineStr":
		c.Type, c.Value = Text, plainString(raw)
	case "b":
		c.Type = Flag
	case "e":
		c.Type = Error
	case "d":
		c.Type = Date
	default:
		c.Type = Number
		c.HasValue = c.Value != ""
	}
	return nil
}

// sharedText replaces the number of a shared string by the string.
func (r *sheetScan) sharedText(c *Cell) error {
	c.Type = Text
	if c.Value == "" {
		return nil
	}
	i, err := strconv.Atoi(c.Value)
	if err != nil || i < 0 || i >= len(r.pack.strings) {
		return fmt.Errorf("cell %s%d wants the shared text %.20q of %d", columnName(c.Col), c.Row, c.Value, len(r.pack.strings))
	}
	c.Value = r.pack.strings[i]
	return nil
}

// formula stores an f element; the members of a shared formula get its text shifted to their place. A member may repeat
// a text of its own; only the one with a range gives the text for all (ECMA-376 part 1, 18.3.1.40).
func (r *sheetScan) formula(c *Cell, t *token) error {
	kind, _ := t.attr("t")
	var err error
	if !t.empty {
		if c.Formula, err = r.text("f"); err != nil {
			return err
		}
	}
	switch kind {
	case "array", "dataTable":
		ref, _ := t.attr("ref")
		return r.filled.add(ref)
	case "shared":
		return r.sharedFormula(c, t)
	}
	return nil
}

// sharedFormula keeps the text of a shared formula, or shifts it to a member.
func (r *sheetScan) sharedFormula(c *Cell, t *token) (err error) {
	si, _ := t.attr("si")
	_, first := t.attr("ref")
	m, known := r.shared[si]
	switch {
	case c.Formula != "" && (first || !known):
		r.shared[si] = sharedFormula{c.Formula, c.Row, c.Col}
		err = r.hold(mapMemory)
	case known:
		c.Formula, err = r.unfold(m, c)
	default:
		if r.early == nil {
			r.early = map[int]string{}
		}
		r.early[len(r.grid.Cells)] = si
		err = r.hold(mapMemory)
	}
	return err
}

// unfold shifts a shared formula to a cell.
func (r *sheetScan) unfold(m sharedFormula, c *Cell) (string, error) {
	out := Shift(m.text, c.Row-m.row, c.Col-m.col)
	if r.unfolded += len(out); r.unfolded > maxShared {
		return "", fmt.Errorf("its shared formulas unfold to more than %d MB", maxShared>>20)
	}
	return out, nil
}

// unfoldEarly gives their formula to the cells that stood before its text. Where there is no text at all the cell keeps
// its value alone, and one without a value has nothing.
func (r *sheetScan) unfoldEarly() error {
	if r.early == nil {
		return nil
	}
	kept := r.grid.Cells[:0]
	for i := range r.grid.Cells {
		c := &r.grid.Cells[i]
		if si, ok := r.early[i]; ok {
			if m, known := r.shared[si]; known {
				var err error
				if c.Formula, err = r.unfold(m, c); err != nil {
					return err
				}
			}
		}
		if c.HasValue || c.Formula != "" || c.Filled {
			kept = append(kept, *c)
		}
	}
	r.grid.Cells = kept
	return nil
}

// text joins the text up to the end of an element.
func (s *scanner) text(until string) (string, error) {
	var out pieces
	for {
		t, err := s.next()
		if err != nil {
			return "", err
		}
		switch {
		case t.kind == endOfPart:
			return "", errCut
		case t.kind == text:
			if err := out.add(&t); err != nil {
				return "", err
			}
		case t.kind == endTag && string(t.name) == until:
			return out.String(), nil
		}
	}
}
