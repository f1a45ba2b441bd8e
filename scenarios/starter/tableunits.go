package starter

import (
	"io/fs"
	"strconv"

	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// tableUnits are the units of tables by their own model currency and rates.
func tableUnits(tables fs.FS) (*units.System, error) {
	c := &table.Case{}
	for _, sheet := range []string{"Case", "Currencies"} {
		rows, err := ReadCSV(tables, table.Normalise(sheet)+".csv")
		if err != nil {
			return nil, err
		}
		if len(rows) > 0 {
			c.Tables = append(c.Tables, asTable(sheet, rows))
		}
	}
	return costmodel.UnitsOf(c), nil
}

// asTable holds numbers and words as they stand.
func asTable(sheet string, rows [][]string) *table.Table {
	t := &table.Table{Sheet: sheet, Place: table.Place{Sheet: sheet}}
	for i, heading := range rows[0] {
		t.Columns = append(t.Columns, table.Column{Heading: heading, Place: table.Place{Sheet: sheet, Row: 1, Col: i + 1}})
	}
	for r, texts := range rows[1:] {
		row := table.Row{Number: r + 2}
		for _, text := range texts {
			v := table.Value{Kind: table.Text, Text: text}
			if n, err := strconv.ParseFloat(text, 64); err == nil {
				v = table.Value{Kind: table.Number, Number: n}
			} else if text == "" {
				v.Kind = table.Empty
			}
			row.Cells = append(row.Cells, v)
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}
