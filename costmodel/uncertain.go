package costmodel

import (
	"fmt"
	"slices"
	"strings"

	"piececost/costmodel/formula"
	"piececost/costmodel/table"
)

// An Uncertain is a row of the sheet Uncertainty: an input with what it may be. Values are coherent; where the input moves
// by a factor or a difference, they are that.
type Uncertain struct {
	Input        Input
	distribution string // one of Distributions, or empty
	Low, High    float64
	Likely       float64 // as given; meaningful where HasLikely
	HasLikely    bool
	place        table.Place
}

// Uncertainty reads the sheet Uncertainty: Sheet, Row and Column name an input as everywhere, the thing and then the
// quantity; Low, Likely and High are numbers in the unit of the input's
// cells or of the brackets in Column, or numbers with a unit. Likely may be empty: the base value. Where they are written
// base * a factor, or base + a difference, all rows that Row selects move together, each from its own value. Of two rows
// that name the same cell the more specific wins, and the other leaves it out. Without the sheet the list is empty.
func (m *Model) Uncertainty() ([]Uncertain, table.Diagnostics) {
	t := m.Case.Table("Uncertainty")
	if t == nil {
		return nil, nil
	}
	own := *m // its findings are kept apart: a model is not changed
	own.Diagnostics = nil
	r := uncertainReader{m: &own, t: t, seen: map[Input]table.Place{}}
	for _, name := range []string{"sheet", "row", "column", "low", "high"} {
		if _, ok := t.Column(name); !ok {
			r.ds.Add("heading", t.Place, fmt.Sprintf("the sheet has no column %q", table.Label(name)),
				"its columns are Sheet, Row, Column, Distribution, Low, Likely, High")
		}
	}
	r.suspectHeadings()
	if r.ds.HasErrors() {
		return nil, r.ds
	}
	for _, row := range t.Rows {
		if r.filled(row) && r.words(row) {
			r.row(row)
		}
	}
	r.settle()
	return r.out, r.ds
}

// suspectHeadings reports headings that are nearly those of the sheet and would silently be ignored.
func (r *uncertainReader) suspectHeadings() {
	for _, c := range r.t.Columns {
		name, _, _ := table.SplitHeading(c.Heading)
		if name == "" || contains(uncertainHeadings, name) || table.IsProvenance(name) {
			continue
		}
		if near := formula.Nearest(name, uncertainHeadings); near != "" {
			if _, ok := r.t.Column(near); !ok {
				r.ds.Add("heading", c.Place, fmt.Sprintf("heading %q is not known", c.Heading),
					fmt.Sprintf("did you mean %s? If the column is your own, give it a name less alike", table.Label(near)))
			}
		}
	}
}

// uncertainHeadings are the columns of the sheet.
var uncertainHeadings = func() []string {
	l := table.LayoutOf("Uncertainty")
	return slices.Concat(l.Key, l.Texts, l.Columns)
}()

// filled tells whether a row says anything.
func (r *uncertainReader) filled(row table.Row) bool {
	for _, name := range uncertainHeadings {
		if r.t.ValueAt(row, name).Kind != table.Empty {
			return true
		}
	}
	return false
}

// words reports what can't be read of the words that name the input.
func (r *uncertainReader) words(row table.Row) bool {
	ok := true
	for _, name := range []string{"sheet", "row", "column", "distribution"} {
		v := r.t.ValueAt(row, name)
		switch {
		case v.Kind == table.Broken:
			r.ds.Add("cell", v.Place, v.Text, v.Help)
			ok = false
		case (name == "sheet" || name == "column") && cellText(v) == "":
			r.ds.Add("missing", v.Place, "the row names no "+name, "fill the cell or clear the row")
			ok = false
		}
	}
	return ok
}

// mostSelected bounds the cells that the sheet names, against workbooks that would fill the memory with them.
const mostSelected = 1_000_000

// uncertainRow is a row that was read, with the rows that it moves.
type uncertainRow struct {
	Uncertain
	found foundInput
	text  string // its selector
	rank  int
	at    table.Place // of the selector
}

// uncertainReader reads one sheet.
type uncertainReader struct {
	m    *Model
	t    *table.Table
	seen map[Input]table.Place
	read []*uncertainRow
	held int // rows of other sheets that those read select
	out  []Uncertain
	ds   table.Diagnostics
}

func (r *uncertainReader) row(row table.Row) {
	at := r.t.ValueAt(row, "sheet").Place
	f, d := r.m.findInput(Input{Sheet: r.t.TextAt(row, "sheet"), Row: r.t.TextAt(row, "row"), Column: r.t.TextAt(row, "column")})
	if d != nil {
		r.ds.Add(d.Code, r.t.ValueAt(row, d.word).Place, d.Summary, d.Help)
		return
	}
	if r.held += len(f.records); r.held > mostSelected {
		if r.held-len(f.records) <= mostSelected { // said once
			r.ds.Add("selector", at, fmt.Sprintf("the rows up to this one name more than %d cells", mostSelected), "use fewer rows, with lists or * as Row")
		}
		return
	}
	if first, twice := r.seen[f.input]; twice {
		r.ds.Add("duplicate", at, f.input.String()+" stands twice", "delete one of the two", table.Related{Place: first, Note: "first at"})
		return
	}
	r.seen[f.input] = at
	u := &uncertainRow{Uncertain: Uncertain{Input: f.input, place: at}, found: f, text: f.input.Row, rank: 4, at: r.t.ValueAt(row, "row").Place}
	if sel, err := parseSelector(u.text); err == nil && len(r.m.byKey[f.scope.Name][u.text]) == 0 {
		u.rank = sel.rank
	}
	ok := r.distribution(row, &u.Uncertain)
	ok = r.values(row, u) && ok
	if ok && r.ordered(row, &u.Uncertain) {
		r.read = append(r.read, u)
	}
}

func (r *uncertainReader) distribution(row table.Row, u *Uncertain) bool {
	text := r.t.TextAt(row, "distribution")
	if text == "" {
		return true
	}
	if n := optionIndex(table.Distributions, text); n >= 0 {
		u.distribution = table.Distributions[n]
		return true
	}
	r.ds.Add("choice", r.t.ValueAt(row, "distribution").Place, fmt.Sprintf("distribution %q is not a choice", text),
		nearestOr(strings.ToLower(text), table.Distributions, "write one of "+strings.Join(table.Distributions, ", ")))
	return false
}
