package starter

import (
	"fmt"
	"io/fs"
	"strings"

	"piececost/costmodel/table"
)

// readColumnMap reads the column map of a folder; nil where it has none.
func readColumnMap(folder fs.FS) ([]ColumnMap, error) {
	rows, err := ReadCSV(folder, MapFile)
	if err != nil || rows == nil {
		return nil, err
	}
	at := map[string]int{}
	for i, h := range rows[0] {
		at[table.Normalise(h)] = i
	}
	for _, need := range []string{"file", "column", "sheet", "heading"} {
		if _, ok := at[need]; !ok {
			return nil, fmt.Errorf("%s has no column %q; its columns are file, column, sheet, heading, value, replace", MapFile, need)
		}
	}
	get := func(row []string, name string) string {
		if i, ok := at[name]; ok && i < len(row) {
			return strings.TrimSpace(row[i])
		}
		return ""
	}
	var out []ColumnMap
	for n, row := range rows[1:] {
		m := ColumnMap{File: get(row, "file"), Column: get(row, "column"), Sheet: get(row, "sheet"), Heading: get(row, "heading"),
			Value: get(row, "value"), Replace: map[string]string{}, line: n + 2}
		l := table.LayoutOf(m.Sheet)
		switch {
		case m.File == "" || m.Heading == "" || l == nil:
			return nil, fmt.Errorf("%s line %d: file, sheet and heading must be filled, and %q must be an input sheet", MapFile, m.line, m.Sheet)
		case m.Column == "" && m.Value == "":
			return nil, fmt.Errorf("%s line %d: give the column, or the value that every row gets", MapFile, m.line)
		}
		m.Sheet = l.Sheet
		for _, pair := range strings.Split(get(row, "replace"), ";") {
			if from, to, ok := strings.Cut(pair, "="); ok {
				m.Replace[strings.TrimSpace(from)] = strings.TrimSpace(to)
			}
		}
		out = append(out, m)
	}
	return out, nil
}

// impliedMap maps files named after sheets, column by column.
func impliedMap(folder fs.FS) ([]ColumnMap, error) {
	var out []ColumnMap
	for _, l := range table.Layouts {
		file := table.Normalise(l.Sheet) + ".csv"
		rows, err := ReadCSV(folder, file)
		if err != nil {
			return nil, err
		}
		if rows == nil {
			continue
		}
		for _, h := range rows[0] {
			if strings.TrimSpace(h) != "" {
				out = append(out, ColumnMap{File: file, Column: h, Sheet: l.Sheet, Heading: h})
			}
		}
	}
	if out == nil {
		return nil, fmt.Errorf("the folder has neither %s nor tables named after the input sheets (parts.csv, bill_of_materials.csv, ...)", MapFile)
	}
	return out, nil
}

// groupMaps puts together what goes from one file to one sheet, in order.
func groupMaps(maps []ColumnMap) [][]ColumnMap {
	var out [][]ColumnMap
	index := map[string]int{}
	for _, m := range maps {
		key := m.File + "|" + m.Sheet
		i, ok := index[key]
		if !ok {
			i = len(out)
			index[key] = i
			out = append(out, nil)
		}
		out[i] = append(out[i], m)
	}
	return out
}
