package handedits

import (
	"sort"

	"piececost/costmodel/table"
	"piececost/scenarios/live"
	"piececost/scenarios/ooxml"
	"piececost/scenarios/seal"
	"piececost/scenarios/sheet"
	"piececost/scenarios/sheetformula"
)

// A layer is a result sheet by what it holds: its rows, each with the columns that are filled, and what they are known by.
type layer struct {
	rows  []int // ascending
	at    map[int]int
	cells []map[int]bool
	width []int // last column of each row
	marks []rowMark
}

func (l *layer) add(row int, results, words string) {
	p, q := rowOf(results), rowOf(words)
	cells := map[int]bool{}
	first, last := 0, 0
	for _, some := range []seal.Fingerprints{p, q} {
		for c := range some {
			cells[c] = true
			if last = max(last, c); first == 0 || c < first {
				first = c
			}
		}
	}
	mark := rowMark{all: words + " " + p[1], first: q[first]}
	if mark.first == "" {
		mark.first = p[first]
	}
	l.at[row] = len(l.rows)
	l.rows, l.cells, l.width, l.marks = append(l.rows, row), append(l.cells, cells), append(l.width, last), append(l.marks, mark)
}

func rowOf(text string) seal.Fingerprints {
	r, _ := seal.Parse(text)
	return r
}

func (l *layer) filled(row, col int) bool {
	i, ok := l.at[row]
	return ok && l.cells[i][col]
}

// endOf is the last row of the table that a row stands in: up to an empty row.
func (l *layer) endOf(row int) int {
	for {
		if _, ok := l.at[row+1]; !ok {
			return row
		}
		row++
	}
}

func newLayer() *layer { return &layer{at: map[int]int{}} }

// oldLayer is a sheet as it was written.
func oldLayer(w *written) *layer {
	l := newLayer()
	rows := make([]int, 0, len(w.fingerprints))
	for row := range w.fingerprints {
		rows = append(rows, row)
	}
	sort.Ints(rows)
	for _, row := range rows {
		l.add(row, w.fingerprints[row], w.words[row])
	}
	return l
}

// freshLayer is a sheet as it is being written.
func freshLayer(s *sheet.Sealed) *layer {
	l := newLayer()
	for i, row := range s.Rows {
		l.add(row, s.Texts[i], s.Words[i])
	}
	return l
}

// A sheetMove says where the cells of a result sheet of the last run are in the sheet of this run.
type sheetMove struct {
	was        *written
	old, fresh *layer // fresh is nil where the sheet is no longer written
	to         []int  // for each old row, by index: the index of the new one, -1 for none
}

// A relayout moves what a person added from the result sheets of the last run to those of this one.
type relayout struct {
	record *Record
	fresh  map[string]*sheet.Sealed
	moves  map[string]*sheetMove // by the sheet's name now
	taken  map[table.Place]bool
	kept   map[table.Place]table.Place // remarks kept so far: from, to
}

func newRelayout(r *Record, sheets []*sheet.Sealed) *relayout {
	l := &relayout{record: r, fresh: map[string]*sheet.Sealed{}, moves: map[string]*sheetMove{}, taken: map[table.Place]bool{},
		kept: map[table.Place]table.Place{}}
	for _, s := range sheets {
		l.fresh[s.Sheet] = s
	}
	return l
}

// move returns how a sheet moved; nil where it is none of the last run's.
func (l *relayout) move(sheet string) *sheetMove {
	if m, ok := l.moves[sheet]; ok {
		return m
	}
	var m *sheetMove
	if w := l.record.sheets[sheet]; w != nil {
		m = &sheetMove{was: w, old: oldLayer(w)}
		if s := l.fresh[w.name]; s != nil {
			m.fresh = freshLayer(s)
			m.to = alignRows(m.old.marks, m.fresh.marks)
		}
	}
	l.moves[sheet] = m
	return m
}

// Why a remark does not stay in its sheet.
const (
	whySheetGone = "this sheet is no longer written"
	whyRowGone   = "its row is no longer there"
	whyInserted  = "the row or column put in for it is not in the sheet written anew"
	whyTaken     = "the new table needs its cell"
	whyFormula   = "its formula leads to cells of a result sheet that are no longer there"
)

// target is where a cell of a result sheet, as it stands now, belongs in the new one; why says why nowhere.
func (m *sheetMove) target(row, col int) (to seal.Cell, why string) {
	if m.fresh == nil {
		return to, whySheetGone
	}
	was, ok := m.was.cols.exact(col)
	if !ok {
		return to, whyInserted
	}
	if then, ok := m.was.rows.then[row]; ok {
		return m.beside(then, was)
	}
	return m.below(row, was)
}

// beside follows a row by its label. What stands right of the row stays right of it.
func (m *sheetMove) beside(then, col int) (to seal.Cell, why string) {
	i, ok := m.old.at[then]
	if !ok || m.to[i] < 0 {
		return to, whyRowGone
	}
	j := m.to[i]
	if col > m.old.width[i] {
		col += m.fresh.width[j] - m.old.width[i]
	}
	return seal.Cell{Row: m.fresh.rows[j], Col: col}, ""
}

