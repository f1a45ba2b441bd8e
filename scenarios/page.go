package scenarios

import (
	"bytes"
	"maps"
	"slices"
	"sort"
	"strings"

	"github.com/xuri/excelize/v2"

	"piececost/scenarios/live"
	"piececost/scenarios/seal"
)

// A page is a result sheet being made: cells are set in any order and streamed at the end, since only a stream can
// store a formula together with its value.
type page struct {
	b         *Book
	sheet     string
	rows      map[int]map[int]excelize.Cell
	heights   map[int]float64
	widths    map[int]float64
	charts    map[string]*excelize.Chart
	breaks    []int // page breaks before these rows
	freeze    string
	landscape bool
	onePage   bool
	titles    int  // heading rows repeated in print
	unsealed  bool // each cell is a person's
	err       error
}

// page makes an empty result sheet with its title and the master cell in row 3.
func (b *Book) page(name, title string) (*page, error) {
	p := b.blankPage(name)
	p.set(1, 1, title, look{kind: "title"})
	p.set(2, 1, ownNote, look{kind: "faint"})
	if name != checksSheet {
		p.formula(3, 1, b.quoted(checksSheet)+"!$A$3", b.status, look{kind: "faint"})
	}
	return p, nil
}

// blankPage makes a result sheet without anything on it.
func (b *Book) blankPage(name string) *page {
	return &page{b: b, sheet: b.names[name], rows: map[int]map[int]excelize.Cell{}, heights: map[int]float64{1: 24}, widths: map[int]float64{}, charts: map[string]*excelize.Chart{}}
}

func (p *page) put(row, col int, c excelize.Cell, k look) {
	id, err := p.b.looks.id(k)
	if err != nil && p.err == nil {
		p.err = err
	}
	c.StyleID = id
	if text, ok := c.Value.(string); ok {
		c.Value = inCell(text)
	}
	if p.rows[row] == nil {
		p.rows[row] = map[int]excelize.Cell{}
	}
	p.rows[row][col] = c
}

// set writes a value.
func (p *page) set(row, col int, value any, k look) { p.put(row, col, excelize.Cell{Value: value}, k) }

// formula writes a formula with its value.
func (p *page) formula(row, col int, formula string, value any, k look) {
	p.put(row, col, excelize.Cell{Formula: formula, Value: value}, k)
}

// points is how high the rows from one up to another are, without that one; 15 is a spreadsheet's own height of a row.
func (p *page) points(from, to int) float64 {
	sum := 0.0
	for row := from; row < to; row++ {
		if h := p.heights[row]; h > 0 {
			sum += h
		} else {
			sum += 15
		}
	}
	return sum
}

// heading writes a heading row; the first left columns hold words.
func (p *page) heading(row, left int, texts ...string) {
	for i, t := range texts {
		p.set(row, i+1, t, look{kind: "heading", right: i >= left})
	}
	p.heights[row] = 30
}

// link writes a quantity of a scenario's calculation as a formula with its value.
func (p *page) link(row, col int, l live.Ref, k look) {
	if !l.OK {
		p.set(row, col, nil, k)
		return
	}
	p.formula(row, col, l.Formula, l.Value(), k)
}

// flush streams the page.
func (p *page) flush() error {
	if p.err != nil {
		return p.err
	}
	if err := p.printing(); err != nil {
		return err
	}
	sw, err := p.b.f.NewStreamWriter(p.sheet)
	if err != nil {
		return err
	}
	if err := p.setup(sw); err != nil {
		return err
	}
	numbers := make([]int, 0, len(p.rows))
	for r := range p.rows {
		numbers = append(numbers, r)
	}
	sort.Ints(numbers)
	for _, r := range numbers {
		last := 0
		for c := range p.rows[r] {
			last = max(last, c)
		}
		cells := make([]any, last)
		prints, words := seal.Row{}, seal.Row{}
		for _, c := range slices.Sorted(maps.Keys(p.rows[r])) {
			cell := p.rows[r][c]
			cells[c-1] = cell
			if cell.Formula != "" {
				prints[c] = p.b.printOf(p.sheet, cell.Formula)
			} else if print := p.b.printOfValue(cell.Value); print != "" {
				words[c] = print
			}
		}
		if !p.unsealed {
			p.b.seal(p.sheet, r, prints, words)
		}
		at, err := excelize.CoordinatesToCellName(1, r)
		if err != nil {
			return err
		}
		if err := sw.SetRow(at, cells, excelize.RowOpts{Height: min(p.heights[r], highestRow)}); err != nil {
			return err
		}
	}
	if err := p.addCharts(); err != nil {
		return err
	}
	if n := len(p.b.sealed); n > 0 && p.b.sealed[n-1].sheet == p.sheet {
		p.b.sealed[n-1].drawn = len(p.charts)
	}
	if err := p.b.addNotes(p.sheet); err != nil {
		return err
	}
	return sw.Flush()
}

