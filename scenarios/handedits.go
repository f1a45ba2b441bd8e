package scenarios

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"piececost/costmodel"
	"piececost/scenarios/live"
	"piececost/scenarios/ooxml"
	"piececost/scenarios/seal"
)

// An Edit is a cell of a result sheet that a person changed since it was written.
type Edit struct {
	Place    costmodel.Place // where it stands now
	Content  string          // what was typed, as it stands in the cell
	Scenario string
	Sheet    string // the input sheet whose quantity it is; "" where it is none
	Row      string // key
	Column   string // heading with its unit
	Value    costmodel.Value
	Note     string // what was made of it
	Dropped  string // why it can't be taken over; "" where it is
}

// String says an edit in a line.
func (e Edit) String() string {
	head := fmt.Sprintf("%s: %s", cellName(e.Place.Sheet, e.Place.Row, e.Place.Col), e.Content)
	if e.Dropped != "" {
		return head + " is not taken over: " + e.Dropped
	}
	out := fmt.Sprintf("%s sets %s of %s %s", head, e.Column, e.Sheet, e.Row)
	switch {
	case e.Note != "":
		out += "; " + e.Note
	case e.Value.Kind == costmodel.Text && strings.HasPrefix(e.Content, "="):
		out += " as the expression " + e.Value.Text
	}
	return out
}

// edits finds every cell that a person changed. schema gives the quantities that a heading may mean.
func (w *Workbook) edits(schema *costmodel.Model) ([]Edit, error) {
	own, err := w.ownSheets()
	if err != nil {
		return nil, err
	}
	b := newBook(w.pack)
	r, err := b.recordOf(own)
	if r == nil || err != nil {
		return nil, err
	}
	f := &editFinder{book: b, record: r, model: schema, meanings: schema.Meanings()}
	for i := range w.pack.Sheets {
		s := &w.pack.Sheets[i]
		if was := r.sheets[s.Name]; was != nil && own[s.Name] {
			g, err := b.grid(s)
			if err != nil {
				return nil, err
			}
			f.sheet(s.Name, g, was)
			delete(b.grids, s.Name)
		}
	}
	return f.found, nil
}

type editFinder struct {
	book     *book
	record   *record
	model    *costmodel.Model
	meanings map[costmodel.Place]costmodel.CellMeaning
	found    []Edit
	dropped  int
}

// mostDropped bounds the cells listed that can't be taken over: a sheet that was cleared is one fact, not thousands.
const mostDropped = 100

func (f *editFinder) add(e Edit) {
	if e.Dropped != "" {
		if f.dropped++; f.dropped > mostDropped {
			return
		}
	}
	f.found = append(f.found, e)
}

// sheet compares the cells of a result sheet with their fingerprints.
func (f *editFinder) sheet(name string, g *grid, was *written) {
	calc := calculationOf(name, g)
	for _, n := range g.rows {
		then := was.rows.was(n)
		prints := was.prints[then]
		if _, known := was.rows.then[n]; !known || calc != nil && f.sortedAway(g, n, was, prints) {
			prints = nil
		}
		for i := range g.cells[n] {
			c := &g.cells[n][i]
			if content, changed := f.changed(name, c, prints[was.cols.was(c.Col)], calc != nil && prints != nil); changed {
				f.add(f.edit(name, g, c, calc, content))
			}
		}
	}
}

// sortedAway tells whether another row stands where the fingerprints were taken.
func (f *editFinder) sortedAway(g *grid, row int, was *written, prints seal.Row) bool {
	for _, c := range g.cells[row] {
		if was.cols.was(c.Col) == 1 {
			return prints[1] != "" && prints[1] != seal.Print(seal.Key(c.Value))
		}
	}
	return prints[1] != ""
}

// changed tells whether a cell is not what was written, and what it holds. Words without a fingerprint are labels; where
// every number has one (calculation), a number without is new.
func (f *editFinder) changed(sheet string, c *ooxml.Cell, print string, numbers bool) (content string, changed bool) {
	switch {
	case c.Formula != "":
		text, ok := seal.Canonical(sheet, c.Formula, f.record.move)
		if !ok {
			return "", false // broken by a deleted row or sheet: it says nothing of what a person wanted
		}
		return "=" + c.Formula, seal.Print(text) != print
	case !c.HasValue || strings.TrimSpace(c.Value) == "":
		return "", false
	case c.Type == ooxml.Number:
		v, err := strconv.ParseFloat(c.Value, 64)
		same := err == nil && print == seal.Print(seal.Number(v))
		return c.Value, !same && (print != "" || numbers)
	}
	return c.Value, print != "" && print != seal.Print(seal.Key(c.Value))
}

