package handedits

import (
	"sort"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel/table"
	"piececost/scenarios/ooxml"
	"piececost/scenarios/reading"
	"piececost/scenarios/seal"
	"piececost/scenarios/sheet"
)

// The headings of Input record by which the next run finds where the input cells stood and where they are.
const (
	HeadInputSheet = "Sheet"
	HeadInputCell  = "Cell"
	HeadInputNow   = "Now"
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

// A written sheet is a result sheet as the last run left it, by the sheet Formula record.
type written struct {
	name         string // as it was
	rows, cols   lines
	fingerprints map[int]string // of a row as it was: seal.Fingerprints as text
	words        map[int]string // likewise, of words and numbers that are no calculation's
	charts       int
}

// A Record is what Formula record and Input record say of the sheets.
type Record struct {
	sheets map[string]*written // by name as it is now
	inputs map[string]*written // likewise, rows and columns only
	words  bool                // the fingerprints of words are there: earlier versions left them out
}

// move is the seal.Move of a workbook that was written before.
func (r *Record) move(sheet string, c seal.Cell) (string, seal.Cell) {
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
func recordOf(b *reading.Book, own map[string]bool) (*Record, error) {
	r := &Record{sheets: map[string]*written{}, inputs: map[string]*written{}}
	for i := range b.Pack.Sheets {
		s := &b.Pack.Sheets[i]
		if !own[s.Name] {
			continue
		}
		title, err := b.Pack.Peek(s, 1, 1)
		if err != nil {
			return nil, err
		}
		var read func(rowCells)
		switch title {
		case writtenTitle:
			read = r.readWritten()
		case InputsTitle:
			read = r.readInputs()
		default:
			continue
		}
		if err := b.Pack.Rows(s, func(_ int, cells []ooxml.Cell) error { read(cells); return nil }); err != nil {
			return nil, err
		}
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
		w = &written{name: then, fingerprints: map[int]string{}, words: map[int]string{}}
		all[now] = w
	}
	return w
}

// rowCells are the filled cells of a row.
type rowCells []ooxml.Cell

func (r rowCells) at(col int) *ooxml.Cell {
	i := sort.Search(len(r), func(i int) bool { return r[i].Col >= col })
	if i < len(r) && r[i].Col == col {
		return &r[i]
	}
	return nil
}

func (r rowCells) text(col int) string {
	if c := r.at(col); c != nil {
		return c.Value
	}
	return ""
}

// anchor is the cell that a formula names.
func (r rowCells) anchor(col int) (sheet string, at seal.Cell, ok bool) {
	c := r.at(col)
	if c == nil || c.Formula == "" {
		return "", seal.Cell{}, false
	}
	return seal.Anchor(c.Formula)
}

// headings finds the columns of headings; nil where the row has not all of them.
func (r rowCells) headings(words ...string) []int {
	at := map[string]int{}
	for i := range r {
		if c := &r[i]; at[c.Value] == 0 {
			at[c.Value] = c.Col
		}
	}
	var cols []int
	for _, w := range words {
		if at[w] > 0 {
			cols = append(cols, at[w])
		}
	}
	if len(cols) < len(words) {
		return nil
	}
	return cols
}

// readWritten reads the fingerprints below their headings. A line whose row is gone has lost its anchor and is left out.
func (r *Record) readWritten() func(rowCells) {
	var cols []int
	words := 0
	return func(row rowCells) {
		if cols == nil {
			if cols = row.headings(headSheet, headNow, headThen, headFingerprints); cols != nil {
				if at := row.headings(headWords); at != nil {
					words, r.words = at[0], true
				}
			}
			return
		}
		name := row.text(cols[0])
		if row.text(cols[2]) == columnsWord {
			if w := r.readColumns(row, cols[3]+1, name); w != nil && words > 0 {
				w.charts, _ = strconv.Atoi(row.text(words))
			}
			return
		}
		then, err := strconv.Atoi(row.text(cols[2]))
		now, at, found := row.anchor(cols[1])
		if err != nil || !found {
			return
		}
		w := of(r.sheets, now, name)
		w.rows.add(at.Row, then)
		w.fingerprints[then] = row.text(cols[3])
		if words > 0 {
			w.words[then] = row.text(words)
		}
	}
}

// readColumns reads where the columns of a sheet are: the first formula stands for the first column, and so on. It returns
// the sheet, nil where it is gone.
func (r *Record) readColumns(row rowCells, from int, name string) (w *written) {
	then := 0
	for i := range row {
		if row[i].Col < from || row[i].Formula == "" {
			continue // before them, or a column inserted here
		}
		then++
		if now, at, ok := seal.Anchor(row[i].Formula); ok {
			w = of(r.sheets, now, name)
			w.cols.add(at.Col, then)
		}
	}
	return w
}

// readInputs reads where the input cells stood and where they are now.
func (r *Record) readInputs() func(rowCells) {
	var cols []int
	return func(cells rowCells) {
		if cols == nil {
			cols = cells.headings(HeadInputSheet, HeadInputCell, HeadInputNow)
			return
		}
		col, row, err := excelize.CellNameToCoordinates(cells.text(cols[1]))
		now, at, found := cells.anchor(cols[2])
		if err != nil || !found {
			return
		}
		w := of(r.inputs, now, cells.text(cols[0]))
		w.rows.add(at.Row, row)
		w.cols.add(at.Col, col)
	}
}

// OwnSheets are the sheets that an earlier run wrote, by name.
func OwnSheets(pack *ooxml.Package) (map[string]bool, error) {
	own := map[string]bool{}
	for i := range pack.Sheets {
		s := &pack.Sheets[i]
		note, err := pack.Peek(s, 2, 1)
		if err != nil {
			return nil, err
		}
		own[s.Name] = strings.HasPrefix(note, sheet.OwnNote)
	}
	return own, nil
}

// cellName writes a place for a person.
func cellName(sheet string, row, col int) string {
	return table.Place{Sheet: sheet, Row: row, Col: col}.String()
}

// exact returns the column as it was, and whether it is one of those that were written or lies beyond them: a column that a
// person put between is neither.
func (l *lines) exact(now int) (then int, ok bool) {
	if _, ok = l.then[now]; ok || len(l.now) == 0 || now > l.now[len(l.now)-1] {
		return l.was(now), true
	}
	return 0, false
}

// rowFingerprints are the fingerprints of a row as it was written.
type rowFingerprints struct{ results, words seal.Fingerprints }

// fingerprintsOf returns those of a row as it is now; known is false for a row that the last run did not write.
func (w *written) fingerprintsOf(now int) (p rowFingerprints, known bool) {
	then, known := w.rows.then[now]
	if known {
		p.results, _ = seal.Parse(w.fingerprints[then])
		p.words, _ = seal.Parse(w.words[then])
	}
	return p, known
}
