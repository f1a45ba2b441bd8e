package scenarios

import (
	"flag"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"piececost/costmodel"
	"piececost/costmodel/formula"
	"piececost/templates"
)

var showMutants = flag.String("mutants", "", "show the mutants of this file or quantity, each with what became of it")

var allMutants = flag.Bool("all-mutants", false, "try every mutant (make check), not one of fifteen, and one of a hundred of the quotes")

var mutantsOf = flag.String("mutants-of", "", "try only the mutants of files whose name contains this")

// TestMutants changes each equation, default and check of templates/ in turn, in every way of mutantKinds; something that
// was not made by the engine must notice. testdata/second-case/survivors.txt says why the others can't be noticed. With the
// race detector, which finds nothing more in a thousand mutants than in some, and with -short, it takes every 50th; without -all-mutants,
// which make check gives, every 15th.
func TestMutants(t *testing.T) {
	lib, err := costmodel.LoadLibrary(templates.Files)
	if err != nil {
		t.Fatal(err)
	}
	k := readKillers(t)
	all := newMutator(lib, costmodel.New(k.cases[0].tables, lib).Schema.Units).all()
	sampled := raceDetector || testing.Short() || *mutantsOf != "" || !*allMutants
	switch {
	case *mutantsOf != "":
		all = slices.DeleteFunc(all, func(u mutant) bool { return !strings.Contains(u.file, *mutantsOf) })
	case raceDetector || testing.Short():
		all = everyOf(all, 50)
	case sampled:
		all = everyOf(all, 15)
	}
	fates := k.judgeAll(all, lib)
	reasons := readReasons(t, filepath.Join(secondCaseDir, "survivors.txt"))
	counts := map[string]map[string]int{}
	for i, u := range all {
		f := fates[i]
		if counts[u.kind] == nil {
			counts[u.kind] = map[string]int{}
		}
		counts[u.kind][f.what]++
		line := u.line()
		if *showMutants != "" && strings.Contains(line, *showMutants) {
			t.Logf("%s\n\t%s: %s", line, f.what, f.by)
		}
		if f.what != survived {
			continue
		}
		if _, ok := reasons[line]; !ok {
			t.Errorf("nothing notices:\n%s", line)
		}
		delete(reasons, line)
	}
	for _, line := range slices.Sorted(maps.Keys(reasons)) {
		if !sampled {
			t.Errorf("no longer survives, or is no mutant; delete it from survivors.txt:\n%s", line)
		}
	}
	t.Logf("%d mutants", len(all))
	for _, k := range mutantKinds {
		c := counts[k.name]
		t.Logf("%-9s killed %4d, refused by a case %3d, refused by the library %3d, survived %2d: %s", k.name, c["killed"], c["refused by a case"],
			c["refused by the library"], c[survived], k.what)
	}
}

// everyOf takes one of so many.
func everyOf[M any](all []M, step int) (out []M) {
	for i := 0; i < len(all); i += step {
		out = append(out, all[i])
	}
	return out
}

// line is how survivors.txt names a mutant.
func (u mutant) line() string { return fmt.Sprintf("%s, %s (%s): %s", u.file, u.item, u.kind, u.text) }

// readReasons reads the reasons of survivors: a mutant on a line, then its reason on a line that begins with a tab.
func readReasons(t *testing.T, path string) map[string]string {
	raw, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	line := ""
	for _, text := range strings.Split(string(raw), "\n") {
		switch {
		case text == "" || text[0] == '#':
		case text[0] != '\t':
			line = text
			out[line] = ""
		case line != "":
			out[line] += strings.TrimSpace(text)
		}
	}
	for line, reason := range out {
		if len(reason) < 20 {
			t.Errorf("%s gives no reason for\n%s", path, line)
		}
	}
	return out
}

// TestMutantsTogether breaks two equations that were once broken without a test that noticed, both and each alone.
func TestMutantsTogether(t *testing.T) {
	lib, err := costmodel.LoadLibrary(templates.Files)
	if err != nil {
		t.Fatal(err)
	}
	breaks := func(file, item, from, to string) mutant {
		for _, tmpl := range lib.Scopes {
			for _, it := range tmpl.Items {
				if tmpl.File == file && it.Name == item && strings.Count(it.Is, from) == 1 {
					return mutant{file: file, item: item, text: strings.Replace(it.Is, from, to, 1)}
				}
			}
		}
		t.Fatalf("%s of %s has no %q", item, file, from)
		return mutant{}
	}
	crew := breaks("equations/7-operation.yaml", "crew_step_cost", " + plant.working_capital_share", "")
	energy := breaks("equations/4-machine.yaml", "rate_electricity", " * (1 - unplanned_downtime_share)", "")
	k := readKillers(t)
	for _, broken := range [][]mutant{{crew}, {energy}, {crew, energy}} {
		changed := lib
		for _, u := range broken {
			changed = changedLibrary(changed, u)
		}
		if f := k.judge(changed, ""); f.what != "killed" {
			t.Errorf("with %v: %s %s", broken, f.what, f.by)
		}
	}
}

// TestMutantsUnchanged writes every equation anew without a change: nothing may notice, so what notices a mutant notices its
// change and not the way it is written.
func TestMutantsUnchanged(t *testing.T) {
	lib, err := costmodel.LoadLibrary(templates.Files)
	if err != nil {
		t.Fatal(err)
	}
	k := readKillers(t)
	m := newMutator(lib, costmodel.New(k.cases[0].tables, lib).Schema.Units)
	changed := lib
	written := 0
	for _, e := range m.equations() {
		if len(e.options) > 0 {
			continue
		}
		expr, err := formula.Parse(e.text, m.sys)
		if err != nil {
			t.Fatal(err)
		}
		e.text = writeEquation(expr.Root, nil, nil)
		changed = changedLibrary(changed, e)
		written++
	}
	if f := k.judge(changed, ""); f.what != survived || written < 200 {
		t.Errorf("%d equations written anew: %s, %s", written, f.what, f.by)
	}
}
