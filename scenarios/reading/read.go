package reading

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel/table"
	"piececost/scenarios/ooxml"
	"piececost/scenarios/sheet"
)

// Limits on what the library unpacks of a workbook that results are written into.
const (
	MaxUnzipped = 256 << 20
	MaxSheetXML = 64 << 20
	maxColumns  = 500
	maxValues   = 1_500_000 // cells of the input sheets, empty ones among them
	leastWidth  = 12        // columns that a row counts for at least: what is kept of it beside its cells
)

// NotWorkbook words an error of the package for a person.
func NotWorkbook(path string, err error) error {
	var foreign *noCase
	switch {
	case errors.As(err, &foreign):
		return fmt.Errorf("%s %w", path, foreign)
	case errors.Is(err, ooxml.ErrPassword):
		return fmt.Errorf("%s is protected by a password to open it; save it without one (the protection of sheets may stay)", path)
	}
	return fmt.Errorf("%s can't be read as an .xlsx workbook: %w; open it in a spreadsheet program and save it as .xlsx", path, err)
}

// Readable refuses what is no workbook at all, by name and first bytes.
func Readable(path string) error {
	name := filepath.Base(path)
	info, err := ooxml.MayRead(path)
	switch {
	case errors.Is(err, ooxml.ErrMissing):
		return fmt.Errorf("%w; `piececost new %s` makes one", err, name)
	case err != nil:
		return err
	}
	switch kind := sniff(path); kind {
	case "":
		return nil
	case compoundFile: // what kind of one is told by what is in it
		return compound(path, info.Size())
	default:
		return fmt.Errorf("%s is %s, not an .xlsx workbook; open it in a spreadsheet program and save it as .xlsx", path, kind)
	}
}

const compoundFile = "a compound file"

// compound tells a workbook that is protected by a password from an old one.
func compound(path string, size int64) error {
	f, err := os.Open(path)
	if err != nil {
		return fmt.Errorf("%s can't be opened: %w", path, errors.Unwrap(err))
	}
	defer f.Close()
	if _, err := ooxml.Open(f, size); errors.Is(err, ooxml.ErrPassword) {
		return NotWorkbook(path, err)
	}
	return fmt.Errorf("%s is a workbook of the old binary kind (.xls), or another compound file, not an .xlsx workbook; open it in a spreadsheet "+
		"program and save it as .xlsx", path)
}

// sniff names a file by its first bytes where it is no zip package.
func sniff(path string) string {
	f, err := os.Open(path)
	if err != nil {
		return ""
	}
	defer f.Close()
	head := make([]byte, 8)
	n, _ := io.ReadFull(f, head)
	switch head = head[:n]; {
	case n == 0:
		return "empty"
	case bytes.HasPrefix(head, []byte("PK")):
		return ""
	case bytes.HasPrefix(head, []byte("%PDF")):
		return "a PDF"
	case bytes.HasPrefix(head, []byte("\xd0\xcf\x11\xe0")):
		return compoundFile
	}
	return "no zip package"
}

// CaseOf reads the case of a workbook that the library has open.
func CaseOf(f *excelize.File, file string) (*table.Case, error) {
	defer f.SetZipWriter(f.ZipWriter)
	buf, err := f.SetZipWriter(sheet.Unpacked).WriteToBuffer()
	if err != nil {
		return nil, err
	}
	pack, err := ooxml.Open(bytes.NewReader(buf.Bytes()), int64(buf.Len()))
	if err != nil {
		return nil, err
	}
	return CaseIn(pack, file)
}

// CaseIn reads the input sheets of a package as a case; file is the name in places. An error says why there is no case in it.
func CaseIn(pack *ooxml.Package, file string) (*table.Case, error) {
	b := NewBook(pack)
	c := &table.Case{File: file}
	readers, err := sheetReaders(b, file)
	if err != nil {
		return nil, err
	}
	left := maxValues
	for _, s := range readers {
		t, err := s.table(left)
		if err != nil {
			return nil, err
		}
		left -= max(len(t.Columns), leastWidth) * len(t.Rows)
		c.Tables = append(c.Tables, t)
	}
	if len(c.Tables) == 0 {
		return nil, &noCase{pack.Sheets}
	}
	return c, nil
}

