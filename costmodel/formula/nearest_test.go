package formula_test

import (
	"testing"

	"piececost/costmodel/formula"
)

// TestNearest counts the letters by hand: at most a third of the name may differ, but one always.
func TestNearest(t *testing.T) {
	names := []string{"cycle_time", "crew", "mass", "max", "ceil", "quality_ratio", "load_time"}
	for _, c := range []struct{ name, near string }{
		{"cycel_time", "cycle_time"},  // a swap counts one
		{"cycle_tim", "cycle_time"},   // one missing
		{"cycle_timee", "cycle_time"}, // one too many
		{"cicle_tyme", "cycle_time"},  // two changed
		{"cacla_tyme", "cycle_time"},  // three of ten
		{"cacla_tymo", ""},            // four of ten
		{"lead_tine", "load_time"},    // two of nine
		{"lead_tins", "load_time"},    // three of nine
		{"lead_tin", ""},              // three of eight
		{"crop", ""},                  // two of four
		{"qualityratio", "quality_ratio"},
		{"maas", "mass"},
		{"mac", "max"},
		{"cel", "ceil"},
		{"mxa", "max"}, // a swap, in a name of which one letter may differ
		{"crew", ""},   // the name itself is no suggestion
		{"cost", ""},   // two of four
		{"xyz", ""},
		{"", ""},
		{"annual_volume", ""},
	} {
		if got := formula.Nearest(c.name, names); got != c.near {
			t.Errorf("Nearest(%q) = %q, want %q", c.name, got, c.near)
		}
	}
	trades := []string{"projection welding", "laser welding", "tube bending", "spot welding", "timed operation"}
	for name, want := range map[string]string{
		"injection moulding": "", "laser cutting": "", "tube cutting": "", "tube ending": "tube bending",
		"laser weldign": "laser welding", "spotwelding": "spot welding", "projektion welding": "projection welding", "timed operations": "timed operation",
	} {
		if got := formula.Nearest(name, trades); got != want {
			t.Errorf("Nearest(%q) = %q, want %q", name, got, want)
		}
	}
	if got := formula.Nearest("bb", []string{"ab", "bc", "cb"}); got != "ab" {
		t.Errorf("of equals the first wins, not %q", got)
	}
	if got := formula.Nearest("gewicht", []string{"Gewicht", "gewichte"}); got != "Gewicht" {
		t.Errorf("got %q", got)
	}
	if got := formula.Nearest("anything", nil); got != "" {
		t.Errorf("without candidates %q", got)
	}
}
