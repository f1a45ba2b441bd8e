package quoteform

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// Tables are what is imported into a workbook: rows of its sheets Quotes and Quote lines, and where each value of the former comes from.
type Tables struct {
	Quotes, Lines [][]string // headings first; Lines is nil without lines
	Origins       []Origin
}

// An Origin says of a row of the sheet Quotes, by its label, which cell of the supplier's workbook its value comes from.
type Origin struct{ Label, Text string }

// maker makes the tables for a workbook.
type maker struct {
	filled *Filled
	book   *table.Case
	lib    *costmodel.QuoteLibrary
	sys    *units.System // of the workbook; in it currency is the quote's own
	ds     table.Diagnostics
}

// Tables makes the tables by which what was filled in becomes the quote of a name in a workbook, in the units that its rows and columns have.
// What can't be taken is an error of Diagnostics, at the cells of the supplier's workbook.
func (f *Filled) Tables(book *table.Case, lib *costmodel.QuoteLibrary, as string) (*Tables, error) {
	m := &maker{filled: f, book: book, lib: lib, sys: costmodel.UnitsOf(book), ds: slices.Clone(f.problems)}
	if err := m.mayBe(as); err != nil {
		return nil, err
	}
	out := &Tables{Quotes: [][]string{{"Quantity", "Unit", as}}}
	for _, v := range f.Values {
		label, unit := m.rowOf(v.Name)
		text := m.text(lib.Describe("quote", priceName(v.Name)), v, unit)
		if text == "" {
			continue
		}
		out.Quotes = append(out.Quotes, []string{label, unit, text})
		said := fmt.Sprintf("From %s, %s", v.Cell.Place.File, cellName(v.Cell.Place))
		if v.Remark != "" {
			said += ". Remark: " + v.Remark
		}
		out.Origins = append(out.Origins, Origin{label, said})
	}
	if len(f.Lines) > 0 {
		out.Lines = m.lines(as)
	}
	if m.ds.HasErrors() {
		return nil, m.ds
	}
	if len(out.Quotes) == 1 {
		return nil, fmt.Errorf("%s: nothing is filled in", f.File)
	}
	return out, nil
}

func cellName(p table.Place) string {
	if p.Sheet == "" { // of a map
		return fmt.Sprintf("line %d", p.Row)
	}
	return p.Sheet + "!" + p.Cell()
}

// mayBe is an error where a name is none for a quote, or stands in the workbook with something in it.
func (m *maker) mayBe(as string) error {
	name, _, bracket := table.SplitHeading(as)
	switch {
	case name == "" || bracket || strings.ContainsAny(as, "/[]\n\t") || len(as) > 60:
		return fmt.Errorf("%q is no name for a quote; take a short one such as Q4", table.Shortened(as))
	case name == "quantity" || name == "unit" || name == "request" || table.IsProvenance(name):
		return fmt.Errorf("%q is a column of the sheet Quotes with another meaning; name the quote otherwise, such as Q4", as)
	}
	if t := m.book.Table("Quotes"); t != nil {
		for i, c := range t.Columns {
			if n, _, _ := table.SplitHeading(c.Heading); n != name {
				continue
			}
			for _, row := range t.Rows {
				if row.Cells[i].Kind != table.Empty {
					return fmt.Errorf("the sheet Quotes has a quote %s already (%s); take another name, or clear its column first", as, c.Place.Cell())
				}
			}
		}
	}
	if t := m.book.Table("Quote lines"); t != nil {
		for _, row := range t.Rows {
			if strings.EqualFold(t.TextAt(row, "quote"), as) {
				return fmt.Errorf("the sheet Quote lines has lines of a quote %s already (row %d); take another name, or delete them first", as, row.Number)
			}
		}
	}
	return nil
}

// priceName is the input whose unit and kind a row such as Price at 150000 has.
func priceName(name string) string {
	if strings.HasPrefix(name, "price_at_") {
		return "price"
	}
	return name
}

// rowOf is the label and the unit of a row of the workbook, or those that a new row gets.
func (m *maker) rowOf(name string) (label, unit string) {
	label = m.lib.Label("quote", name)
	if t := m.book.Table("Quotes"); t != nil {
		for _, row := range t.Rows {
			text := t.TextAt(row, "quantity")
			n, inLabel, _ := table.SplitHeading(text)
			if n != name && n != table.Normalise(label) {
				continue
			}
			if unit = t.TextAt(row, "unit"); unit == "" {
				unit = inLabel
			}
			return text, unit
		}
	}
	return label, unitShown(m.lib.Describe("quote", priceName(name)))
}

// headingOf is the heading of a column of the workbook and its unit, or those that a new column gets.
func (m *maker) headingOf(name string) (heading, unit string) {
	if t := m.book.Table("Quote lines"); t != nil {
		for _, c := range t.Columns {
			n, u, bracket := table.SplitHeading(c.Heading)
			if n != name && n != table.Normalise(m.lib.Label("quote line", name)) {
				continue
			}
			if !bracket {
				u = unitShown(m.lib.Describe("quote line", name))
			}
			return c.Heading, u
		}
	}
	heading = headingOf(m.lib, name)
	return heading, unitShown(m.lib.Describe("quote line", name))
}

// lines are the rows of the sheet Quote lines, with the cells that each comes from under Source.
func (m *maker) lines(as string) [][]string {
	var names []string
	for _, l := range m.filled.Lines {
		for _, v := range l.Values {
			if !slices.Contains(names, v.Name) {
				names = append(names, v.Name)
			}
		}
	}
	head := []string{"Quote", "Line"}
	var unitOf []string
	for _, name := range names {
		heading, unit := m.headingOf(name)
		head, unitOf = append(head, heading), append(unitOf, unit)
	}
	out := [][]string{append(head, "Source")}
	numbers := m.numbers()
	for i, l := range m.filled.Lines {
		row := make([]string, len(head)+1)
		row[0], row[1] = as, numbers[i]
		for _, v := range l.Values {
			n := slices.Index(names, v.Name)
			row[n+2] = m.text(m.lib.Describe("quote line", v.Name), v, unitOf[n])
		}
		row[len(head)] = m.originOf(l)
		out = append(out, row)
	}
	return out
}

// numbers are those of the lines: the supplier's, and the next free ones where he gave none.
func (m *maker) numbers() []string {
	taken := map[string]bool{}
	out := make([]string, len(m.filled.Lines))
	for i, l := range m.filled.Lines {
		if taken[l.Number] && l.Number != "" && len(l.Values) > 0 {
			at := l.Values[0].Cell.Place
			m.ds.Add("duplicate", at, fmt.Sprintf("line %s stands twice", table.Shortened(l.Number)), "number the lines apart")
		}
		taken[l.Number] = true
		out[i] = l.Number
	}
	next := 1
	for i := range out {
		for out[i] == "" {
			if text := strconv.Itoa(next); !taken[text] {
				out[i] = text
			}
			next++
		}
	}
	return out
}

// originOf names the cells that a line comes from.
func (m *maker) originOf(l Line) string {
	var cells []string
	where := ""
	for _, v := range l.Values {
		p := v.Cell.Place
		if p.Sheet == "" {
			cells = append(cells, m.lib.Label("quote line", v.Name)+" "+p.File+" "+cellName(p))
			continue
		}
		where = p.File + ", " + p.Sheet
		cells = append(cells, m.lib.Label("quote line", v.Name)+" "+p.Cell())
	}
	return where + ": " + strings.Join(cells, ", ")
}