// A calculation is the layout of a calculation sheet as it is now.
type calculation struct {
	scenario string
	heads    []int // heading rows
}

const calculationTitle = "Calculation of "

// calculationOf reads the layout of a sheet; nil where it is no calculation.
func calculationOf(name string, g *grid) *calculation {
	scenario, ok := strings.CutPrefix(g.text(1, 1), calculationTitle)
	if !ok {
		return nil
	}
	out := &calculation{scenario: scenario}
	for _, n := range g.rows {
		if g.text(n, 1) == live.KeyHeading {
			out.heads = append(out.heads, n)
		}
	}
	return out
}

var blockNumber = regexp.MustCompile(`^\d+  `)

// head returns the heading row above a row, and the title of its block; 0 where there is none.
func (c *calculation) head(g *grid, row int) (head int, title string) {
	for _, n := range c.heads {
		if n < row {
			head = n
		}
	}
	for n := head - 1; head > 0 && n > 0 && n > head-12; n-- {
		if t := g.text(n, 1); blockNumber.MatchString(t) {
			return head, blockNumber.ReplaceAllString(t, "")
		}
	}
	return 0, ""
}

// edit finds what a changed cell means.
func (f *editFinder) edit(sheet string, g *grid, c *ooxml.Cell, calc *calculation, content string) Edit {
	e := Edit{Place: costmodel.Place{Sheet: sheet, Row: c.Row, Col: c.Col}, Content: content}
	if calc == nil {
		e.Dropped = "this sheet is written anew at each run; change the quantity in its calculation, or keep figures of your own on a sheet of your own"
		return e
	}
	head, title := calc.head(g, c.Row)
	scope, sheetOf := live.ScopeOfTitle(title)
	if head == 0 || scope == "" || g.text(head, c.Col) == "" || g.text(c.Row, 1) == "" {
		e.Dropped = "the cell is no quantity of a row"
		return e
	}
	e.Scenario, e.Sheet, e.Row = calc.scenario, sheetOf, g.text(c.Row, 1)
	heading, unit := g.text(head, c.Col), g.text(head-1, c.Col)
	q, ok := f.model.QuantityNamed(scope, heading)
	switch words := costmodel.Normalise(heading); {
	case !ok && (words == "machine" || words == "material") && c.Formula == "" && e.Row != "":
		e.Column, e.Value = heading, costmodel.Value{Kind: costmodel.Text, Text: c.Value}
		return e
	case !ok:
		e.Dropped = heading + " follows from other cells; change those"
		return e
	case q.Name == "annual_volume":
		e.Dropped = "change the annual volume in the sheet Scenarios"
		return e
	}
	e.Column = heading
	if !q.Flag && len(q.Options) == 0 {
		e.Column = fmt.Sprintf("%s [%s]", heading, unit)
	}
	f.value(&e, g, c, head, q, unit)
	return e
}

// value makes the value of an override: a number, a word, an expression, or the stored result of a formula.
func (f *editFinder) value(e *Edit, g *grid, c *ooxml.Cell, head int, q *costmodel.Quantity, unit string) {
	v := f.book.value(e.Place.Sheet, g, c.Row, c.Col)
	if c.Formula != "" {
		t := &handFormula{finder: f, grid: g, row: c.Row, head: head, scope: scopeOf(e.Sheet), sheet: e.Place.Sheet, quantity: q}
		if text, ok := t.expression(c.Formula, unit); ok {
			e.Value = costmodel.Value{Kind: costmodel.Text, Text: text}
			return
		}
	}
	switch {
	case v.Kind == costmodel.Broken:
		e.Dropped = v.Text
	case q.Flag && v.Kind == costmodel.Number:
		e.Value = costmodel.Value{Kind: costmodel.Text, Text: map[bool]string{true: "yes", false: "no"}[v.Number != 0]}
	case v.Kind == costmodel.Number:
		v.Percent = strings.Contains(unit, "%") // a calculation shows shares as fractions
		e.Value = v
	default:
		e.Value = v
	}
	if c.Formula != "" && e.Dropped == "" {
		e.Note = "its formula reaches beyond its own row and the inputs, so its result is frozen"
	}
	if e.Value.Kind == costmodel.Number && math.IsNaN(e.Value.Number) {
		e.Dropped = "it is no number"
	}
}

func scopeOf(sheet string) string {
	if l := costmodel.LayoutOf(sheet); l != nil {
		return l.Scope
	}
	return ""
}
