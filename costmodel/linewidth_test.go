package costmodel_test

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"
)

// mostColumns is how wide a line of Go may be, a tab taken for tabColumns: what a reader sees of it beside another file.
const (
	mostColumns = 160
	tabColumns  = 4
)

// TestNoLineIsTooWide walks over all Go files of the module, tests among them.
func TestNoLineIsTooWide(t *testing.T) {
	seen := 0
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") {
			return err
		}
		seen++
		text, err := os.ReadFile(path)
		for i, line := range bytes.Split(text, []byte("\n")) {
			if n := columnsOf(line); n > mostColumns {
				t.Errorf("%s:%d is %d columns wide, more than %d; break it", path, i+1, n, mostColumns)
			}
		}
		return err
	})
	if err != nil || seen < 300 {
		t.Errorf("%d files, %v", seen, err)
	}
}

func columnsOf(line []byte) int {
	return utf8.RuneCount(line) + (tabColumns-1)*bytes.Count(line, []byte("\t"))
}
