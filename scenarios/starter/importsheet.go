package starter

import (
	"fmt"
	"strings"

	"piececost/costmodel/table"
	"piececost/costmodel/units"
	"piececost/scenarios/sheet"
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
	Units   []string       // "Parts: Gauge [mm] is now Gauge [in]": headings and rows that took the unit of a table
}

// importer fills a workbook from tables.
type importer struct {
	starter
	mark      DecimalMark
	report    *ImportReport
	converted map[string]units.Unit // by sheet|quantity: the table's unit, where the sheet keeps another
}

// importTable is what goes from one file to one sheet.
type importTable struct {
	file   string
	layout *table.Layout
	maps   []ColumnMap
	rows   [][]string
}

// importSheet is a sheet as rows go into it.
type importSheet struct {
	*importer
	*importTable
	existing [][]string // before the import, and headings and rows that are added
	columns  []importColumn
	next     int               // row below what is there
	taken    map[int]bool      // rows of quantities that the table has filled
	units    map[string]string // by sheet|quantity: what changes are in
}

// importColumn is a column map with where it reads and writes.
type importColumn struct {
	ColumnMap
	from int    // column of the file, -1 for a constant
	to   int    // column of the sheet, from 1
	name string // of the heading
	inUnit
}

// inUnit is how numbers of a table get into a sheet: the unit that the sheet shows, and what they are multiplied by.
type inUnit struct {
	shown, table string
	factor       float64 // of a number of the table, 1 where nothing is converted
	add          float64 // to it then: between levels of temperature in degC and degF
}

// text is what a row has for a column, words replaced.
func (c *importColumn) text(row []string) string {
	text := c.Value
	if c.from >= 0 {
		text = cellAt(row, c.from)
	}
	if to, ok := c.Replace[text]; ok {
		return to
	}
	return text
}

// column finds a column by the name of its heading, nil where the table has none.
func (s *importSheet) column(name string) *importColumn {
	for i := range s.columns {
		if s.columns[i].name == name {
			return &s.columns[i]
		}
	}
	return nil
}

// cell writes one value in the sheet's unit.
func (s *importSheet) cell(c *importColumn, row []string, at, line int, kind contentKind, name string, in inUnit) error {
	text := c.text(row)
	if text == "" {
		return nil
	}
	value, err := s.mark.Read(text, kind, s.sys)
	if err == nil && (in.factor != 1 || in.add != 0) {
		err = value.convert(in)
	}
	if err != nil {
		return s.fault(c, line, text, err)
	}
	return s.write(s.layout.Sheet, at, c.to, value, in.shown, name, sheet.Look{Kind: "input", Wrap: kind == words})
}

// convert brings a number to the unit that a sheet has already.
func (c *Content) convert(in inUnit) error {
	switch {
	case c.Is:
		c.Number = c.Number*in.factor + in.add
	case c.bare:
		return fmt.Errorf("it is a formula in [%s], but the sheet holds values in [%s] already; write the formula in [%s], or import into a workbook "+
			"without values there", in.table, in.shown, in.shown)
	}
	return nil
}

// fault words what is wrong with a value of the table.
func (s *importSheet) fault(c *importColumn, line int, text string, err error) error {
	column := c.Column
	if column == "" {
		column = c.Heading
	}
	help := ""
	if s.mark == '.' && commaInside.MatchString(text) {
		help = "; where the comma is the decimal mark of the tables, import them with --decimal-mark ,"
	}
	return fmt.Errorf("%s line %d, %s: %q: %w%s", s.file, line, column, text, err, help)
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