// sheetReaders scans the input sheets, all before the first table is made: what scanning takes beside what it leaves is
// free then. Spreadsheet programs allow no two sheets whose names differ in case only.
func sheetReaders(b *Book, file string) ([]*sheetReader, error) {
	var out []*sheetReader
	seen := map[*table.Layout]string{}
	for i := range b.Pack.Sheets {
		sheet := &b.Pack.Sheets[i]
		l := table.LayoutOf(sheet.Name)
		if l == nil {
			continue
		}
		if first, twice := seen[l]; twice {
			return nil, fmt.Errorf("it has two sheets %q and %q, of which one alone can be the sheet %s", first, sheet.Name, l.Sheet)
		}
		seen[l] = sheet.Name
		g, err := b.Grid(sheet)
		if err != nil {
			return nil, err
		}
		out = append(out, &sheetReader{book: b, file: file, sheet: sheet.Name, layout: l, grid: g})
	}
	return out, nil
}

// sheetReader turns a sheet into a table.
type sheetReader struct {
	book   *Book
	file   string
	sheet  string
	layout *table.Layout
	grid   *grid
}

// table makes the table of a sheet, of no more than most cells.
func (r *sheetReader) table(most int) (*table.Table, error) {
	t := &table.Table{Sheet: r.layout.Sheet, Place: table.Place{File: r.file, Sheet: r.layout.Sheet}}
	head := r.headingRow()
	if head == 0 {
		return t, nil
	}
	width := r.grid.width(head)
	if width > maxColumns {
		return nil, fmt.Errorf("the sheet %s has headings up to column %s, beyond the %d columns that can be read, up to %s; move or delete what "+
			"stands beyond", r.sheet, table.ColumnName(width), maxColumns, table.ColumnName(maxColumns))
	}
	if rows := len(r.grid.Rows); rows*max(width, leastWidth) > most {
		return nil, fmt.Errorf("the sheet %s uses %d rows of %d columns, more than can be read; split the case", r.sheet, rows, width)
	}
	merged := r.merged(head, width)
	for c := 1; c <= width; c++ {
		at := r.place(head, c)
		if by, ok := merged[c]; ok {
			t.Merged = append(t.Merged, table.Merge{Place: at, Range: by})
		}
		t.Columns = append(t.Columns, table.Column{Heading: strings.TrimSpace(r.grid.text(head, c)), Place: at})
	}
	for _, n := range r.grid.Rows {
		if n <= head {
			continue
		}
		if row, used := r.row(n, width); used {
			t.Rows = append(t.Rows, row)
		}
	}
	join(t, r.grid.merged, width)
	return t, nil
}

// headingRow finds the first of the first twenty rows in use that holds the layout's key headings, else the first row in
// use; 0 where the sheet is empty.
func (r *sheetReader) headingRow() int {
	first := 0
	for i, n := range r.grid.Rows {
		if i == 20 {
			break
		}
		found := 0
		for c := 1; c <= min(r.grid.width(n), maxColumns); c++ {
			text := r.grid.text(n, c)
			name, _, _ := table.SplitHeading(text)
			for _, k := range r.layout.Key {
				if name == k {
					found++
				}
			}
			if first == 0 && strings.TrimSpace(text) != "" {
				first = n
			}
		}
		if len(r.layout.Key) > 0 && found == len(r.layout.Key) {
			return n
		}
	}
	return first
}

func (r *sheetReader) place(row, col int) table.Place {
	return table.Place{File: r.file, Sheet: r.layout.Sheet, Row: row, Col: col}
}

// merged maps the columns of the heading row that lie in a merged range to the range.
func (r *sheetReader) merged(head, width int) map[int]string {
	out := map[int]string{}
	for _, m := range r.grid.merged {
		from, to, ok := strings.Cut(m, ":")
		if !ok {
			continue
		}
		c1, r1, err1 := excelize.CellNameToCoordinates(from)
		c2, r2, err2 := excelize.CellNameToCoordinates(to)
		if err1 != nil || err2 != nil || head < r1 || head > r2 {
			continue
		}
		for c := c1; c <= min(c2, width+1); c++ {
			out[c] = m
		}
	}
	return out
}

func (r *sheetReader) row(number, width int) (table.Row, bool) {
	row := table.Row{Number: number, Cells: make([]table.Value, width)}
	used := false
	for c := range row.Cells {
		v := r.book.value(r.sheet, r.grid, number, c+1)
		v.Place = r.place(number, c+1)
		row.Cells[c] = v
		used = used || v.Kind != table.Empty
	}
	return row, used
}
