package scenarios

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
	"piececost/costmodel/units"
)

// MapFile is the name of the column map in a folder of tables to import.
const MapFile = "columns.csv"

// A ColumnMap says where a column of a CSV table goes: File and Column to Sheet and Heading (its unit is that of the
// column). With an empty Column every row gets Value; Replace holds words to be replaced, "shift=whole shifts; h=hours".
type ColumnMap struct {
	File, Column, Sheet, Heading, Value string
	Replace                             map[string]string
	line                                int
}

// An ImportReport says what went where.
type ImportReport struct {
	Rows    map[string]int // by sheet
	Unused  []string       // "parts.csv: colour": columns that the map does not name
	Sources []string       // files read
}

// OpenStarter opens a workbook made by `piececost new` to fill it; any other is refused, since the library saves it.
func OpenStarter(path string) (*Workbook, error) {
	w, err := Open(path)
	if err != nil {
		return nil, err
	}
	if !w.IsStarter() {
		return nil, fmt.Errorf("%s was not made by `piececost new`, so it is not written in place", path)
	}
	f, err := excelize.OpenReader(bytes.NewReader(w.data), excelize.Options{RawCellValue: true, UnzipSizeLimit: maxUnzipped, UnzipXMLSizeLimit: maxSheetXML})
	if err != nil {
		return nil, notWorkbook(path, err)
	}
	return &Workbook{path: path, sum: w.sum, f: f}, nil
}

// Import fills the workbook from CSV tables. Without a column map in the folder, files are named after sheets
// (bill_of_materials.csv) and columns bear the sheet's headings. Rows go below what is there. The error names the file
// and line; the workbook is then not to be saved.
func (w *Workbook) Import(folder fs.FS) (*ImportReport, error) {
	maps, err := readColumnMap(folder)
	if err != nil {
		return nil, err
	}
	if maps == nil {
		if maps, err = impliedMap(folder); err != nil {
			return nil, err
		}
	}
	im := &importer{w: w, looks: newLooks(w.f), report: &ImportReport{Rows: map[string]int{}}}
	if im.sys, err = w.units(); err != nil {
		return nil, err
	}
	for _, group := range groupMaps(maps) {
		if err := im.table(folder, group); err != nil {
			return nil, err
		}
	}
	return im.report, nil
}

// units are those of the workbook's own currencies.
func (w *Workbook) units() (*units.System, error) {
	c, err := caseOf(w.f, "the workbook")
	if err != nil {
		return nil, err
	}
	return costmodel.UnitsOf(c), nil
}

// table imports one file into one sheet.
func (im *importer) table(folder fs.FS, maps []ColumnMap) error {
	file, sheet := maps[0].File, maps[0].Sheet
	rows, err := readCSV(folder, path.Clean(file))
	if err != nil {
		return err
	}
	if rows == nil {
		return fmt.Errorf("%s: there is no such file in the folder", file)
	}
	l := costmodel.LayoutOf(sheet)
	if i, err := im.w.f.GetSheetIndex(sheet); err != nil || i < 0 {
		if _, err := im.w.f.NewSheet(sheet); err != nil {
			return err
		}
	}
	existing, err := im.w.f.GetRows(sheet)
	if err != nil {
		return err
	}
	columns, err := im.columns(l, maps, rows[0], existing)
	if err != nil {
		return err
	}
	next := lastUsed(existing) + 1
	for n, row := range rows[1:] {
		at := next + n
		if l.Shape == costmodel.ColumnsAre && !isChange(columns, row) {
			label := "quantity"
			if l.Scope == "scenario" {
				label = "column"
			}
			if at, err = im.quantityRow(sheet, label, columns, row, existing, n, file); err != nil {
				return err
			}
		}
		for _, c := range columns {
			if err := im.cell(l, c, row, at, n+2); err != nil {
				return err
			}
		}
		im.report.Rows[sheet]++
	}
	if l.Scope == "scenario" {
		if err := im.dropPlaceholder(l.Sheet); err != nil {
			return err
		}
	}
	im.report.Sources = append(im.report.Sources, file)
	im.unused(file, rows[0], maps)
	return nil
}

// dropPlaceholder clears the scenario that an empty workbook starts with, where it has no product and no volume and
// others have come.
func (im *importer) dropPlaceholder(sheet string) error {
	rows, err := im.w.f.GetRows(sheet)
	if err != nil || len(rows) == 0 {
		return err
	}
	col := indexOf(rows[0], placeholder)
	if col < 0 {
		return nil
	}
	filled := 0
	for _, row := range rows[1:] {
		name, _, _ := costmodel.SplitHeading(cellAt(row, indexOf(rows[0], "Column")))
		if (name == "product" || name == "annual_volume") && cellAt(row, col) != "" {
			filled++
		}
	}
	if filled > 0 || len(rows[0]) <= col+2 {
		return nil
	}
	for r := range rows {
		cell, err := excelize.CoordinatesToCellName(col+1, r+1)
		if err != nil {
			return err
		}
		if err := im.w.f.SetCellValue(sheet, cell, nil); err != nil {
			return err
		}
	}
	return nil
}

// placeholder is the scenario that an empty workbook starts with.
const placeholder = "Scenario 1"

func cellAt(row []string, i int) string {
	if i < 0 || i >= len(row) {
		return ""
	}
	return strings.TrimSpace(row[i])
}

