package scenarios

import (
	"path/filepath"
	"testing"
)

// TestCountsOfSample holds the counts of the sample's designs against those of a script that walks the CSV tables of the sample from
// the product down: parts that are no assembly, pieces and joints as often as they are in a tray, operations, and operations with a tool.
func TestCountsOfSample(t *testing.T) {
	path := filepath.Join(t.TempDir(), "tray.xlsx")
	saveSample(t, path)
	want := map[string][3]float64{"part_count": {19, 16, 16}, "piece_count": {81, 80, 80}, "joint_count": {398, 44, 44},
		"operation_count": {29, 28, 24}, "tool_count": {29, 28, 24}}
	for i, d := range resultOf(t, path).Details {
		for _, name := range sortedKeys(want) {
			if v := d.Scenario().Must(name); v != want[name][i] {
				t.Errorf("%s of scenario %d is %v, want %v", name, i, v, want[name][i])
			}
		}
	}
}
