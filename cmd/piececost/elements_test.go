package main

import (
	"bytes"
	"path/filepath"
	"strings"
	"testing"
)

// withPackaging has the commands read definitions with one more element of cost, between consumables and energy, until the test
// ends.
func withPackaging(t *testing.T) {
	t.Helper()
	withDefinitions(t, func(name string, raw []byte) []byte {
		added := map[string]string{
			"equations/elements.yaml":    "  packaging_material: {label: Packaging of operations}\n",
			"equations/7-operation.yaml": "  packaging_material: {unit: currency/yr, is: 'produced_quantity * \"0.25 currency\"'}\n",
		}[name]
		return bytes.Replace(raw, []byte("  energy: {"), []byte(added+"  energy: {"), 1)
	})
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
