package scenarios

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// TestOtherForm: a workbook that another version of the program made, with other headings, is refused by its version and not
// by each heading; one without the mark, as another program may have saved it, is read.
func TestOtherForm(t *testing.T) {
	path := filepath.Join(t.TempDir(), "tray.xlsx")
	saveSample(t, path)
	for identifier, says := range map[string]string{
		"piececost starter workbook 1":  "tray.xlsx was made by another version of piececost: its sheets have form 1",
		"piececost starter workbook 17": "its sheets have form 17",
		"piececost starter workbook 2":  "",
		"a budget":                      "",
	} {
		f, err := excelize.OpenFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := f.SetDocProps(&excelize.DocProperties{Identifier: identifier}); err != nil {
			t.Fatal(err)
		}
		if err := f.Save(); err != nil {
			t.Fatal(err)
		}
		w, err := Open(path)
		if err != nil {
			t.Fatal(err)
		}
		_, err = w.Case()
		if says == "" && err != nil || says != "" && (err == nil || !strings.Contains(err.Error(), says)) {
			t.Errorf("%s: %v", identifier, err)
		}
	}
}
