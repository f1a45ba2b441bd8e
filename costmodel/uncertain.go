package costmodel

import (
	"fmt"
	"strings"

	"piececost/costmodel/formula"
	"piececost/costmodel/plan"
)

// Distributions are the words that the column Distribution of the sheet Uncertainty may hold.
var Distributions = []string{"triangular", "PERT", "lognormal", "uniform", "discrete"}

// An Uncertain is a row of the sheet Uncertainty: an input with what it may be. Values are coherent.
type Uncertain struct {
	Input        Input
	Distribution string // one of Distributions, or empty
	Low, High    float64
	Likely       float64 // as given; meaningful where HasLikely
	HasLikely    bool
	Place        Place
}

// Uncertainty reads the sheet Uncertainty: Sheet, Row and Column name an input as in the sheet Scenarios (of Plants, Row is
// the quantity and Column the plant, or the other way round); Low, Likely and High are numbers in the unit of the input's
// cells or of the brackets in Column, or numbers with a unit. Likely may be empty: today's value. Without the sheet the
// list is empty.
func (m *Model) Uncertainty() ([]Uncertain, Diagnostics) {
	t := m.Case.Table("Uncertainty")
	if t == nil {
		return nil, nil
	}
	own := *m // its findings are kept apart: a model is not changed
	own.Diagnostics = nil
	r := uncertainReader{m: &own, t: t, seen: map[Input]Place{}}
	for _, name := range []string{"sheet", "row", "column", "low", "high"} {
		if _, ok := t.Column(name); !ok {
			r.ds.add("heading", t.Place, fmt.Sprintf("the sheet has no column %q", labelOf(name)), "its columns are Sheet, Row, Column, Distribution, Low, Likely, High")
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
	return r.out, r.ds
}

// suspectHeadings reports headings that are nearly those of the sheet and would silently be ignored.
func (r *uncertainReader) suspectHeadings() {
	for _, c := range r.t.Columns {
		name, _, _ := SplitHeading(c.Heading)
		if name == "" || contains(uncertainHeadings, name) || isProvenance(name) {
			continue
		}
		if near := formula.Nearest(name, uncertainHeadings); near != "" {
			if _, ok := r.t.Column(near); !ok {
				r.ds.add("heading", c.Place, fmt.Sprintf("heading %q is not known", c.Heading), fmt.Sprintf("did you mean %s? If the column is your own, give it a name less alike", labelOf(near)))
			}
		}
	}
}

// uncertainHeadings are the columns of the sheet.
var uncertainHeadings = []string{"sheet", "row", "column", "distribution", "low", "likely", "high"}

// filled tells whether a row says anything.
func (r *uncertainReader) filled(row Row) bool {
	for _, name := range uncertainHeadings {
		if valueAt(r.t, row, name).Kind != Empty {
			return true
		}
	}
	return false
}

// words reports what can't be read of the words that name the input.
func (r *uncertainReader) words(row Row) bool {
	ok := true
	for _, name := range []string{"sheet", "row", "column", "distribution"} {
		v := valueAt(r.t, row, name)
		switch {
		case v.Kind == Broken:
			r.ds.add("cell", v.Place, v.Text, v.Help)
			ok = false
		case (name == "sheet" || name == "column") && cellText(v) == "":
			r.ds.add("missing", v.Place, "the row names no "+name, "fill the cell or clear the row")
			ok = false
		}
	}
	return ok
}

// uncertainReader reads one sheet.
type uncertainReader struct {
	m    *Model
	t    *Table
	seen map[Input]Place
	out  []Uncertain
	ds   Diagnostics
}

func (r *uncertainReader) row(row Row) {
	at := valueAt(r.t, row, "sheet").Place
	f, d := r.m.findInput(Input{Sheet: textAt(r.t, row, "sheet"), Row: textAt(r.t, row, "row"), Column: textAt(r.t, row, "column")})
	if d != nil {
		r.ds.add(d.Code, valueAt(r.t, row, d.word).Place, d.Summary, d.Help)
		return
	}
	if first, twice := r.seen[f.input]; twice {
		r.ds.add("duplicate", at, f.input.String()+" stands twice", "delete one of the two", Related{first, "first at"})
		return
	}
	r.seen[f.input] = at
	u := Uncertain{Input: f.input, Place: at}
	ok := r.distribution(row, &u)
	ok = r.value(row, "low", f, &u.Low) && ok
	ok = r.value(row, "high", f, &u.High) && ok
	if valueAt(r.t, row, "likely").Kind != Empty {
		u.HasLikely = true
		ok = r.value(row, "likely", f, &u.Likely) && ok
	}
	if ok && r.ordered(row, &u) {
		r.out = append(r.out, u)
	}
}

func (r *uncertainReader) distribution(row Row, u *Uncertain) bool {
	text := textAt(r.t, row, "distribution")
	if text == "" {
		return true
	}
	if n := optionIndex(Distributions, text); n >= 0 {
		u.Distribution = Distributions[n]
		return true
	}
	r.ds.add("choice", valueAt(r.t, row, "distribution").Place, fmt.Sprintf("distribution %q is not a choice", text), nearestOr(strings.ToLower(text), Distributions, "write one of "+strings.Join(Distributions, ", ")))
	return false
}

// value reads a number of the row as a cell of the input would be read.
func (r *uncertainReader) value(row Row, name string, f foundInput, into *float64) bool {
	v := valueAt(r.t, row, name)
	if v.Kind == Empty {
		r.ds.add("missing", v.Place, fmt.Sprintf("%s of %s is missing", labelOf(name), f.input), "fill the cell")
		return false
	}
	def := r.m.readField(f.scope, f.quantity, v, f.unit, nil)
	r.ds = append(r.ds, r.m.Diagnostics...)
	r.m.Diagnostics = nil
	if def.failed {
		return false
	}
	if def.Kind != plan.Given {
		r.ds.add("number", v.Place, fmt.Sprintf("%s of %s is an expression", labelOf(name), f.input), "write a number, or a number with a unit")
		return false
	}
	*into = def.Value
	return true
}

func (r *uncertainReader) ordered(row Row, u *Uncertain) bool {
	switch {
	case !(u.Low < u.High):
		r.ds.add("range", valueAt(r.t, row, "low").Place, fmt.Sprintf("low of %s is not below high", u.Input), "exchange or correct the two")
	case u.HasLikely && (u.Likely < u.Low && !formula.SameNumber(u.Likely, u.Low) || u.Likely > u.High && !formula.SameNumber(u.Likely, u.High)):
		r.ds.add("range", valueAt(r.t, row, "likely").Place, fmt.Sprintf("likely of %s does not lie between low and high", u.Input), "correct one of the three")
	case u.Distribution == "lognormal" && u.Low <= 0:
		r.ds.add("range", valueAt(r.t, row, "low").Place, fmt.Sprintf("low of %s is not above 0, and a lognormal quantity is", u.Input), "write a number above 0, or another distribution")
	default:
		return true
	}
	return false
}
