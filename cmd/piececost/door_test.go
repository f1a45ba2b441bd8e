package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// TestDoor: a program of its own (testdata/door), which knows packages costing and wire alone, costs the sample as the
// commands do, with the figures of README and, of the trays, testdata/battery-tray/expected_steps.csv, writes the
// results, and is told the cell where the case is at fault.
func TestDoor(t *testing.T) {
	dir := t.TempDir()
	door, file := filepath.Join(dir, "door"), filepath.Join(dir, "tray.xlsx")
	if out, err := exec.Command("go", "build", "-o", door, "../../testdata/door").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	wordsCommand(t, 0, "new", "--sample", "battery-tray", file)
	answer := answerOf(t, "run", file, "-o", filepath.Join(dir, "by-command.xlsx"), "--json")
	of := func(file, output string) (string, error) {
		c := exec.Command(door, file, filepath.Join(dir, output))
		c.Stdin = strings.NewReader(answer)
		out, err := c.CombinedOutput()
		return strings.ReplaceAll(string(out), dir+string(filepath.Separator), ""), err
	}
	got, err := of(file, "by-door.xlsx")
	want := `A baseline: 235.93, 186.47; TRAY_A 31.10
B variant 1: 229.12, 195.62; TRAY_B 35.62
C variant 2: 249.87, 182.62; TRAY_C 35.38
Summary in by-door.xlsx
3 scenarios cost the same as by the command
`
	if err != nil || got != want {
		t.Errorf("%v\n%swanted is\n%s", err, got, want)
	}
	wordsCommand(t, 0, "check", filepath.Join(dir, "by-door.xlsx"))
	faulty := filepath.Join(dir, "faulty.xlsx")
	setCells(t, file, faulty, map[string]any{"Parts!D2": "casting"})
	got, err = of(faulty, "none.xlsx")
	if _, there := os.Stat(filepath.Join(dir, "none.xlsx")); err == nil || there == nil || !strings.HasPrefix(got, "wrong: Parts D2\n") {
		t.Errorf("a case with an error: %v\n%s", err, got)
	}
}