func (p *page) setup(sw *excelize.StreamWriter) error {
	cols := make([]int, 0, len(p.widths))
	for c := range p.widths {
		cols = append(cols, c)
	}
	sort.Sort(sort.Reverse(sort.IntSlice(cols)))
	for _, c := range cols {
		if err := sw.SetColWidth(c, c, p.widths[c]); err != nil {
			return err
		}
	}
	for _, r := range p.breaks {
		at, err := excelize.CoordinatesToCellName(1, r)
		if err != nil {
			return err
		}
		if err := sw.InsertPageBreak(at); err != nil {
			return err
		}
	}
	if p.freeze != "" {
		c, r, err := excelize.CellNameToCoordinates(p.freeze)
		if err != nil {
			return err
		}
		pane := "bottomLeft"
		if c > 1 {
			pane = "bottomRight"
		}
		if err := sw.SetPanes(&excelize.Panes{Freeze: true, XSplit: c - 1, YSplit: r - 1, TopLeftCell: p.freeze, ActivePane: pane}); err != nil {
			return err
		}
	}
	return nil
}

// printing sets up paper and titles; the library loses sheet properties that are set after the stream is opened.
func (p *page) printing() error {
	if err := printSetup(p.b.f, p.sheet, p.landscape, p.titles); err != nil {
		return err
	}
	if p.onePage {
		one := 1
		return p.b.f.SetPageLayout(p.sheet, &excelize.PageLayoutOptions{FitToHeight: &one})
	}
	return nil
}

func (p *page) addCharts() error {
	cells := make([]string, 0, len(p.charts))
	for at := range p.charts {
		cells = append(cells, at)
	}
	sort.Strings(cells)
	for _, at := range cells {
		if err := p.b.f.AddChart(p.sheet, at, p.charts[at]); err != nil {
			return err
		}
	}
	p.b.turnAxisTitles()
	return nil
}

// levelText are the properties of text that the library writes at the end of each title of a chart, though the title's own
// text has some: they have no turn, and LibreOffice goes by them, so that the title of an upright axis would lie level and
// take a fifth of the width.
const levelText = `<txPr><a:bodyPr anchorCtr="false" rot="0" spcFirstLastPara="false"></a:bodyPr><a:p></a:p></txPr></title>`

// turnAxisTitles takes them out of the charts made so far.
func (b *Book) turnAxisTitles() {
	b.f.Pkg.Range(func(name, content any) bool {
		if part, ok := content.([]byte); ok && strings.HasPrefix(name.(string), "xl/charts/chart") {
			b.f.Pkg.Store(name, bytes.ReplaceAll(part, []byte(levelText), []byte("</title>")))
		}
		return true
	})
}

// grow makes a row high enough for a text in lines of at most so many letters; a program breaks after a hyphen, too.
func (p *page) grow(row int, text string, letters int) {
	if lines := len(brokenLines(strings.ReplaceAll(text, "-", "- "), letters)); lines > 1 {
		p.heights[row] = max(p.heights[row], 13.5*float64(lines))
	}
}

// mixedHeading writes a heading row in which the given columns hold words.
func (p *page) mixedHeading(row int, words []int, texts ...string) {
	for i, t := range texts {
		k := look{kind: "heading", right: !slices.Contains(words, i+1)}
		if k.right && slices.Contains(words, i+2) {
			k.format = padded("@")
		}
		p.set(row, i+1, t, k)
	}
	p.heights[row] = 30
}
