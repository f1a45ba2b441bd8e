package handedits

import (
	"fmt"
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/scenarios/ooxml"
	"piececost/scenarios/reading"
	"piececost/scenarios/seal"
)

// Handwork is what a person did in the result sheets of an open workbook, and what becomes of it.
type Handwork struct {
	pack      *ooxml.Package
	overrides *overrideSheet // to be written; nil where the sheet stays as it is
	finder    *editFinder    // what was found in the result sheets; nil before
	discarded bool           // hand edits are left out
	remarks   []*Remark
	drawings  []string
}

// In is the handwork of a workbook, not looked for yet.
func In(pack *ooxml.Package) *Handwork { return &Handwork{pack: pack} }

// An Edit is a cell of a result sheet that a person changed since it was written.
type Edit struct {
	Place    table.Place // where it stands now
	Content  string      // what was typed, as it stands in the cell
	Scenario string
	Sheet    string // the input sheet whose quantity it is; "" where it is none
	Row      string // key
	Column   string // heading with its unit
	Value    table.Value
	Note     string // what was made of it
	Dropped  string // why it can't be taken over; "" where it is
}

// A Remark is what a person typed into a result sheet without touching a result: words, a number or a formula in a cell
// that the last run left empty, or other words over a label.
type Remark struct {
	Place   table.Place // where it was found
	Content string      // as typed; a formula with its =
	Label   bool        // it stands over a label
	Note    bool        // it is a note attached to a cell
	Was     string      // the words of that label, "" where the sheet no longer has it
	Row     string      // the label of its row, "" for none
	Column  string      // the heading of its column, "" for none
	Now     table.Place // where it stands after the run; Row is 0 where it is in Overrides
	Why     string      // why it is in Overrides

	scenario    string // of a calculation
	author      string // of a note
	cell        ooxml.Cell
	value       table.Value
	moved       string // its formula, for the sheets of this run
	was         *written
	fingerprint string // of the label
	col         int    // as written
}

type editFinder struct {
	book     *reading.Book
	record   *Record
	model    *costmodel.Model
	meanings map[table.Place]costmodel.CellMeaning
	scribe   seal.Scribe
	found    []Edit
	dropped  int
	remarks  []*Remark
	beyond   *Edit // the first one that is not listed by itself
}

// A sheetCheck compares the cells of a result sheet with their fingerprints, row by row.
type sheetCheck struct {
	finder   *editFinder
	name     string
	was      *written
	scenario string // of a calculation
	quotes   bool   // it shows quotes
	block    calcBlock
	before   rowCells // the row above
	title    string   // the last title of a block

	ours    map[int]bool   // columns of the row that hold what the last run wrote
	heads   map[int]string // of the columns of the table
	last    int            // row
	remarks []*Remark

	attached map[int][]ooxml.Comment // notes, by row
}

// A calcBlock is the table of a calculation that a row stands in.
type calcBlock struct {
	title        string // without its number; "" above the first one
	heads, units rowCells
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
	case e.Value.Kind == table.Text && strings.HasPrefix(e.Content, "="):
		out += " as the expression " + e.Value.Text
	}
	return out
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
