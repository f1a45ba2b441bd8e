package scenarios

import (
	"fmt"
	"io/fs"

	"piececost/costmodel"
	"piececost/scenarios/starter"
)

// ReadTables reads a case from a folder of CSV files named after the input sheets (bill_of_materials.csv), headings as in
// the workbook. A number stands in the unit of its heading: 14 under [%] is 14 %. Places count the heading as row 1.
func ReadTables(tables fs.FS, name string) (*costmodel.Case, error) {
	c := &costmodel.Case{File: name}
	for i := range costmodel.Layouts {
		l := &costmodel.Layouts[i]
		rows, err := readCSV(tables, costmodel.Normalise(l.Sheet)+".csv")
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

func tableOf(l *costmodel.Layout, file string, rows [][]string) *costmodel.Table {
	t := &costmodel.Table{Sheet: l.Sheet, Place: costmodel.Place{File: file, Sheet: l.Sheet}}
	for c, text := range rows[0] {
		t.Columns = append(t.Columns, costmodel.Column{Heading: text, Place: costmodel.Place{File: file, Sheet: l.Sheet, Row: 1, Col: c + 1}})
	}
	for r, cells := range rows[1:] {
		row := costmodel.Row{Number: r + 2}
		used := false
		for c, text := range cells {
			v := textValue(text)
			v.Place = costmodel.Place{File: file, Sheet: l.Sheet, Row: r + 2, Col: c + 1}
			row.Cells = append(row.Cells, v)
			used = used || v.Kind != costmodel.Empty
		}
		if used {
			t.Rows = append(t.Rows, row)
		}
	}
	return t
}

// textValue is the cell that the product would write, without its format: a number keeps the unit of its heading.
func textValue(text string) costmodel.Value {
	c, err := starter.DecimalMark('.').Read(text, starter.OwnContent, nil)
	switch {
	case err != nil || !c.Is && c.Text == "":
		return costmodel.Value{}
	case c.Is:
		return costmodel.Value{Kind: costmodel.Number, Number: c.Number}
	}
	return costmodel.Value{Kind: costmodel.Text, Text: c.Text}
}
