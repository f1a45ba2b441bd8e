package quoteform

import (
	"fmt"
	"slices"
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/table"
)

// readMapped reads a supplier's own form.
func readMapped(pages []page, file string, lib *costmodel.QuoteLibrary, m []Mapped) *Filled {
	out := &Filled{File: file}
	var lines []Mapped
	for _, x := range m {
		if x.scope == "quote line" {
			lines = append(lines, x)
			continue
		}
		if v, ok := out.mappedTerm(pages, x, lib); ok {
			out.Values = append(out.Values, v)
		}
	}
	if slices.ContainsFunc(lines, func(x Mapped) bool { return x.Theirs != "" }) {
		out.mappedLines(pages, lines)
	}
	return out
}

// problem reports what is wrong with a row of the map.
func (f *Filled) problem(m Mapped, summary, help string) {
	f.problems.Add("map", m.place, fmt.Sprintf("line %d: %s", m.place.Row, summary), help)
}

const reach = 8 // columns in which a value stands beside its label

// mappedTerm finds a label and the value to its right: a number where one is asked for, so that a currency or unit between them is passed over.
func (f *Filled) mappedTerm(pages []page, m Mapped, lib *costmodel.QuoteLibrary) (Value, bool) {
	out := Value{Name: m.name, Unit: m.unit}
	if m.Theirs == "" {
		out.Cell = table.Value{Kind: table.Text, Text: m.Value, Place: m.place}
		return out, true
	}
	var found []table.Value
	for i := range pages {
		if m.Sheet != "" && !strings.EqualFold(pages[i].name, m.Sheet) {
			continue
		}
		for _, r := range pages[i].rows {
			for _, label := range r.cells {
				if !same(textOf(label), m.Theirs) {
					continue
				}
				if v, ok := beside(r, label.Place.Col, lib.Describe("quote", m.name)); ok {
					found = append(found, m.replaced(v))
				}
			}
		}
	}
	switch len(found) {
	case 0:
		f.problem(m, fmt.Sprintf("nothing stands beside %q in the supplier's workbook", table.Shortened(m.Theirs)),
			"write his label as it stands there, or leave the row out")
		return out, false
	case 1:
		out.Cell = found[0]
		return out, true
	}
	f.problem(m, fmt.Sprintf("%q stands in several places: %s, %s", table.Shortened(m.Theirs), found[0].Place, found[1].Place),
		"name the sheet in the column sheet, or write the value into the column value")
	return out, false
}

// beside is the value of a label: the first number to its right where one is asked for, else the first cell.
func beside(r row, col int, it *costmodel.Item) (table.Value, bool) {
	if it != nil && len(it.Options) == 0 {
		if v, ok := r.right(col, reach, func(v table.Value) bool { return v.Kind == table.Number }); ok {
			return v, true
		}
	}
	return r.right(col, reach, func(table.Value) bool { return true })
}

// replaced is a cell with its words replaced.
func (m *Mapped) replaced(v table.Value) table.Value {
	if to, ok := m.Replace[strings.ToLower(textOf(v))]; ok {
		v.Kind, v.Text, v.Number = table.Text, to, 0
		if to == "" {
			v.Kind = table.Empty
		}
	}
	return v
}

// mappedLines finds the heading row that has the most of the mapped headings, and reads the lines below it.
func (f *Filled) mappedLines(pages []page, m []Mapped) {
	var best *page
	head, most := 0, 0
	for i := range pages {
		for n, r := range pages[i].rows {
			found := 0
			for _, x := range m {
				found += len(x.columns(r, pages[i].name))
			}
			if found > most {
				best, head, most = &pages[i], n, found
			}
		}
	}
	missing := []string{}
	for _, x := range m {
		if x.Theirs != "" && (best == nil || len(x.columns(best.rows[head], best.name)) == 0) {
			missing = append(missing, fmt.Sprintf("%q", x.Theirs))
		}
	}
	if len(missing) > 0 {
		f.problem(m[0], "no row of the supplier's workbook has the headings "+strings.Join(missing, ", ")+" beside the others of the map",
			"write them as they stand there")
		return
	}
	for _, r := range best.rows[head+1:] {
		f.mappedLine(r, best.rows[head], best.name, m)
	}
}

// columns are where a row has the heading of a map.
func (m *Mapped) columns(r row, sheet string) (out []int) {
	if m.Theirs == "" || m.Sheet != "" && !strings.EqualFold(m.Sheet, sheet) {
		return nil
	}
	for _, v := range r.cells {
		if same(textOf(v), m.Theirs) {
			out = append(out, v.Place.Col)
		}
	}
	return out[:min(len(out), 1)]
}

// mappedLine takes a row; one whose element is replaced by nothing is left out, as sums are.
func (f *Filled) mappedLine(r, head row, sheet string, m []Mapped) {
	l := Line{}
	filled, dropped := false, false
	for i := range m {
		x := &m[i]
		v := table.Value{Kind: table.Text, Text: x.Value, Place: x.place}
		if x.Theirs != "" {
			v = r.at(x.columns(head, sheet)[0])
			was := v.Kind
			v = x.replaced(v)
			dropped = dropped || was != table.Empty && v.Kind == table.Empty
			filled = filled || v.Kind != table.Empty
		}
		switch {
		case v.Kind == table.Empty:
		case x.name == "line":
			l.Number = textOf(v)
		default:
			unit := x.unit
			if unit == "" {
				_, unit, _ = table.SplitHeading(x.Theirs)
			}
			l.Values = append(l.Values, Value{Name: x.name, Unit: unit, Cell: v})
		}
	}
	if filled && !dropped {
		f.Lines = append(f.Lines, l)
	}
}
