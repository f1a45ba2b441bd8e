package reading

import (
	"cmp"
	"fmt"
	"slices"
	"sort"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel/table"
	"piececost/scenarios/ooxml"
	"piececost/scenarios/sheet"
)

// Book reads cells of an open package; each sheet is scanned once.
type Book struct {
	Pack  *ooxml.Package
	grids map[string]*grid
	// computed holds cells without stored value that formulas led to, as sheet!A1 in lower case
	computed map[string]result
}

// result is what a cell without stored value came to; remembered, since a chain of cells would be computed over and over.
type result struct {
	value float64
	err   error
}

// NewBook reads the cells of a package as they are asked for.
func NewBook(p *ooxml.Package) *Book {
	return &Book{Pack: p, grids: map[string]*grid{}, computed: map[string]result{}}
}

// grid is the cells of a sheet by row and column.
type grid struct {
	Cells  map[int][]ooxml.Cell // by row, in column order
	Rows   []int                // in use, ascending
	merged []string
}

// Grid returns the cells of a sheet by row, read once; an error names the sheet.
func (b *Book) Grid(s *ooxml.Sheet) (*grid, error) {
	if g := b.grids[s.Name]; g != nil {
		return g, nil
	}
	raw, err := b.Pack.Read(s)
	if err != nil {
		return nil, err
	}
	g := gridOf(raw)
	b.grids[s.Name] = g
	return g, nil
}

// gridOf sorts cells that do not stand in order, which no spreadsheet program writes, and cuts them into rows; they are
// not copied.
func gridOf(raw *ooxml.Grid) *grid {
	byPlace := func(a, b ooxml.Cell) int { return cmp.Or(cmp.Compare(a.Row, b.Row), cmp.Compare(a.Col, b.Col)) }
	if !slices.IsSortedFunc(raw.Cells, byPlace) {
		slices.SortStableFunc(raw.Cells, byPlace)
	}
	g := &grid{Cells: map[int][]ooxml.Cell{}, merged: raw.Merged}
	for from, to := 0, 0; from < len(raw.Cells); from = to {
		row := raw.Cells[from].Row
		for to < len(raw.Cells) && raw.Cells[to].Row == row {
			to++
		}
		g.Rows = append(g.Rows, row)
		g.Cells[row] = raw.Cells[from:to:to]
	}
	return g
}

// at returns a cell, nil where it is empty.
func (g *grid) at(row, col int) *ooxml.Cell {
	cells := g.Cells[row]
	i := sort.Search(len(cells), func(i int) bool { return cells[i].Col >= col })
	if i < len(cells) && cells[i].Col == col {
		return &cells[i]
	}
	return nil
}

func (g *grid) text(row, col int) string {
	if c := g.at(row, col); c != nil {
		return c.Value
	}
	return ""
}

// width is the last column in use of a row.
func (g *grid) width(row int) int {
	if cells := g.Cells[row]; len(cells) > 0 {
		return cells[len(cells)-1].Col
	}
	return 0
}

// isComputed tells a cell with a formula, or one that an array formula in another cell fills.
func isComputed(c *ooxml.Cell) bool { return c.Formula != "" || c.Filled }

// Stored turns a cell with a value into what it means.
func (b *Book) Stored(c *ooxml.Cell) table.Value {
	style := b.Pack.Style(c.Style)
	raw := c.Value
	switch {
	case c.Type == ooxml.Error || errorValues[raw]:
		return table.Value{Kind: table.Broken, Text: "the cell shows " + raw, Help: "correct its formula or type a value"}
	case strings.TrimSpace(raw) == "":
		return table.Value{Filled: c.HasValue}
	case c.Type == ooxml.Flag:
		return table.Value{Kind: table.Flag, Number: flagNumber(raw), Text: raw}
	case c.Type == ooxml.Date:
		return table.Value{Kind: table.Date, Text: raw}
	case table.Characters(raw) > sheet.MostInCell:
		return table.Value{Kind: table.Broken, Text: fmt.Sprintf("the cell holds a text of %d characters, more than the %d that spreadsheet "+
			"programs take", table.Characters(raw), sheet.MostInCell), Help: "shorten it"}
	case c.Type == ooxml.Text && !isComputed(c):
		return table.Value{Kind: table.Text, Text: raw, Percent: style.Percent}
	}
	n, ok := PlainNumber(raw)
	switch {
	case !ok:
		return table.Value{Kind: table.Text, Text: raw, Percent: style.Percent}
	case style.Date:
		return table.Value{Kind: table.Date, Number: n, Text: b.dateText(n)}
	}
	return table.Value{Kind: table.Number, Number: n, Percent: style.Percent}
}

// PlainNumber reads a number as workbooks store it: no inf, nan or 0x10, which the parser takes too.
func PlainNumber(raw string) (float64, bool) {
	if strings.Trim(raw, "+-.0123456789eE") != "" {
		return 0, false
	}
	n, err := strconv.ParseFloat(raw, 64)
	return n, err == nil
}

var errorValues = map[string]bool{"#REF!": true, "#DIV/0!": true, "#VALUE!": true, "#NAME?": true, "#N/A": true, "#NUM!": true, "#NULL!": true}

func flagNumber(raw string) float64 {
	if raw == "1" || strings.EqualFold(raw, "true") {
		return 1
	}
	return 0
}

func (b *Book) dateText(serial float64) string {
	t, err := excelize.ExcelDateToTime(serial, b.Pack.Date1904)
	if err != nil {
		return ""
	}
	return t.Format("2006-01-02")
}
