package quoteform

import (
	"strings"

	"piececost/costmodel/table"
	"piececost/scenarios/ooxml"
	"piececost/scenarios/reading"
)

// A page is a sheet of a supplier's workbook as values with their places.
type page struct {
	name string
	rows []row
}

// A row holds its filled cells, in their order.
type row struct {
	number int
	cells  []table.Value
}

// pagesOf reads all sheets of a workbook; file stands in the places.
func pagesOf(pack *ooxml.Package, file string) (out []page, err error) {
	book := reading.NewBook(pack)
	for i := range pack.Sheets {
		s := &pack.Sheets[i]
		g, err := book.Grid(s)
		if err != nil {
			return nil, err
		}
		p := page{name: s.Name}
		for _, n := range g.Rows {
			r := row{number: n}
			for j := range g.Cells[n] {
				c := &g.Cells[n][j]
				v := book.Value(s.Name, c)
				if v.Kind == table.Empty {
					continue
				}
				v.Place = table.Place{File: file, Sheet: s.Name, Row: c.Row, Col: c.Col}
				r.cells = append(r.cells, v)
			}
			if len(r.cells) > 0 {
				p.rows = append(p.rows, r)
			}
		}
		out = append(out, p)
	}
	return out, nil
}

// at is the cell of a column, an empty value where there is none.
func (r row) at(col int) table.Value {
	for _, v := range r.cells {
		if v.Place.Col == col {
			return v
		}
	}
	return table.Value{}
}

// right is the first cell to the right of a column that fits, at most so many columns further.
func (r row) right(col, most int, fits func(table.Value) bool) (table.Value, bool) {
	for _, v := range r.cells {
		if v.Place.Col > col && v.Place.Col <= col+most && fits(v) {
			return v, true
		}
	}
	return table.Value{}, false
}

// textOf is what a cell shows as words.
func textOf(v table.Value) string {
	switch v.Kind {
	case table.Number:
		return digits(v)
	case table.Broken:
		return ""
	}
	return strings.TrimSpace(v.Text)
}

// same tells whether a label is the one that was looked for, whatever its capitals, spaces and a colon behind it.
func same(label, wanted string) bool {
	plain := func(s string) string {
		return strings.ToLower(strings.Join(strings.Fields(strings.TrimRight(strings.TrimSpace(s), ":")), " "))
	}
	return plain(label) == plain(wanted)
}
