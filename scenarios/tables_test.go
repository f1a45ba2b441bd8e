package scenarios

import (
	"fmt"
	"io/fs"

	"piececost/costmodel/table"
	"piececost/scenarios/starter"
)

// ReadTables reads a case from a folder of CSV files named after the input sheets (bill_of_materials.csv), headings as in
// the workbook. A number stands in the unit of its heading: 14 under [%] is 14 %. Places count the heading as row 1.
func ReadTables(tables fs.FS, name string) (*table.Case, error) {
	c := &table.Case{File: name}
	for i := range table.Layouts {
		l := &table.Layouts[i]
		rows, err := readCSV(tables, table.Normalise(l.Sheet)+".csv")
		if err != nil {
			return nil, err
		}
		if rows != nil {
			c.Tables = append(c.Tables, tableOf(l, name, rows))
		}
	}
	if len(c.Tables) == 0 {
		return nil, fmt.Errorf("%s has none of the tables (case.csv, plants.csv, parts.csv, ...)", name)
	}
	return c, nil
}

func tableOf(l *table.Layout, file string, rows [][]string) *table.Table {
	t := &table.Table{Sheet: l.Sheet, Place: table.Place{File: file, Sheet: l.Sheet}}
	for c, text := range rows[0] {
		t.Columns = append(t.Columns, table.Column{Heading: text, Place: table.Place{File: file, Sheet: l.Sheet, Row: 1, Col: c + 1}})
	}
	for r, cells := range rows[1:] {
		row := table.Row{Number: r + 2}
		used := false
		for c, text := range cells {
			v := textValue(text)
			v.Place = table.Place{File: file, Sheet: l.Sheet, Row: r + 2, Col: c + 1}
			row.Cells = append(row.Cells, v)
			used = used || v.Kind != table.Empty
		}
		if used {
			t.Rows = append(t.Rows, row)
		}
	}
	return t
}

// textValue is the cell that the product would write, without its format: a number keeps the unit of its heading.
func textValue(text string) table.Value {
	c, err := starter.DecimalMark('.').Read(text, starter.OwnContent, nil)
	switch {
	case err != nil || !c.Is && c.Text == "":
		return table.Value{}
	case c.Is:
		return table.Value{Kind: table.Number, Number: c.Number}
	}
	return table.Value{Kind: table.Text, Text: c.Text}
}
