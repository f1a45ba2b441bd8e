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

// TestLibraryAtStart: with a quantity gone from the definitions that the program asks for, every command ends before it reads a
// file, with the quantity's name.
func TestLibraryAtStart(t *testing.T) {
	broken := fstest.MapFS{}
	for _, pattern := range []string{"equations/*", "forms/*", "processes/*"} {
		names, err := fs.Glob(templates.Files, pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range names {
			raw, err := fs.ReadFile(templates.Files, name)
			if err != nil {
				t.Fatal(err)
			}
			broken[name] = &fstest.MapFile{Data: bytes.ReplaceAll(raw, []byte("\n  pool_machines:"), []byte("\n  lines_of_pool:"))}
		}
	}
	whole := library
	defer func() { library = whole }()
	library = func() (*costmodel.Library, error) { return costmodel.LoadLibrary(broken) }
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
