package costmodel

import (
	"strings"
	"testing"

	"go.yaml.in/yaml/v3"
)

// TestEveryInputHasPossibleRange: a number that a person gives is held to what can be; a range that reaches below 0 says in
// its note what a negative value means.
func TestEveryInputHasPossibleRange(t *testing.T) {
	lib, err := libraryOfTests()
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, list := range [][]*Template{lib.Scopes, lib.Forms, lib.Processes} {
		for _, tpl := range list {
			for _, it := range tpl.Items {
				if !it.Input || len(it.Options) > 0 || it.Unit == "flag" {
					continue
				}
				seen++
				in := it.Possible
				if !in.Known() {
					t.Errorf("%s: %s has no possible range", tpl.File, it.Name)
					continue
				}
				if in.low < 0 && !strings.Contains(it.Note, "negative") && !strings.Contains(it.Note, "rebate") {
					t.Errorf("%s: %s may be negative, and its note does not say what that means", tpl.File, it.Name)
				}
				if p := it.Plausible; p != nil && !(in.Contains(p[0]) || p[0] == in.low) || p != nil && !(in.Contains(p[1]) || p[1] == in.high) {
					t.Errorf("%s: %s is plausible from %v to %v, which is not possible: %s", tpl.File, it.Name, p[0], p[1], in.Bounds())
				}
			}
		}
	}
	t.Logf("%d inputs", seen)
	if seen < 100 {
		t.Errorf("only %d inputs seen", seen)
	}
}

func TestInterval(t *testing.T) {
	for _, c := range []struct {
		text    string
		in, out []float64
		demand  string // of the first value outside
	}{
		{`[0, 100]`, []float64{0, 100, 100 + 1e-8}, []float64{-1e-3, 100.001}, "at least 0"},
		{`"(0, 100]"`, []float64{1e-9, 100}, []float64{0, -1}, "above 0"},
		{`"[0, 100)"`, []float64{0, 99.9999}, []float64{100, 100 + 1e-8, 1e9}, "below 100 kg"},
		{`[-5, 1e6]`, []float64{-5, 0, 1e6}, []float64{2e6, -5.1}, "at most 1000000 kg"},
	} {
		var in Interval
		if err := yaml.Unmarshal([]byte(c.text), &in); err != nil {
			t.Fatal(err)
		}
		for _, v := range c.in {
			if !in.Contains(v) {
				t.Errorf("%s does not contain %v", c.text, v)
			}
		}
		for _, v := range c.out {
			if in.Contains(v) {
				t.Errorf("%s contains %v", c.text, v)
			}
		}
		if got := in.demand(c.out[0], " kg"); got != c.demand {
			t.Errorf("%s of %v: %q, want %q", c.text, c.out[0], got, c.demand)
		}
	}
	for _, text := range []string{`[1, 0]`, `[0]`, `0..1`, `"(0, inf)"`, `[a, b]`, `"{0, 1}"`} {
		var in Interval
		if yaml.Unmarshal([]byte(text), &in) == nil {
			t.Errorf("%s is taken for a range", text)
		}
	}
}
