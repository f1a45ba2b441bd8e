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
	"piececost/costmodel/table"
	"piececost/costmodel/units"
	"piececost/scenarios/reading"
	"piececost/scenarios/sheet"
)

// ImportOptions say how tables are read.
type ImportOptions struct {
	Library      *costmodel.Library
	DecimalComma bool // numbers of the tables are written 4,60
}

// OpenFile opens a workbook that Is one for the library, to be filled.
func OpenFile(path string, data []byte) (*excelize.File, error) {
	f, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{RawCellValue: true, UnzipSizeLimit: reading.MaxUnzipped,
		UnzipXMLSizeLimit: reading.MaxSheetXML})
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
	im := newImporter(f, options)
	tables, err := im.tables(folder, groupMaps(maps))
	if err != nil {
		return nil, err
	}
	return im.fill(tables)
}

func newImporter(f *excelize.File, options ImportOptions) *importer {
	im := &importer{starter: starter{f: f, lib: options.Library, looks: sheet.NewLooks(f)}, mark: '.', report: &ImportReport{Rows: map[string]int{}},
		converted: map[string]units.Unit{}}
	if options.DecimalComma {
		im.mark = ','
	}
	return im
}

// fill puts tables into their sheets.
func (im *importer) fill(tables []*importTable) (*ImportReport, error) {
	if err := im.currencies(tables); err != nil {
		return nil, err
	}
	for _, t := range tables {
		im.report.Sources = append(im.report.Sources, t.file)
		im.unused(t)
	}
	// in the order of the sheets: changes come after the columns that they change and whose units they are in
	sort.SliceStable(tables, func(i, j int) bool {
		return table.SheetRank(tables[i].layout.Sheet) < table.SheetRank(tables[j].layout.Sheet)
	})
	for _, t := range tables {
		if err := im.table(t); err != nil {
			return nil, err
		}
	}
	return im.report, im.growLists()
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
		out = append(out, &importTable{file: maps[0].File, layout: table.LayoutOf(maps[0].Sheet), maps: maps, rows: rows})
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
	existing = withoutGuide(l, existing)
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

// row writes a row of the table.
func (s *importSheet) row(row []string, line int) error {
	if s.layout.Shape == table.ColumnsAre && !s.isChange(row) {
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
