package scenarios

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
)

// Limits on what is unpacked from a workbook: far above any honest one, far below what would fill a machine.
const (
	maxUnzipped = 256 << 20
	maxSheetXML = 64 << 20
	maxColumns  = 500
)

// Read reads the known sheets of a workbook. The error is fit to be shown; problems of single cells are in the values.
func Read(path string) (*costmodel.Case, error) {
	f, err := open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return readCase(f, filepath.Base(path))
}

func open(path string) (*excelize.File, error) {
	name := filepath.Base(path)
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return nil, fmt.Errorf("%s: there is no such file; `piececost new %s` makes one", path, name)
	case err != nil:
		return nil, fmt.Errorf("%s: %w", path, err)
	case info.IsDir():
		return nil, fmt.Errorf("%s is a folder, not a workbook", path)
	}
	if kind := sniff(path); kind != "" {
		return nil, fmt.Errorf("%s is %s, not an .xlsx workbook; open it in a spreadsheet program and save it as .xlsx", path, kind)
	}
	f, err := excelize.OpenFile(path, excelize.Options{RawCellValue: true, UnzipSizeLimit: maxUnzipped, UnzipXMLSizeLimit: maxSheetXML})
	if err != nil {
		return nil, fmt.Errorf("%s can't be read as an .xlsx workbook: %v; open it in a spreadsheet program and save it again", path, err)
	}
	return f, nil
}

// sniff names a file by its first bytes where it is no zip package.
func sniff(path string) string {
	f, err := os.Open(path)
	if err != nil {
		return ""
	}
	defer f.Close()
	head := make([]byte, 8)
	n, err := io.ReadFull(f, head)
	head = head[:n]
	switch {
	case n == 0:
		return "empty"
	case strings.HasPrefix(string(head), "PK"):
		return ""
	case strings.HasPrefix(string(head), "%PDF"):
		return "a PDF"
	case strings.HasPrefix(string(head), "\xd0\xcf\x11\xe0"):
		return "an old .xls or a password-protected workbook"
	case err == nil || n > 0:
		return "no zip package"
	}
	return ""
}

func readCase(f *excelize.File, file string) (*costmodel.Case, error) {
	c := &costmodel.Case{File: file}
	for _, sheet := range f.GetSheetList() {
		l := costmodel.LayoutOf(sheet)
		if l == nil {
			continue
		}
		r := sheetReader{book: newBook(f), file: file, sheet: sheet, layout: l}
		t, err := r.table()
		if err != nil {
			return nil, fmt.Errorf("%s, sheet %s: %w", file, sheet, err)
		}
		c.Tables = append(c.Tables, t)
	}
	if len(c.Tables) == 0 {
		return nil, fmt.Errorf("%s has none of the input sheets (Case, Plants, Parts, ...); `piececost new FILE` makes a workbook that has them", file)
	}
	return c, nil
}

// sheetReader turns a sheet into a table.
type sheetReader struct {
	book   *book
	file   string
	sheet  string
	layout *costmodel.Layout
}

func (r *sheetReader) table() (*costmodel.Table, error) {
	rows, err := r.book.f.GetRows(r.sheet, excelize.Options{RawCellValue: true})
	if err != nil {
		return nil, err
	}
	t := &costmodel.Table{Sheet: r.layout.Sheet, Place: costmodel.Place{File: r.file, Sheet: r.layout.Sheet}}
	head := r.headingRow(rows)
	if head < 0 {
		return t, nil
	}
	width := min(len(rows[head]), maxColumns)
	merged, err := r.merged()
	if err != nil {
		return nil, err
	}
	for c := 0; c < width; c++ {
		at := r.place(head+1, c+1)
		heading := strings.TrimSpace(rows[head][c])
		if by, ok := merged[[2]int{head + 1, c + 1}]; ok {
			t.Merged = append(t.Merged, costmodel.Merge{Place: at, Range: by})
		}
		t.Columns = append(t.Columns, costmodel.Column{Heading: heading, Place: at})
	}
	for i := head + 1; i < len(rows); i++ {
		row, used, err := r.row(i+1, width)
		if err != nil {
			return nil, err
		}
		if used {
			t.Rows = append(t.Rows, row)
		}
	}
	return t, nil
}

// headingRow finds the first of the first twenty rows that holds the layout's key headings, else the first row in use.
func (r *sheetReader) headingRow(rows [][]string) int {
	first := -1
	for i := 0; i < len(rows) && i < 20; i++ {
		found := 0
		for _, cell := range rows[i] {
			name, _, _ := costmodel.SplitHeading(cell)
			for _, k := range r.layout.Key {
				if name == k {
					found++
				}
			}
			if first < 0 && strings.TrimSpace(cell) != "" {
				first = i
			}
		}
		if len(r.layout.Key) > 0 && found == len(r.layout.Key) {
			return i
		}
	}
	return first
}

func (r *sheetReader) place(row, col int) costmodel.Place {
	return costmodel.Place{File: r.file, Sheet: r.layout.Sheet, Row: row, Col: col}
}

// merged maps the cells of merged ranges to the range.
func (r *sheetReader) merged() (map[[2]int]string, error) {
	out := map[[2]int]string{}
	ranges, err := r.book.f.GetMergeCells(r.sheet, true)
	if err != nil {
		return nil, err
	}
	for _, m := range ranges {
		c1, r1, err1 := excelize.CellNameToCoordinates(m.GetStartAxis())
		c2, r2, err2 := excelize.CellNameToCoordinates(m.GetEndAxis())
		if err1 != nil || err2 != nil || (c2-c1+1)*(r2-r1+1) > 10000 {
			continue
		}
		for row := r1; row <= r2; row++ {
			for col := c1; col <= c2; col++ {
				out[[2]int{row, col}] = m.GetStartAxis() + ":" + m.GetEndAxis()
			}
		}
	}
	return out, nil
}

func (r *sheetReader) row(number, width int) (costmodel.Row, bool, error) {
	row := costmodel.Row{Number: number, Cells: make([]costmodel.Value, width)}
	used := false
	for c := range row.Cells {
		v, err := r.book.value(r.sheet, number, c+1)
		if err != nil {
			return row, false, err
		}
		v.Place = r.place(number, c+1)
		row.Cells[c] = v
		used = used || v.Kind != costmodel.Empty
	}
	return row, used, nil
}
