package term

import (
	"bytes"
	"strings"
	"testing"
)

// TestPlotMarks gives letters that differ.
func TestPlotMarks(t *testing.T) {
	for want, names := range map[string][]string{
		"ABC": {"A baseline", "b", "C"},
		"abc": {"A", "A 2", "B"},
		"ab":  {"1", "2"},
	} {
		if got := string(PlotMarks(names)); got != want {
			t.Errorf("%v: %s, want %s", names, got, want)
		}
	}
}

// TestPlot draws two curves that cross in the middle; no line is wider than 80 columns.
func TestPlot(t *testing.T) {
	volumes := PlotVolumes(10, 100_000)
	var up, down []float64
	for i := range volumes {
		up, down = append(up, 10*float64(i+1)), append(down, 10*float64(len(volumes)-i))
	}
	var out bytes.Buffer
	Plot(&out, "Two curves", volumes, []Curve{{'U', "up", up}, {'D', "down", down}})
	lines := strings.Split(out.String(), "\n")
	if len(lines) != plotHeight+6 {
		t.Fatalf("%d lines:\n%s", len(lines), out.String())
	}
	for _, l := range lines {
		if len(l) > 80 {
			t.Errorf("%d columns: %s", len(l), l)
		}
	}
	half := plotWidth / 2
	if want := "  cheapest  " + strings.Repeat("U", half) + strings.Repeat("D", half); lines[plotHeight+3] != want {
		t.Errorf("%q, want %q", lines[plotHeight+3], want)
	}
	if first := lines[1]; !strings.HasPrefix(first, "     640.0 |D") || !strings.HasSuffix(first, "U") {
		t.Errorf("first row %q", first)
	}
	out.Reset()
	Plot(&out, "Nothing", volumes, []Curve{{'U', "up", make([]float64, plotWidth)}})
	if out.Len() > 0 {
		t.Errorf("costs of 0 are drawn:\n%s", out.String())
	}
}
