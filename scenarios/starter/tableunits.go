package starter

import (
	"io/fs"
	"strconv"

	"piececost/costmodel"
	"piececost/costmodel/units"
)

// tableUnits are the units of tables by their own model currency and rates.
func tableUnits(tables fs.FS) (*units.System, error) {
	c := &costmodel.Case{}
	for _, sheet := range []string{"Case", "Currencies"} {
		rows, err := ReadCSV(tables, costmodel.Normalise(sheet)+".csv")
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
func asTable(sheet string, rows [][]string) *costmodel.Table {
	t := &costmodel.Table{Sheet: sheet, Place: costmodel.Place{Sheet: sheet}}
	for i, heading := range rows[0] {
		t.Columns = append(t.Columns, costmodel.Column{Heading: heading, Place: costmodel.Place{Sheet: sheet, Row: 1, Col: i + 1}})
	}
	for r, texts := range rows[1:] {
		row := costmodel.Row{Number: r + 2}
		for _, text := range texts {
			v := costmodel.Value{Kind: costmodel.Text, Text: text}
			if n, err := strconv.ParseFloat(text, 64); err == nil {
				v = costmodel.Value{Kind: costmodel.Number, Number: n}
			} else if text == "" {
				v.Kind = costmodel.Empty
			}
			row.Cells = append(row.Cells, v)
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}