// below keeps a cell as far below the end of a table as it was.
func (m *sheetMove) below(row, col int) (to seal.Cell, why string) {
	now := m.was.rows.now
	i := sort.SearchInts(now, row) - 1
	if i < 0 {
		return to, whyInserted
	}
	last := m.was.rows.then[now[i]]
	if i+1 < len(now) && m.was.rows.then[now[i+1]] == last+1 {
		return to, whyInserted // inside a table
	}
	for then := last; ; then-- {
		at, ok := m.old.at[then]
		if !ok {
			return to, whyRowGone // the whole table is
		}
		if j := m.to[at]; j >= 0 {
			return seal.Cell{Row: m.fresh.endOf(m.fresh.rows[j]) + row - now[i], Col: col}, ""
		}
	}
}

// place finds the places of remarks: those that stay get Now, the others Why.
func (l *relayout) place(remarks []*Remark) {
	for _, r := range remarks {
		if r.Label {
			r.Why = "a label, which is written anew"
			continue
		}
		m := l.move(r.Place.Sheet)
		to, why := m.target(r.Place.Row, r.Place.Col)
		at := table.Place{Sheet: m.was.name, Row: to.Row, Col: to.Col}
		switch _, tableRow := m.rowFilled(to.Row); {
		case why != "":
			r.Why = why
		case r.Note:
			r.Now = at
		case m.fresh.filled(to.Row, to.Col), l.taken[at], tableRow && !m.isRow(r.Place.Row):
			r.Why = whyTaken
		default:
			l.taken[at], l.kept[table.Place{Sheet: r.Place.Sheet, Row: r.Place.Row, Col: r.Place.Col}] = true, at
			r.Now = at
		}
	}
	l.formulas(remarks)
}

func (m *sheetMove) rowFilled(row int) (int, bool) {
	if m.fresh == nil {
		return 0, false
	}
	i, ok := m.fresh.at[row]
	return i, ok
}

func (m *sheetMove) isRow(now int) bool {
	_, ok := m.was.rows.then[now]
	return ok
}

// formulas rewrites the formulas of remarks that stay, so that they lead to the cells that they led to; where that can't
// be, the remark goes to Overrides, and others that lead to it are looked at again.
func (l *relayout) formulas(remarks []*Remark) {
	for again := true; again; {
		again = false
		for _, r := range remarks {
			if r.Now.Row == 0 || r.cell.Formula == "" && !r.cell.Filled {
				continue
			}
			text, ok := sheetformula.Rewrite(r.cell.Formula, func(written string, ref sheetformula.Ref) (string, bool) { return l.reference(r, written, ref) })
			if ok && !r.cell.Filled {
				r.moved = text
				continue
			}
			delete(l.kept, table.Place{Sheet: r.Place.Sheet, Row: r.Place.Row, Col: r.Place.Col})
			r.Now, r.Why, again = table.Place{}, whyFormula, true
		}
	}
}

// reference writes a reference of a remark's formula for the sheets of this run.
func (l *relayout) reference(r *Remark, written string, ref sheetformula.Ref) (string, bool) {
	sheet := ref.Sheet
	if sheet == "" {
		sheet = r.Place.Sheet
	}
	m := l.move(sheet)
	if m == nil || ref.Book != "" || ref.Last != "" {
		return written, true // a sheet of the user's
	}
	for _, corner := range []struct{ row, col *int }{{&ref.Row1, &ref.Col1}, {&ref.Row2, &ref.Col2}} {
		if wholeLines(&ref) {
			break
		}
		to, ok := l.cell(m, sheet, *corner.row, *corner.col)
		if !ok {
			return "", false
		}
		*corner.row, *corner.col = to.Row, to.Col
	}
	if ref.Row1 > ref.Row2 || ref.Col1 > ref.Col2 {
		return "", false
	}
	if ref.Sheet == "" {
		return ref.Cells(), true
	}
	return quoteSheet(m.was.name) + "!" + ref.Cells(), m.fresh != nil
}

func wholeLines(ref *sheetformula.Ref) bool {
	return ref.Row1 == 1 && ref.Row2 == sheetformula.LastRow || ref.Col1 == 1 && ref.Col2 == sheetformula.LastCol
}

// cell is where a cell is that a formula leads to: one of ours that is still written, a remark that stays, or an empty one.
func (l *relayout) cell(m *sheetMove, sheet string, row, col int) (to seal.Cell, ok bool) {
	if at, ok := l.kept[table.Place{Sheet: sheet, Row: row, Col: col}]; ok {
		return seal.Cell{Row: at.Row, Col: at.Col}, true
	}
	to, why := m.target(row, col)
	if why != "" {
		return to, false
	}
	was, _ := m.was.cols.exact(col)
	then, known := m.was.rows.then[row]
	wasFilled := known && m.old.filled(then, was)
	return to, wasFilled == m.fresh.filled(to.Row, to.Col)
}

// CellsToKeep are the remarks that stay as cells of the sheets of this run.
func (w *Handwork) CellsToKeep() map[string][]ooxml.Cell {
	out := map[string][]ooxml.Cell{}
	for _, r := range w.remarks {
		if r.Now.Row == 0 || r.Note {
			continue
		}
		c := r.cell
		c.Row, c.Col = r.Now.Row, r.Now.Col
		if c.Formula != "" {
			c.Formula = r.moved
		}
		out[r.Now.Sheet] = append(out[r.Now.Sheet], c)
	}
	return out
}

func quoteSheet(name string) string { return live.QuoteSheet(name) }
