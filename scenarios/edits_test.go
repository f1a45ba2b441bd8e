package scenarios

import "testing"

func TestScratch(t *testing.T) {
	path := "/tmp/gen/tray.xlsx"
	saveSample(t, path)
	writeLive(t, path)
}
