package quoteform

import (
	"fmt"
	"slices"
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/scenarios/ooxml"
)

// Filled is what a supplier filled in.
type Filled struct {
	File     string
	Values   []Value // of the quote
	Lines    []Line
	NotTaken []string // what stands in the workbook and is not asked for, with its cell

	problems table.Diagnostics // that Tables reports with its own
}

// A Value is what a cell gives a word or an input of the library, with the unit beside it.
type Value struct {
	Name, Unit string
	Cell       table.Value
	Remark     string
}

// A Line is a line of the breakdown.
type Line struct {
	Number string // as it stands there, "" where the supplier gave none
	Values []Value
}

// Read reads a filled form, or with a map of columns a supplier's own. The error is for the workbook; what is wrong in its cells is said by
// Tables.
func Read(pack *ooxml.Package, file string, lib *costmodel.QuoteLibrary, m []Mapped) (*Filled, error) {
	pages, err := pagesOf(pack, file)
	if err != nil {
		return nil, err
	}
	if m != nil {
		return readMapped(pages, file, lib, m), nil
	}
	out := &Filled{File: file}
	p, head := findTable(pages, []string{"quantity", "offered"})
	if p == nil {
		return nil, fmt.Errorf("%s has no sheet with the headings Quantity and Offered: it is no form that piececost made; a supplier's own form needs "+
			"a map of its columns (--map)", file)
	}
	out.terms(p, head, lib)
	if p, head := findTable(pages, []string{"element", "amount"}); p != nil {
		out.breakdown(p, head, lib)
	}
	return out, nil
}

// findTable finds the row that has all headings, by the names that they become.
func findTable(pages []page, names []string) (*page, int) {
	for i := range pages {
		for n, r := range pages[i].rows {
			found := 0
			for _, name := range names {
				if columnOf(r, name) > 0 {
					found++
				}
			}
			if found == len(names) {
				return &pages[i], n
			}
		}
	}
	return nil, 0
}

// columnOf is the column of a heading by its name, 0 where the row has none.
func columnOf(r row, name string) int {
	for _, v := range r.cells {
		if n, _, _ := table.SplitHeading(textOf(v)); n == name {
			return v.Place.Col
		}
	}
	return 0
}

// terms reads the sheet Quotation.
func (f *Filled) terms(p *page, head int, lib *costmodel.QuoteLibrary) {
	h := p.rows[head]
	quantity, unit, offered, remark := columnOf(h, "quantity"), columnOf(h, "unit"), columnOf(h, "offered"), columnOf(h, "remark")
	seen := map[string]bool{}
	for _, r := range p.rows[head+1:] {
		label, v := r.at(quantity), r.at(offered)
		if v.Kind == table.Empty {
			continue
		}
		name, inLabel, _ := table.SplitHeading(textOf(label))
		known, ok := asked(lib, "quote", name)
		switch {
		case !ok:
			f.notTaken(v, textOf(label))
			continue
		case seen[known]:
			f.problems.Add("key", label.Place, fmt.Sprintf("%q stands twice", table.Shortened(textOf(label))), "empty one of the two")
			continue
		}
		seen[known] = true
		value := Value{Name: known, Unit: textOf(r.at(unit)), Cell: v, Remark: textOf(r.at(remark))}
		if value.Unit == "" {
			value.Unit = inLabel
		}
		f.Values = append(f.Values, value)
	}
}

// asked finds what a supplier is asked for by the name that a label becomes: a name of the library, or a price at another volume.
func asked(lib *costmodel.QuoteLibrary, scope, name string) (string, bool) {
	if scope == "quote" && strings.HasPrefix(name, "price_at_") {
		return name, true
	}
	for _, n := range lib.Form[scope] {
		if n == name || table.Normalise(lib.Label(scope, n)) == name {
			return n, true
		}
	}
	return "", false
}

func (f *Filled) notTaken(v table.Value, label string) {
	f.NotTaken = append(f.NotTaken, fmt.Sprintf("%s!%s: %s", v.Place.Sheet, v.Place.Cell(), table.Shortened(label)))
}

// A column is one of a breakdown: what it gives, in which unit.
type column struct {
	name, unit string
	col        int
}

// breakdown reads the sheet Price breakdown.
func (f *Filled) breakdown(p *page, head int, lib *costmodel.QuoteLibrary) {
	var columns []column
	number := 0
	for _, v := range p.rows[head].cells {
		name, unit, _ := table.SplitHeading(textOf(v))
		known, ok := asked(lib, "quote line", name)
		switch {
		case name == "line":
			number = v.Place.Col
		case ok && !slices.ContainsFunc(columns, func(c column) bool { return c.name == known }):
			columns = append(columns, column{known, unit, v.Place.Col})
		case ok:
			f.problems.Add("heading", v.Place, fmt.Sprintf("heading %q stands twice", table.Shortened(textOf(v))), "rename one of the two")
		default:
			f.notTaken(v, textOf(v))
		}
	}
	for _, r := range p.rows[head+1:] {
		f.line(r, number, columns)
	}
}

// line takes a row that holds more than its number.
func (f *Filled) line(r row, number int, columns []column) {
	l := Line{}
	if number > 0 {
		l.Number = textOf(r.at(number))
	}
	for _, c := range columns {
		if v := r.at(c.col); v.Kind != table.Empty {
			l.Values = append(l.Values, Value{Name: c.name, Unit: c.unit, Cell: v})
		}
	}
	if len(l.Values) > 0 {
		f.Lines = append(f.Lines, l)
	}
}
