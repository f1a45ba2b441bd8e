package study_test

import (
	"runtime"
	"testing"

	"piececost/costmodel"
	"piececost/costmodel/study"
)

// mostMoreMemory is a fifth of the 23.3 MB that the program takes at its peak for the cross-overs in 1 to 10,000 of the
// sample's workbook.
const mostMoreMemory = 4_600_000

// TestCrossoverAllocation counts the bytes allocated for all cross-overs in 1 to 1,000,000 against those in 1 to 10,000. What
// comes on top is less than a fifth of the program's peak, so that the peak stays below 1.2 times even where nothing is
// collected meanwhile, as on a busy machine. Most of it is for telling what jumped at the changes of order, of which the
// smaller range has none; walking alone takes less than a byte a volume.
func TestCrossoverAllocation(t *testing.T) {
	plans := sampleVolumeTables(t).plans(t, costmodel.CompileOptions{})
	allocated := func(to int) int {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		if _, err := study.Crossovers(t.Context(), plans, study.CrossoverAsk{From: 1, To: to, Tolerance: 0.005}); err != nil {
			t.Fatal(err)
		}
		runtime.ReadMemStats(&after)
		return int(after.TotalAlloc - before.TotalAlloc)
	}
	few, most, all := allocated(10_000), allocated(100_000), allocated(1_000_000)
	t.Logf("bytes allocated: %d in 1 to 10,000, %d to 100,000, %d to 1,000,000", few, most, all)
	if all-few > mostMoreMemory {
		t.Errorf("1 to 1,000,000 takes %d bytes more than 1 to 10,000, at most %d may be", all-few, mostMoreMemory)
	}
	if perVolume := float64(all-most) / 900_000; perVolume > 1 {
		t.Errorf("a walked volume takes %.2f bytes, at most 1 may be", perVolume)
	}
}
