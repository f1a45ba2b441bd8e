package costmodel

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// TestProcessPages: every process says what it is and when it fits, carries the caution, and each default and relation its kind; a
// published or remembered one its source. No two processes have a name or alias in common, and all their definitions fit together,
// those that a case without them never reads too.
func TestProcessPages(t *testing.T) {
	lib, err := libraryOfTests()
	if err != nil {
		t.Fatal(err)
	}
	called := map[string]string{}
	kinds := map[Kind]int{}
	for _, p := range lib.Processes {
		for _, name := range append([]string{p.Name}, p.Aliases...) {
			if other := called[table.Normalise(name)]; other != "" {
				t.Errorf("%q is %s and %s", name, other, p.Name)
			}
			called[table.Normalise(name)] = p.Name
			if found := lib.Find(name); found != p {
				t.Errorf("%q does not lead to %s", name, p.Name)
			}
		}
		if p.What == "" || p.Fits == "" || p.FitsNot == "" || p.Group == "" {
			t.Errorf("%s: what, fits, fits not or group is missing", p.File)
		}
		if p.Group != "any" && !strings.Contains(p.Caution, "the machine maker, local safety codes and licensed engineers") {
			t.Errorf("%s has no caution", p.File)
		}
		for _, it := range p.Items {
			if it.Kind == "" && it.Is != "" {
				t.Errorf("%s: %s does not say where it comes from", p.File, it.Name)
			}
			if (it.Kind == Published || it.Kind == FromMemory) && it.Source == "" {
				t.Errorf("%s: %s is %s and names no source", p.File, it.Name, it.Kind)
			}
			if !it.Input {
				kinds[it.Kind]++
			}
		}
	}
	var ds table.Diagnostics
	sys, err := units.NewSystem("EUR", nil)
	if err != nil {
		t.Fatal(err)
	}
	newSchema(lib, sys, nil, nil, &ds)
	for _, d := range ds {
		t.Error(d)
	}
	t.Logf("%d processes; relations by kind: %v", len(lib.Processes), kinds)
}

// TestDefaultsOfEquations: a default of the equations and forms says its kind, but where it only leaves something out: 0, 1, 100 %, a word,
// or what another quantity says.
func TestDefaultsOfEquations(t *testing.T) {
	lib, err := libraryOfTests()
	if err != nil {
		t.Fatal(err)
	}
	neutral := regexp.MustCompile(`^(0|1|"0 [^"]+"|"100 %"|[a-z_]+( [a-z]+)?|[a-z_]+\.[a-z_]+)$`)
	for _, s := range slices.Concat(lib.Scopes, lib.Forms) {
		for _, it := range s.Items {
			if it.Input && it.Is != "" && it.Kind == "" && !neutral.MatchString(it.Is) {
				t.Errorf("%s: the default of %s, %s, does not say where it comes from", s.File, it.Name, it.Is)
			}
		}
	}
}

// TestNeeds: an input that only a force or a limit rests on may stay empty, whatever other processes do with one of the same name.
func TestNeeds(t *testing.T) {
	lib, err := libraryOfTests()
	if err != nil {
		t.Fatal(err)
	}
	needs := lib.Needs()
	for _, c := range []struct {
		process, input string
		onlyChecks     bool
	}{
		{"roll forming", "flange_height", true}, {"roll forming", "bends", true}, {"rotary-draw bending", "bends", false},
		{"rotary-draw bending", "outer_diameter", true}, {"tube sawing", "outer_diameter", false}, {"laser trimming", "cut_length", false},
		{"fine blanking", "cut_length", true}, {"drilling", "hole_depth", false}, {"tandem and transfer press line", "largest_force", true},
	} {
		if got := needs.OnlyChecks(lib.Find(c.process), c.input); got != c.onlyChecks {
			t.Errorf("%s, %s: for checks alone %v", c.process, c.input, got)
		}
	}
}
