package scenarios

import (
	"cmp"
	"fmt"
	"path/filepath"
	"strings"

	"piececost/scenarios/reading"
	"piececost/scenarios/safefile"
)

// MaySaveAs refuses a place that the workbook can't be saved at, before any work is done: no folder, a device, a file that
// is not to be replaced, or a name that no spreadsheet program would open it by. Programs go by the end of the name, and
// refuse a workbook of another kind behind it.
func (w *Workbook) MaySaveAs(path string, o SaveOptions) error {
	if err := safefile.MayWrite(safefile.OS{}, path, safefile.Options{Replace: o.Replace}); err != nil {
		return err
	}
	wanted, err := w.pack.Ending()
	if err != nil {
		return reading.NotWorkbook(cmp.Or(w.path, w.name), err)
	}
	end := filepath.Ext(path)
	stem := strings.TrimSuffix(path, end)
	if filepath.Base(path) == end { // ".xlsx" is no end but a name
		stem, end = filepath.Join(filepath.Dir(path), "results"), ""
	}
	end = strings.ToLower(end)
	switch {
	case wanted != ".xlsx" && wanted != ".xlsm":
		return fmt.Errorf("%s is a template or an add-in (%s), and results are written as a workbook; save it as .xlsx or .xlsm in a spreadsheet "+
			"program", cmp.Or(w.path, w.name), wanted)
	case end != ".xlsx" && end != ".xlsm":
		return fmt.Errorf("%s: results are written as .xlsx or .xlsm alone; name the output %s%s", path, stem, wanted)
	case end != wanted && wanted == ".xlsm":
		return fmt.Errorf("%s holds macros (.xlsm), which no program opens as .xlsx; name the output %s.xlsm", cmp.Or(w.path, w.name), stem)
	case end != wanted:
		return fmt.Errorf("%s holds no macros (.xlsx), and no program opens it as .xlsm; name the output %s.xlsx", cmp.Or(w.path, w.name), stem)
	}
	return nil
}

// WriteNew writes a file of another kind than a workbook, such as a page of text. A file that is there is never replaced.
func WriteNew(path string, data []byte) error {
	return safefile.Write(safefile.OS{}, path, data, safefile.Options{})
}
