package scenarios

import (
	"sort"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
	"piececost/scenarios/seal"
)

// lines maps the rows or columns of a sheet as they are now to where they were when the results were written. Between
// known lines the nearest one before decides.
type lines struct {
	now  []int // ascending
	then map[int]int
}

func (l *lines) add(now, then int) {
	if l.then == nil {
		l.then = map[int]int{}
	}
	if _, twice := l.then[now]; !twice {
		l.now = append(l.now, now)
	}
	l.then[now] = then
}

func (l *lines) sort() { sort.Ints(l.now) }

// was returns the line as it was; a line before all known ones has moved as the first of them.
func (l *lines) was(now int) int {
	if l == nil || len(l.now) == 0 || now == 0 {
		return now
	}
	i := sort.SearchInts(l.now, now+1) - 1
	if i < 0 {
		return now + l.then[l.now[0]] - l.now[0]
	}
	return now + l.then[l.now[i]] - l.now[i]
}

// A written sheet is a result sheet as the last run left it, by the sheet As written.
type written struct {
	name       string // as it was
	rows, cols lines
	prints     map[int]seal.Row // by row as it was, then column as it was
}

// record is what As written and Inputs as run say of the sheets.
type record struct {
	sheets map[string]*written // by name as it is now
	inputs map[string]*written // likewise, rows and columns only
}

// move is the seal.Move of a workbook that was written before.
func (r *record) move(sheet string, c seal.Cell) (string, seal.Cell) {
	w := r.sheets[sheet]
	if w == nil {
		w = r.inputs[sheet]
	}
	if w == nil {
		return sheet, c
	}
	return w.name, seal.Cell{Row: w.rows.was(c.Row), Col: w.cols.was(c.Col)}
}

// recordOf reads the two sheets of the last run; nil where the workbook has none.
func (b *book) recordOf(own map[string]bool) (*record, error) {
	r := &record{sheets: map[string]*written{}, inputs: map[string]*written{}}
	for i := range b.pack.Sheets {
		s := &b.pack.Sheets[i]
		if !own[s.Name] {
			continue
		}
		title, err := b.pack.Peek(s, 1, 1)
		if err != nil {
			return nil, err
		}
		read := map[string]func(*grid){writtenTitle: r.readWritten, inputsTitle: r.readInputs}[title]
		if read == nil {
			continue
		}
		g, err := b.grid(s)
		if err != nil {
			return nil, err
		}
		read(g)
	}
	for _, all := range []map[string]*written{r.sheets, r.inputs} {
		for _, w := range all {
			w.rows.sort()
			w.cols.sort()
		}
	}
	if len(r.sheets) == 0 {
		return nil, nil
	}
	return r, nil
}

func of(all map[string]*written, now, then string) *written {
	w := all[now]
	if w == nil {
		w = &written{name: then, prints: map[int]seal.Row{}}
		all[now] = w
	}
	return w
}

// headings finds the columns of headings in the first row that has them all; nil where none has.
func (g *grid) headings(words ...string) []int {
	for _, n := range g.rows[:min(len(g.rows), 30)] {
		at := map[string]int{}
		for i := range g.cells[n] {
			if c := &g.cells[n][i]; at[c.Value] == 0 {
				at[c.Value] = c.Col
			}
		}
		var cols []int
		for _, w := range words {
			if at[w] > 0 {
				cols = append(cols, at[w])
			}
		}
		if len(cols) == len(words) {
			return cols
		}
	}
	return nil
}

// readWritten reads the fingerprints. A line whose row is gone has lost its anchor and is left out.
func (r *record) readWritten(g *grid) {
	cols := g.headings(headSheet, headNow, headThen, headPrint)
	if cols == nil {
		return
	}
	for _, n := range g.rows {
		name := g.text(n, cols[0])
		if g.text(n, cols[2]) == columnsWord {
			r.readColumns(g, n, cols[3]+1, name)
			continue
		}
		then, err := strconv.Atoi(g.text(n, cols[2]))
		prints, ok := seal.ParseRow(g.text(n, cols[3]))
		now, at, found := g.anchor(n, cols[1])
		if err != nil || !ok || !found {
			continue
		}
		w := of(r.sheets, now, name)
		w.rows.add(at.Row, then)
		w.prints[then] = prints
	}
}

// readColumns reads where the columns of a sheet are: the first formula stands for the first column, and so on.
func (r *record) readColumns(g *grid, row, from int, name string) {
	then := 0
	for c := from; c <= g.width(row); c++ {
		cell := g.at(row, c)
		if cell == nil || cell.Formula == "" {
			continue // a column inserted here
		}
		then++
		if now, at, ok := seal.Anchor(cell.Formula); ok {
			of(r.sheets, now, name).cols.add(at.Col, then)
		}
	}
}

// anchor is the cell that a formula names.
func (g *grid) anchor(row, col int) (sheet string, at seal.Cell, ok bool) {
	c := g.at(row, col)
	if c == nil || c.Formula == "" {
		return "", seal.Cell{}, false
	}
	return seal.Anchor(c.Formula)
}

// readInputs reads where the input cells stood and where they are now.
func (r *record) readInputs(g *grid) {
	cols := g.headings(headInputSheet, headInputCell, headInputNow)
	if cols == nil {
		return
	}
	for _, n := range g.rows {
		col, row, err := excelize.CellNameToCoordinates(g.text(n, cols[1]))
		now, at, found := g.anchor(n, cols[2])
		if err != nil || !found {
			continue
		}
		w := of(r.inputs, now, g.text(n, cols[0]))
		w.rows.add(at.Row, row)
		w.cols.add(at.Col, col)
	}
}

// ownSheets are the sheets that an earlier run wrote, by name.
func (w *Workbook) ownSheets() (map[string]bool, error) {
	own := map[string]bool{}
	for i := range w.pack.Sheets {
		s := &w.pack.Sheets[i]
		note, err := w.pack.Peek(s, 2, 1)
		if err != nil {
			return nil, err
		}
		own[s.Name] = strings.HasPrefix(note, ownNote)
	}
	return own, nil
}

// cellName writes a place for a person.
func cellName(sheet string, row, col int) string {
	return costmodel.Place{Sheet: sheet, Row: row, Col: col}.String()
}
