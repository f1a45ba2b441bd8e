package scenarios

import (
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"piececost/costmodel"
)

// oddKeys are the tables of a case whose part keys a spreadsheet might take for conditions or for one another.
func oddKeys(t testing.TB) fstest.MapFS {
	t.Helper()
	tables := largeTables(t, 4).(fstest.MapFS)
	rename := strings.NewReplacer("N00000", "P*", "N00001", "P1", "N00002", "007", "N00003", "<>X")
	for _, name := range []string{"parts.csv", "bill_of_materials.csv", "operations.csv", "scenarios.csv"} {
		tables[name] = &fstest.MapFile{Data: []byte(rename.Replace(string(tables[name].Data)))}
	}
	return tables
}

// TestOddKeys has an independent program compute a case with such keys: every formula keeps its value.
func TestOddKeys(t *testing.T) {
	path := filepath.Join(t.TempDir(), "keys.xlsx")
	saveTables(t, oddKeys(t), path)
	writeLive(t, path)
	if n := compareFormulas(t, path, recomputed(t, path)); n < 500 {
		t.Errorf("only %d formulas", n)
	}
}

// TestKeysLookedUp refuses the keys of grades and machines that a live formula could not find.
func TestKeysLookedUp(t *testing.T) {
	tables := oddKeys(t)
	machines := string(tables["machines.csv"].Data)
	for _, c := range []struct{ from, to, want string }{
		{"\nE02,", "\nE*,", `the key "E*" has one of * ? ~`},
		{"\nE02,", "\ne01,", "the key e01 differs from E01 in capitals only"},
	} {
		tables["machines.csv"] = &fstest.MapFile{Data: []byte(strings.Replace(machines, c.from, c.to, 1))}
		path := filepath.Join(t.TempDir(), "keys.xlsx")
		saveTables(t, tables, path)
		read, err := Read(path)
		if err != nil {
			t.Fatal(err)
		}
		found := false
		for _, d := range costmodel.New(read, testLibrary(t)).Diagnostics {
			found = found || d.Code == "key" && strings.Contains(d.Summary, c.want)
		}
		if !found {
			t.Errorf("%q is not said", c.want)
		}
	}
}