// lastUsed is the number of the last row in use; the headings count as one.
func lastUsed(rows [][]string) int {
	for i := len(rows) - 1; i > 0; i-- {
		for _, c := range rows[i] {
			if strings.TrimSpace(c) != "" {
				return i + 1
			}
		}
	}
	return 1
}

// columns finds each mapped column in the file and in the sheet; a heading that is not there is added at the right.
func (im *importer) columns(l *costmodel.Layout, maps []ColumnMap, head []string, existing [][]string) ([]importColumn, error) {
	var have []string
	if len(existing) > 0 {
		have = existing[0]
	}
	var out []importColumn
	for _, m := range maps {
		c := importColumn{ColumnMap: m, from: -1, factor: 1}
		if m.Column != "" {
			if c.from = indexOf(head, m.Column); c.from < 0 {
				return nil, fmt.Errorf("%s has no column %q; its columns are %s", m.File, m.Column, strings.Join(head, ", "))
			}
		}
		name, unit, bracket := costmodel.SplitHeading(m.Heading)
		c.words = isWords(l, name)
		shown := unit
		for i, h := range have {
			if n, u, _ := costmodel.SplitHeading(h); n == name {
				c.to, shown = i+1, u
			}
		}
		if c.to == 0 {
			c.to = len(have) + 1
			have = append(have, m.Heading)
			if err := im.heading(l.Sheet, c.to, m.Heading); err != nil {
				return nil, err
			}
		}
		c.share = strings.HasPrefix(shown, "%")
		if bracket && unit != shown {
			a, err1 := im.sys.Parse(unit)
			b, err2 := im.sys.Parse(shown)
			if err := errors.Join(err1, err2); err != nil {
				return nil, fmt.Errorf("%s, %s: %w", m.File, m.Heading, err)
			}
			if a.Dim != b.Dim {
				return nil, fmt.Errorf("%s: %s is %s, but the sheet %s has it in [%s]", m.File, m.Heading, a.Dim.Describe(), l.Sheet, shown)
			}
			c.factor = a.Factor / b.Factor
		}
		out = append(out, c)
	}
	return out, nil
}

func (im *importer) heading(sheet string, col int, text string) error {
	id, err := im.looks.id(look{kind: "heading"})
	if err != nil {
		return err
	}
	cell, err := excelize.CoordinatesToCellName(col, 1)
	if err != nil {
		return err
	}
	if err := im.w.f.SetCellValue(sheet, cell, text); err != nil {
		return err
	}
	return im.w.f.SetCellStyle(sheet, cell, cell, id)
}

// isChange tells whether a row for Scenarios is a change of an input and not a setting.
func isChange(columns []importColumn, row []string) bool {
	for _, c := range columns {
		if name, _, _ := costmodel.SplitHeading(c.Heading); name == "sheet" && c.from >= 0 && strings.TrimSpace(row[c.from]) != "" {
			return true
		}
	}
	return false
}

// quantityRow finds the row of a quantity on Case or Plants, or of a setting on Scenarios; a new one goes below.
func (im *importer) quantityRow(sheet, label string, columns []importColumn, row []string, existing [][]string, n int, file string) (int, error) {
	for _, c := range columns {
		if name, _, _ := costmodel.SplitHeading(c.Heading); name != label || c.from < 0 {
			continue
		}
		want := costmodel.Normalise(row[c.from])
		for i, r := range existing {
			if len(r) >= c.to && costmodel.Normalise(r[c.to-1]) == want {
				return i + 1, nil
			}
		}
		return lastUsed(existing) + 1 + n, nil
	}
	return 0, fmt.Errorf("%s: a table for the sheet %s needs a column that goes to %s", file, sheet, labelOf(label))
}

// cell writes one value: numbers in the sheet's unit, words as they are.
func (im *importer) cell(l *costmodel.Layout, c importColumn, row []string, at, line int) error {
	text := c.Value
	if c.from >= 0 {
		text = strings.TrimSpace(row[c.from])
	}
	if to, ok := c.Replace[text]; ok {
		text = to
	}
	if text == "" {
		return nil
	}
	cell, err := excelize.CoordinatesToCellName(c.to, at)
	if err != nil {
		return err
	}
	name, _, _ := costmodel.SplitHeading(c.Heading)
	number, err := strconv.ParseFloat(text, 64)
	k := look{kind: "input", wrap: c.words}
	if err != nil || c.words && name != "step" && name != "joins_at_step" {
		if _, bad := im.sys.ParseQuantity(text); !c.words && bad != nil && !errors.Is(bad, units.ErrNotQuantity) {
			return fmt.Errorf("%s line %d, %s: %q: %w", c.File, line, c.Column, text, bad)
		}
		if err := im.w.f.SetCellStr(l.Sheet, cell, text); err != nil {
			return err
		}
	} else {
		number *= c.factor
		k.format = numberFormat(number, name)
		if c.share {
			k.format = percentFormat(number)
			number /= 100
		}
		if err := im.w.f.SetCellDefault(l.Sheet, cell, strconv.FormatFloat(number, 'g', -1, 64)); err != nil {
			return err
		}
	}
	id, err := im.looks.id(k)
	if err != nil {
		return err
	}
	return im.w.f.SetCellStyle(l.Sheet, cell, cell, id)
}

// unused notes columns of a file that the map does not name.
func (im *importer) unused(file string, head []string, maps []ColumnMap) {
	for _, h := range head {
		used := false
		for _, m := range maps {
			used = used || m.Column == h
		}
		if !used && strings.TrimSpace(h) != "" {
			im.report.Unused = append(im.report.Unused, file+": "+h)
		}
	}
}
