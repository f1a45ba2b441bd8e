package main

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"
)

// TestReadmeProcessByHand reckons the figures that README prints of its own process (TestReadme types it in and sees them come out) from
// the tables that README prints, in plain Go.
func TestReadmeProcessByHand(t *testing.T) {
	raw, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	_, section, found := strings.Cut(string(raw), "## Your own process in ten rows\n")
	section, _, _ = strings.Cut(section, "\n## ")
	if !found {
		t.Fatal("README has no such section")
	}
	if n := strings.Count(section, "| injection moulding | "); n != 10+1 { // and the operation that has it
		t.Errorf("the process has %d rows", n-1)
	}
	const wall, melt, mould, eject, diffusivity, cavities = 3.0, 290.0, 80.0, 150.0, 0.1, 2.0
	cooling := wall * wall / (math.Pi * math.Pi * diffusivity) * math.Log(8/(math.Pi*math.Pi)*(melt-mould)/(eject-mould))
	cycle := cooling + 9
	for _, want := range []string{fmt.Sprintf("cooling_time of operation GLAND/10 = %.6f s", cooling),
		fmt.Sprintf("load_and_process_time of operation GLAND/10 = %.5f s", cycle)} {
		if !strings.Contains(section, want) {
			t.Errorf("README does not print %q", want)
		}
	}
	for volume, written := range map[float64]string{20000: "20,000", 100000: "100,000"} {
		want := fmt.Sprintf("\n%-18s  %12.4f *\n", written, mouldedPiece(volume, cycle, cavities))
		if !strings.Contains(strings.ReplaceAll(section, "    ", ""), strings.ReplaceAll(want, "    ", "")) {
			t.Errorf("by hand %s costs %.6f, which README does not print", written, mouldedPiece(volume, cycle, cavities))
		}
	}
}

// mouldedPiece is what a gland plate costs in EUR at an annual volume.
func mouldedPiece(volume, cycle, cavities float64) float64 {
	const days, shifts, paid, standing, wage, indirect, kWh, utilisation, interest, programme = 230, 2, 8.0, 0.5, 35, 0.25, 0.16, 0.8, 0.08, 5
	const machine, life, power, crew, rejects, setUp, batch, tool = 160000, 10, 45, 0.3, 0.01, 1.0, 4000, 48000
	recovery := func(years float64) float64 { return interest / (1 - math.Pow(1+interest, -years)) }
	pieces := volume / (1 - rejects)
	running := pieces / cavities * cycle / 3600
	hours := running + math.Ceil(pieces/batch)*setUp
	material := pieces * 0.046 * 3.2
	labour := hours * crew * paid / (paid - standing) * wage
	energy := running * power * kWh
	equipment := hours / (days * shifts * (paid - standing) * utilisation) * machine * recovery(life)
	tooling := tool * recovery(programme) // one tool lasts: 500,000 cycles are more than five years need
	return (material + labour + energy + equipment + tooling + indirect*labour) / volume
}
