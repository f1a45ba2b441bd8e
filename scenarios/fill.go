package scenarios

import (
	"fmt"
	"io/fs"

	"piececost/costmodel"
	"piececost/scenarios/starter"
)

// Starter makes a workbook from the tables of a folder: one CSV file for each input sheet, named after it in lower case
// with underscores, headings as in the workbook. Sheets without a file get their headings only.
func Starter(tables fs.FS, lib *costmodel.Library) (*Workbook, error) {
	f, err := starter.New(tables, lib)
	if err != nil {
		return nil, err
	}
	return &Workbook{f: f}, nil
}

// FromTables is From for the tables of a folder, put into a workbook by Starter.
func FromTables(name string, tables fs.FS, lib *costmodel.Library) (*Workbook, error) {
	w, err := Starter(tables, lib)
	if err != nil {
		return nil, err
	}
	data, err := w.bytes()
	if err != nil {
		return nil, err
	}
	return From(name, data)
}

// OpenStarter opens a workbook made by `piececost new` to fill it; any other is refused, since the library saves it.
func OpenStarter(path string) (*Workbook, error) {
	w, err := Open(path)
	if err != nil {
		return nil, err
	}
	if err := w.otherForm(); err != nil {
		return nil, err
	}
	if !w.IsStarter() {
		return nil, fmt.Errorf("%s was not made by `piececost new`, so it is not written in place", path)
	}
	f, err := starter.OpenFile(path, w.data)
	if err != nil {
		return nil, err
	}
	return &Workbook{path: path, sum: w.sum, f: f}, nil
}

// Import fills the workbook from CSV tables, by a column map in the folder or by the names of files and headings. Rows go
// below what is there. The error names the file and line; the workbook is then not to be saved.
func (w *Workbook) Import(folder fs.FS, options starter.ImportOptions) (*starter.ImportReport, error) {
	return starter.Import(w.f, folder, options)
}
