package sheet

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

// A Page is a result sheet being made: cells are set in any order and streamed at the end, since only a stream can
// store a formula together with its value.
type Page struct {
	b         *Book
	sheet     string
	rows      map[int]map[int]excelize.Cell
	Heights   map[int]float64
	Widths    map[int]float64
	Charts    map[string]*excelize.Chart
	Breaks    []int // page breaks before these rows
	Freeze    string
	Landscape bool
	OnePage   bool
	Titles    int  // heading rows repeated in print
	Unsealed  bool // each cell is a person's
	headings  []heading
	err       error
}

// A heading is a heading row with its words from the first column on.
type heading struct {
	row   int
	texts []string
}

// Page makes an empty result sheet with its title and the master cell in row 3.
func (b *Book) Page(name, title string) (*Page, error) {
	p := b.BlankPage(name)
	p.Set(1, 1, title, Look{Kind: "title"})
	p.Set(2, 1, OwnNote, Look{Kind: "faint"})
	if name != ChecksSheet {
		p.Formula(3, 1, b.Quoted(ChecksSheet)+"!$A$3", b.Status, Look{Kind: "faint"})
	}
	return p, nil
}

// BlankPage makes a result sheet without anything on it.
func (b *Book) BlankPage(name string) *Page {
	return &Page{b: b, sheet: b.Names[name], rows: map[int]map[int]excelize.Cell{}, Heights: map[int]float64{1: 24}, Widths: map[int]float64{},
		Charts: map[string]*excelize.Chart{}}
}

// Put sets a cell with its look; the first fault is kept for Flush. A text longer than a cell holds is cut.
func (p *Page) Put(row, col int, c excelize.Cell, k Look) {
	id, err := p.b.looks.ID(k)
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

// Set writes a value.
func (p *Page) Set(row, col int, value any, k Look) { p.Put(row, col, excelize.Cell{Value: value}, k) }

// Formula writes a formula with its value.
func (p *Page) Formula(row, col int, formula string, value any, k Look) {
	p.Put(row, col, excelize.Cell{Formula: formula, Value: value}, k)
}

// Points is how high the rows from one up to another are, without that one; 15 is a spreadsheet's own height of a row.
func (p *Page) Points(from, to int) float64 {
	sum := 0.0
	for row := from; row < to; row++ {
		if h := p.Heights[row]; h > 0 {
			sum += h
		} else {
			sum += 15
		}
	}
	return sum
}

// Heading writes a heading row; the first left columns hold words.
func (p *Page) Heading(row, left int, texts ...string) {
	for i, t := range texts {
		p.Set(row, i+1, t, Look{Kind: "heading", Right: i >= left})
	}
	p.Heights[row] = 30
	p.headings = append(p.headings, heading{row, texts})
}

// growHeadings makes heading rows high enough for their words in columns as wide as they became: bold letters of a wide font
// take a fifth more than the figures by which a column is measured.
func (p *Page) growHeadings() {
	for _, h := range p.headings {
		for i, text := range h.texts {
			if width := p.Widths[i+1]; width > 0 {
				p.Grow(h.row, text, int(width/1.2))
			}
		}
	}
}

// Link writes a quantity of a scenario's calculation as a formula with its value.
func (p *Page) Link(row, col int, l live.Ref, k Look) {
	if !l.OK {
		p.Set(row, col, nil, k)
		return
	}
	p.Formula(row, col, l.Formula, l.Value(), k)
}

// Flush streams the page.
func (p *Page) Flush() error {
	if p.err != nil {
		return p.err
	}
	p.growHeadings()
	if err := p.printing(); err != nil {
		return err
	}
	sw, err := p.b.File.NewStreamWriter(p.sheet)
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
		fingerprints, words := seal.Fingerprints{}, seal.Fingerprints{}
		for _, c := range slices.Sorted(maps.Keys(p.rows[r])) {
			cell := p.rows[r][c]
			cells[c-1] = cell
			if cell.Formula != "" {
				fingerprints[c] = p.b.FingerprintOf(p.sheet, cell.Formula)
			} else if fingerprint := p.b.FingerprintOfValue(cell.Value); fingerprint != "" {
				words[c] = fingerprint
			}
		}
		if !p.Unsealed {
			p.b.Seal(p.sheet, r, fingerprints, words)
		}
		at, err := excelize.CoordinatesToCellName(1, r)
		if err != nil {
			return err
		}
		if err := sw.SetRow(at, cells, excelize.RowOpts{Height: min(p.Heights[r], highestRow)}); err != nil {
			return err
		}
	}
	if err := p.addCharts(); err != nil {
		return err
	}
	if n := len(p.b.Sealed); n > 0 && p.b.Sealed[n-1].Sheet == p.sheet {
		p.b.Sealed[n-1].Drawn = len(p.Charts)
	}
	if err := p.b.addNotes(p.sheet); err != nil {
		return err
	}
	return sw.Flush()
}

