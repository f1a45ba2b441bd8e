package main

import (
	"bytes"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"piececost/costmodel"
	"piececost/templates"
)

// withPackaging has the commands read definitions with one more element of cost, between consumables and energy, until the test
// ends.
func withPackaging(t *testing.T) {
	t.Helper()
	files := fstest.MapFS{}
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
			added := map[string]string{
				"equations/elements.yaml":    "  packaging_material: {label: Packaging of operations}\n",
				"equations/7-operation.yaml": "  packaging_material: {unit: currency/yr, is: 'produced_quantity * \"0.25 currency\"'}\n",
			}[name]
			if added != "" {
				raw = bytes.Replace(raw, []byte("  energy: {"), []byte(added+"  energy: {"), 1)
			}
			files[name] = &fstest.MapFile{Data: raw}
		}
	}
	whole := library
	t.Cleanup(func() { library = whole })
	library = func() (*costmodel.Library, error) { return costmodel.LoadLibrary(files) }
}

// TestElementAddedInCommands: an element added to the definitions is in what the commands print, in its place.
func TestElementAddedInCommands(t *testing.T) {
	withPackaging(t)
	path := filepath.Join(t.TempDir(), "tray.xlsx")
	for _, c := range []struct {
		args []string
		want string // consumables, the new one, energy, with what stands between them
	}{
		{[]string{"new", "--sample", "battery-tray", path}, ""},
		{[]string{"run", path}, "Consumables|Packaging of operations|Energy"},
		{[]string{"run", path, "--json"}, `"name": "consumables"|"name": "packaging_material"|"name": "energy"`},
		{[]string{"sweep", path, "--csv"}, "consumables,|packaging_material,|energy,"},
		{[]string{"sweep", path, "--json"}, `"consumables":|"packaging_material":`},
		{[]string{"compare", path}, "Consumables|Packaging of operations|Energy"},
		{[]string{"compare", path, "--json"}, `"key": "consumables"|"key": "packaging_material"|"key": "energy"`},
		{[]string{"compare", path, "--csv"}, "consumables|packaging_material|energy"},
	} {
		var out, errs strings.Builder
		if code := run(c.args, strings.NewReader(""), &out, &errs); code != 0 {
			t.Errorf("%v: exit code %d, %s", c.args, code, errs.String())
			continue
		}
		rest := out.String()
		for _, word := range strings.Split(c.want, "|") {
			_, after, ok := strings.Cut(rest, word)
			if !ok {
				t.Errorf("%v: no %q in its place:\n%s", c.args, word, out.String())
				break
			}
			rest = after
		}
	}
}
