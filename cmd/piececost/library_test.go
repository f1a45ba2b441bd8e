package main

import (
	"bytes"
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"

	"piececost/costmodel"
	"piececost/templates"
)

// withDefinitions has the commands read changed definitions until the test ends.
func withDefinitions(t *testing.T, changed func(name string, raw []byte) []byte) {
	t.Helper()
	files := fstest.MapFS{}
	for _, pattern := range []string{"equations/*", "forms/*", "processes/*", "quotes/*"} {
		names, err := fs.Glob(templates.Files, pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range names {
			raw, err := fs.ReadFile(templates.Files, name)
			if err != nil {
				t.Fatal(err)
			}
			files[name] = &fstest.MapFile{Data: changed(name, raw)}
		}
	}
	whole := library
	t.Cleanup(func() { library = whole })
	library = func() (*costmodel.Library, error) { return costmodel.LoadLibrary(files) }
}

// TestLibraryAtStart: with a quantity gone from the definitions that the program asks for, every command ends before it reads a
// file, with the quantity's name.
func TestLibraryAtStart(t *testing.T) {
	withDefinitions(t, func(_ string, raw []byte) []byte {
		return bytes.ReplaceAll(raw, []byte("\n  pool_machines:"), []byte("\n  lines_of_pool:"))
	})
	for _, c := range newRoot().Commands() {
		args := []string{c.Name(), "no-such-file.xlsx"}
		if c.Name() == "import" {
			args = append(args, "no-such-folder")
		}
		var out, errs strings.Builder
		code := run(args, strings.NewReader(""), &out, &errs)
		if code != 1 || out.Len() > 0 || !strings.Contains(errs.String(), "no quantity pool_machines of the machine") {
			t.Errorf("%s: exit code %d, %s%s", c.Name(), code, out.String(), errs.String())
		}
	}
}
