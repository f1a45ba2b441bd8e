package report

import (
	"strings"
	"testing"
	"unicode/utf8"

	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel/study"
)

// TestBusiestOfLongKeys: a key that makes the table wider than the terminal is listed below it.
func TestBusiestOfLongKeys(t *testing.T) {
	for key, below := range map[string]bool{"E11": false, "welding station of line three in the second plant": true} {
		c := study.Capacity{OwnLines: 4, Load: 0.71, Machines: []study.MachineUse{{Key: "other", Own: 1, Load: 0.5}, {Key: key, Own: 3, Load: 0.988}}}
		view := &study.VolumeView{Points: []study.VolumePoint{{Volume: 60000, Capacity: c, Own: 2_779_900, Tooling: 14_348_000}}}
		var out strings.Builder
		(&Volumes{Currency: "EUR"}).printCapacity(&out, view)
		listed := "Busiest product-specific machine and its capacity utilisation:\n  60,000: " + key + " 98.8 %\n"
		if got := strings.Contains(out.String(), listed); got != below || !strings.Contains(out.String(), key+" 98.8") {
			t.Errorf("%s: listed below: %v\n%s", key, got, out.String())
		}
		for _, line := range strings.Split(out.String(), "\n") {
			if utf8.RuneCountInString(line) > term.Width {
				t.Errorf("too wide: %s", line)
			}
		}
	}
}
