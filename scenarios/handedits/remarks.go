package handedits

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"piececost/costmodel"
	"piececost/scenarios/ooxml"
	"piececost/scenarios/seal"
	"piececost/scenarios/sheet"
)

// A Remark is what a person typed into a result sheet without touching a result: words, a number or a formula in a cell
// that the last run left empty, or other words over a label.
type Remark struct {
	Place   costmodel.Place // where it was found
	Content string          // as typed; a formula with its =
	Label   bool            // it stands over a label
	Note    bool            // it is a note attached to a cell
	Was     string          // the words of that label, "" where the sheet no longer has it
	Row     string          // the label of its row, "" for none
	Column  string          // the heading of its column, "" for none
	Now     costmodel.Place // where it stands after the run; Row is 0 where it is in Overrides
	Why     string          // why it is in Overrides

	scenario string // of a calculation
	author   string // of a note
	cell     ooxml.Cell
	value    costmodel.Value
	moved    string // its formula, for the sheets of this run
	was      *written
	print    string // of the label
	col      int    // as written
}

// String says in a line what became of a remark.
func (r *Remark) String() string {
	head := fmt.Sprintf("%s: %s", cellName(r.Place.Sheet, r.Place.Row, r.Place.Col), shortened(r.Content))
	switch {
	case r.Label && r.Was != "":
		return fmt.Sprintf("%s stood over the label %s", head, shortened(r.Was))
	case r.Why != "":
		return head + ": " + r.Why
	case r.Now.Sheet != r.Place.Sheet:
		return head + " is now " + cellName(r.Now.Sheet, r.Now.Row, r.Now.Col)
	}
	return head + " is now " + r.Now.Cell()
}

// shortened cuts a long text for a line of the terminal, and joins its lines.
func shortened(text string) string {
	words := []rune(strings.Join(strings.Fields(text), " "))
	if len(words) > 60 {
		return string(words[:57]) + "..."
	}
	return string(words)
}

// prints are the fingerprints of a row as it was written.
type prints struct{ results, words seal.Row }

// printsOf returns those of a row as it is now; known is false for a row that the last run did not write.
func (w *written) printsOf(now int) (p prints, known bool) {
	then, known := w.rows.then[now]
	if known {
		p.results, _ = seal.ParseRow(w.prints[then])
		p.words, _ = seal.ParseRow(w.words[then])
	}
	return p, known
}

// exact returns the column as it was, and whether it is one of those that were written or lies beyond them: a column that a
// person put between is neither.
func (l *lines) exact(now int) (then int, ok bool) {
	if _, ok = l.then[now]; ok || len(l.now) == 0 || now > l.now[len(l.now)-1] {
		return l.was(now), true
	}
	return 0, false
}

// remark takes a cell that the last run left empty for a person's, or one with another word than it wrote. It returns false
// where the cell is as it was written, or a result.
func (k *sheetCheck) remark(row rowCells, c *ooxml.Cell, p prints, sorted bool) bool {
	col, known := k.was.cols.exact(c.Col)
	r := &Remark{Place: costmodel.Place{Sheet: k.name, Row: c.Row, Col: c.Col}, scenario: k.scenario, cell: *c, was: k.was, col: col}
	r.Content = c.Value
	if c.Formula != "" {
		r.Content = "=" + c.Formula
	}
	switch {
	case !known:
		r.col = 0
	case sorted:
		return k.keyOver(row, r, p)
	case p.results[col] != "":
		return false
	case p.words[col] != "":
		if k.scenario != "" && p.results[1] != "" || k.unchanged(c, p.words[col]) || c.Type == ooxml.Number && c.Formula == "" {
			return false
		}
		r.Label, r.print = true, p.words[col]
	case k.scenario != "" && p.results[1] != "" && k.block.heads.text(c.Col) != "" && (c.Formula != "" || c.Type == ooxml.Number):
		return false // a quantity of a row that has none
	}
	k.note(row, r)
	return true
}

