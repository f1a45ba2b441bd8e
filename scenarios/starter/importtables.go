package starter

import (
	"bytes"
	"fmt"
	"io/fs"
	"path"
	"sort"
	"strings"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
	"piececost/costmodel/units"
	"piececost/scenarios/ooxml"
	"piececost/scenarios/reading"
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

// ImportOptions say how tables are read.
type ImportOptions struct {
	Library      *costmodel.Library
	DecimalComma bool // numbers of the tables are written 4,60
}

// An ImportReport says what went where.
type ImportReport struct {
	Rows    map[string]int // by sheet
	Unused  []string       // "parts.csv: colour": columns that the map does not name
	Sources []string       // files read
	Units   []string       // "Parts: Gauge [mm] is now Gauge [in]": headings and rows that took the unit of a table
}

// Is tells whether a workbook was made by `piececost new`.
func Is(pack *ooxml.Package) bool { return pack.Identifier() == starterMark }

// OpenFile opens a workbook that Is one for the library, to be filled.
func OpenFile(path string, data []byte) (*excelize.File, error) {
	f, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{RawCellValue: true, UnzipSizeLimit: reading.MaxUnzipped, UnzipXMLSizeLimit: reading.MaxSheetXML})
	if err != nil {
		return nil, reading.NotWorkbook(path, err)
	}
	return f, nil
}

// Import fills the workbook from CSV tables. Without a column map in the folder, files are named after sheets
// (bill_of_materials.csv) and columns bear the sheet's headings. Rows go below what is there. A column or row that holds
// no values yet takes the unit of the table, so that nothing is converted; where it holds values, numbers are converted
// and formulas are refused. The error names the file and line; the workbook is then not to be saved.
func Import(f *excelize.File, folder fs.FS, options ImportOptions) (*ImportReport, error) {
	maps, err := readColumnMap(folder)
	if err != nil {
		return nil, err
	}
	if maps == nil {
		if maps, err = impliedMap(folder); err != nil {
			return nil, err
		}
	}
	im := &importer{starter: starter{f: f, lib: options.Library, looks: sheet.NewLooks(f)}, mark: '.', report: &ImportReport{Rows: map[string]int{}}, converted: map[string]units.Unit{}}
	if options.DecimalComma {
		im.mark = ','
	}
	tables, err := im.tables(folder, groupMaps(maps))
	if err != nil {
		return nil, err
	}
	if err := im.currencies(tables); err != nil {
		return nil, err
	}
	for _, t := range tables {
		im.report.Sources = append(im.report.Sources, t.file)
		im.unused(t)
	}
	// in the order of the sheets: changes come after the columns that they change and whose units they are in
	sort.SliceStable(tables, func(i, j int) bool {
		return costmodel.SheetRank(tables[i].layout.Sheet) < costmodel.SheetRank(tables[j].layout.Sheet)
	})
	for _, t := range tables {
		if err := im.table(t); err != nil {
			return nil, err
		}
	}
	return im.report, im.growLists()
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
	layout *costmodel.Layout
	maps   []ColumnMap
	rows   [][]string
}

func (im *importer) tables(folder fs.FS, groups [][]ColumnMap) ([]*importTable, error) {
	var out []*importTable
	for _, maps := range groups {
		rows, err := ReadCSV(folder, path.Clean(maps[0].File))
		if err != nil {
			return nil, err
		}
		if rows == nil {
			return nil, fmt.Errorf("%s: there is no such file in the folder, or it is empty", maps[0].File)
		}
		out = append(out, &importTable{file: maps[0].File, layout: costmodel.LayoutOf(maps[0].Sheet), maps: maps, rows: rows})
	}
	return out, nil
}

// table imports one file into one sheet.
func (im *importer) table(t *importTable) error {
	l := t.layout
	if i, err := im.f.GetSheetIndex(l.Sheet); err != nil || i < 0 {
		if _, err := im.f.NewSheet(l.Sheet); err != nil {
			return err
		}
	}
	existing, err := im.f.GetRows(l.Sheet)
	if err != nil {
		return err
	}
	s := &importSheet{importer: im, importTable: t, existing: existing, next: lastUsed(existing) + 1}
	if err := s.findColumns(); err != nil {
		return err
	}
	for n, row := range t.rows[1:] {
		if err := s.row(row, n+2); err != nil {
			return err
		}
		im.report.Rows[l.Sheet]++
	}
	return s.finish()
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
	factor       float64
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

// row writes a row of the table.
func (s *importSheet) row(row []string, line int) error {
	if s.layout.Shape == costmodel.ColumnsAre && !s.isChange(row) {
		return s.quantityRow(row, line)
	}
	at := s.next
	s.next++
	for i := range s.columns {
		c := &s.columns[i]
		kind, name, in, err := s.kind(s.layout, c.name), c.name, c.inUnit, error(nil)
		if s.changesInputs() && s.isChanged(c) {
			if kind, name, in, err = s.changeUnit(row); err != nil {
				return s.fault(c, line, c.text(row), err)
			}
		}
		if err := s.cell(c, row, at, line, kind, name, in); err != nil {
			return err
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
	if err == nil && in.factor != 1 {
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
		c.Number *= in.factor
	case c.bare:
		return fmt.Errorf("it is a formula in [%s], but the sheet holds values in [%s] already; write the formula in [%s], or import into a workbook without values there", in.table, in.shown, in.shown)
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

func cellAt(row []string, i int) string {
	if i < 0 || i >= len(row) {
		return ""
	}
	return strings.TrimSpace(row[i])
}

// unused notes columns of a file that the map does not name.
func (im *importer) unused(t *importTable) {
	for _, h := range t.rows[0] {
		used := false
		for _, m := range t.maps {
			used = used || m.Column == h
		}
		if !used && strings.TrimSpace(h) != "" {
			im.report.Unused = append(im.report.Unused, t.file+": "+h)
		}
	}
}
