package scenarios

import (
	"encoding/csv"
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"piececost/costmodel"
)

// typedTimes are the columns in which the sample has what its processes could reckon.
var typedTimes = []string{"Load and process time [s]", "Time per joint [s]", "Time per seam length [s/mm]", "Seam speed [mm/s]"}

// TestTypedTimesBlanked tells (with -v) what the processes reckon where the sample's typed times are taken away, as a ratio to the typed
// cycle time, operation by operation, and what it would take where they can't. It has no bound: no coefficient is to be tuned to an
// invented case. It fails only where nothing can be reckoned at all.
func TestTypedTimesBlanked(t *testing.T) {
	rows, err := csv.NewReader(strings.NewReader(string(sampleFiles(t)["operations.csv"].Data))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	reckoned := 0
	for i := 1; i < len(rows); i++ {
		key := rows[i][0] + "/" + rows[i][1]
		changed := slices.Clone(rows)
		changed[i] = slices.Clone(rows[i])
		for j, heading := range rows[0] {
			if slices.Contains(typedTimes, heading) {
				changed[i][j] = ""
			}
		}
		got, why := cycleOf(t, changed, key)
		what := fmt.Sprintf("%s/%s %s", rows[i][0], rows[i][1], rows[i][3])
		if why != "" {
			t.Logf("%s: %s", what, why)
			continue
		}
		typed, _ := cycleOf(t, rows, key)
		reckoned++
		t.Logf("%s: reckoned %.1f s, typed %.1f s, ratio %.2f", what, got, typed, got/typed)
	}
	if t.Logf("%d of %d operations", reckoned, len(rows)-1); reckoned == 0 {
		t.Error("no process reckons a time from what the sample has")
	}
}

// cycleOf is the cycle time of an operation in s, with other rows of Operations, in the first scenario that has it; or what is missing.
func cycleOf(t *testing.T, rows [][]string, key string) (seconds float64, why string) {
	t.Helper()
	var text strings.Builder
	if err := csv.NewWriter(&text).WriteAll(rows); err != nil {
		t.Fatal(err)
	}
	tables := sampleFiles(t)
	tables["operations.csv"] = &fstest.MapFile{Data: []byte(text.String())}
	c, err := ReadTables(tables, "sample")
	if err != nil {
		t.Fatal(err)
	}
	m := costmodel.New(c, testLibrary(t))
	for _, s := range m.Scenarios {
		p, ds := m.Compile(s, costmodel.CompileOptions{})
		if p == nil {
			for _, d := range append(m.Diagnostics.Sorted(), ds.Sorted()...) {
				if d.Severity == "error" {
					return 0, d.Summary
				}
			}
		}
		for _, e := range p.Detail(s.Volume).Entries("operation") {
			if e.Record().Key == key {
				return e.Must("cycle_time"), ""
			}
		}
	}
	return 0, "no scenario has it"
}