// keyOver takes another word in the place of a key for a label, and leaves the rest of its row.
func (k *sheetCheck) keyOver(row rowCells, r *Remark, p prints) bool {
	if r.col == 1 && p.results[1] != "" && !k.unchanged(&r.cell, p.results[1]) {
		r.Label, r.print = true, p.results[1]
	} else if r.col <= k.was.width() {
		return false
	}
	k.note(row, r)
	return true
}

// width is the last column that was written.
func (w *written) width() int {
	last := 0
	for _, then := range w.cols.then {
		last = max(last, then)
	}
	return last
}

func (k *sheetCheck) unchanged(c *ooxml.Cell, print string) bool {
	if v, err := strconv.ParseFloat(c.Value, 64); err == nil && c.Type == ooxml.Number && c.Formula == "" {
		return seal.SameNumber(print, v)
	}
	return c.Formula == "" && (print == sheet.PrintOfWords(c.Value) || print == seal.PrintKey(c.Value))
}

func (k *sheetCheck) note(row rowCells, r *Remark) {
	r.Row, r.Column = k.labelOf(row, r.Place.Col), k.heads[r.Place.Col]
	if k.scenario != "" {
		r.Column = k.block.heads.text(r.Place.Col)
	}
	if v := k.finder.book.Stored(&r.cell); v.Kind != costmodel.Broken {
		r.value = v
	} else {
		r.value = costmodel.Value{Kind: costmodel.Text, Text: r.cell.Value}
	}
	k.remarks = append(k.remarks, r)
}

// labelOf is the first word of a row that the program wrote, in another column.
func (k *sheetCheck) labelOf(row rowCells, col int) string {
	for i := range row {
		if row[i].Col < col && k.ours[row[i].Col] && strings.TrimSpace(row[i].Value) != "" {
			return row[i].Value
		}
	}
	return ""
}

// headings notes the first word of each column of a table, which ends with an empty row.
func (k *sheetCheck) headings(n int, row rowCells) {
	if n > k.last+1 || k.heads == nil {
		k.heads = map[int]string{}
	}
	k.last = n
	for i := range row {
		c := &row[i]
		if k.ours[c.Col] && c.Col > 1 && c.Type == ooxml.Text && k.heads[c.Col] == "" {
			k.heads[c.Col] = c.Value
		}
	}
}

// finish hands over what was found on a sheet. Labels that are all still there were sorted or moved, not overwritten.
func (k *sheetCheck) finish() error {
	for _, row := range slices.Sorted(maps.Keys(k.attached)) { // of empty rows
		k.noteRow(row, nil)
	}
	if slices.ContainsFunc(k.remarks, func(r *Remark) bool { return r.Label }) {
		lost, err := k.lostLabels()
		if err != nil {
			return err
		}
		k.remarks = slices.DeleteFunc(k.remarks, func(r *Remark) bool { return r.Label && !lost[label{r.col, r.print}] })
	}
	k.finder.remarks = append(k.finder.remarks, k.remarks...)
	return nil
}

type label struct {
	col   int // as written
	print string
}

// lostLabels are the words that a column has fewer times than were written.
func (k *sheetCheck) lostLabels() (map[label]bool, error) {
	count := map[label]int{}
	for _, texts := range []map[int]string{k.was.words, k.was.prints} {
		for _, text := range texts {
			row, _ := seal.ParseRow(text)
			for col, print := range row {
				count[label{col, print}]++
			}
		}
	}
	pack := k.finder.book.Pack
	err := pack.Rows(pack.Sheet(k.name), func(_ int, cells []ooxml.Cell) error {
		for i := range cells {
			if col, ok := k.was.cols.exact(cells[i].Col); ok && cells[i].Formula == "" {
				count[label{col, sheet.PrintOfWords(cells[i].Value)}]--
			}
		}
		return nil
	})
	lost := map[label]bool{}
	for l, n := range count {
		lost[l] = n > 0
	}
	return lost, err
}