func (p *Page) setup(sw *excelize.StreamWriter) error {
	cols := make([]int, 0, len(p.Widths))
	for c := range p.Widths {
		cols = append(cols, c)
	}
	sort.Sort(sort.Reverse(sort.IntSlice(cols)))
	for _, c := range cols {
		if err := sw.SetColWidth(c, c, p.Widths[c]); err != nil {
			return err
		}
	}
	for _, r := range p.Breaks {
		at, err := excelize.CoordinatesToCellName(1, r)
		if err != nil {
			return err
		}
		if err := sw.InsertPageBreak(at); err != nil {
			return err
		}
	}
	if p.Freeze != "" {
		c, r, err := excelize.CellNameToCoordinates(p.Freeze)
		if err != nil {
			return err
		}
		pane := "bottomLeft"
		if c > 1 {
			pane = "bottomRight"
		}
		if err := sw.SetPanes(&excelize.Panes{Freeze: true, XSplit: c - 1, YSplit: r - 1, TopLeftCell: p.Freeze, ActivePane: pane}); err != nil {
			return err
		}
	}
	return nil
}

// printing sets up paper and titles; the library loses sheet properties that are set after the stream is opened.
func (p *Page) printing() error {
	if err := PrintSetup(p.b.File, p.sheet, p.Landscape, p.Titles); err != nil {
		return err
	}
	if p.OnePage {
		one := 1
		return p.b.File.SetPageLayout(p.sheet, &excelize.PageLayoutOptions{FitToHeight: &one})
	}
	return nil
}

func (p *Page) addCharts() error {
	cells := make([]string, 0, len(p.Charts))
	for at := range p.Charts {
		cells = append(cells, at)
	}
	sort.Strings(cells)
	for _, at := range cells {
		if err := p.b.File.AddChart(p.sheet, at, p.Charts[at]); err != nil {
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
	b.File.Pkg.Range(func(name, content any) bool {
		if part, ok := content.([]byte); ok && strings.HasPrefix(name.(string), "xl/charts/chart") {
			b.File.Pkg.Store(name, bytes.ReplaceAll(part, []byte(levelText), []byte("</title>")))
		}
		return true
	})
}

// Grow makes a row high enough for a text in lines of at most so many letters; a program breaks after a hyphen, too.
func (p *Page) Grow(row int, text string, letters int) {
	if lines := len(BrokenLines(strings.ReplaceAll(text, "-", "- "), letters)); lines > 1 {
		p.Heights[row] = max(p.Heights[row], 13.5*float64(lines))
	}
}

// MixedHeading writes a heading row in which the given columns hold words.
func (p *Page) MixedHeading(row int, words []int, texts ...string) {
	for i, t := range texts {
		k := Look{Kind: "heading", Right: !slices.Contains(words, i+1)}
		if k.Right && slices.Contains(words, i+2) {
			k.Format = Padded("@")
		}
		p.Set(row, i+1, t, k)
	}
	p.Heights[row] = 30
	p.headings = append(p.headings, heading{row, texts})
}
