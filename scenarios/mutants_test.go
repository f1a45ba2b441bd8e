package scenarios

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"sort"
	"strings"
	"sync"
	"testing"

	"piececost/costmodel"
	"piececost/costmodel/formula"
	"piececost/templates"
)

var showMutants = flag.String("mutants", "", "show the mutants of this file or quantity, each with what became of it")

// A fate is what became of a mutant: refused by the library (its units do not fit), refused by a case that is costed
// otherwise, killed by a number, or survived.
type fate struct{ what, by string }

const survived = "survived"

// changedLibrary is a library with one mutant in it.
func changedLibrary(lib *costmodel.Library, u mutant) *costmodel.Library {
	out := *lib
	for _, list := range []*[]*costmodel.Template{&out.Scopes, &out.Forms, &out.Processes} {
		for i, t := range *list {
			if t.File != u.file {
				continue
			}
			c := *t
			if u.check {
				c.Checks = slices.Clone(t.Checks)
				c.Checks[u.number].Holds = u.text
			} else {
				c.Items = slices.Clone(t.Items)
				c.Items[u.number].Is = u.text
			}
			*list = slices.Clone(*list)
			(*list)[i] = &c
		}
	}
	return &out
}

// killers are what may notice a mutant, the quickest first.
type killers struct {
	cases    []*longCase
	refusals []refusal
}

func readKillers(t testing.TB) (k killers) {
	t.Helper()
	for _, name := range longCases {
		k.cases = append(k.cases, readLongCase(t, name))
	}
	k.refusals = readRefusals(t)
	return k
}

// judge tries a library in which an item was changed and ends at the first that notices.
func (k killers) judge(lib *costmodel.Library, item string) fate {
	for _, c := range k.cases {
		if f := c.judge(lib); f.what != survived {
			return f
		}
	}
	for _, first := range []bool{true, false} { // those that are about the check that was changed come first
		for _, r := range k.refusals {
			if (r.say == item) == first && !r.refused(lib) {
				return fate{"killed", fmt.Sprintf("with %s nothing says %q", r.edits, r.say)}
			}
		}
	}
	return fate{what: survived}
}

// judge compares all numbers of a case.
func (c *longCase) judge(lib *costmodel.Library) fate {
	m := costmodel.New(c.tables, lib)
	for _, d := range m.Diagnostics.Sorted() {
		if d.Severity == costmodel.Error && strings.HasSuffix(d.Place.File, ".yaml") {
			return fate{"refused by the library", d.Summary}
		} else if d.Severity == costmodel.Error {
			return fate{"refused by a case", d.Summary}
		}
	}
	plans := map[int]*costmodel.Plan{}
	for _, e := range c.expected {
		if plans[e.scenario] == nil {
			p, ds := m.Compile(m.Scenarios[e.scenario], costmodel.CompileOptions{})
			if p == nil {
				return fate{"refused by a case", fmt.Sprint(ds.Sorted()[0])}
			}
			plans[e.scenario] = p
		}
		by := ""
		e.longhand.compare(plans[e.scenario].Detail(e.volume), func(what string) bool { by = what; return false })
		if by != "" {
			return fate{"killed", fmt.Sprintf("%s, %s at %v: %s", c.name, m.Scenarios[e.scenario].Name, e.volume, by)}
		}
	}
	return fate{what: survived}
}

// TestMutants changes each equation, default and check of templates/ in turn, in every way of mutantKinds; something that
// was not made by the engine must notice. testdata/second-case/survivors.txt says why the others can't be noticed.
func TestMutants(t *testing.T) {
	lib, err := costmodel.LoadLibrary(templates.Files)
	if err != nil {
		t.Fatal(err)
	}
	k := readKillers(t)
	all := newMutator(lib, costmodel.New(k.cases[0].tables, lib).Schema.Units).all()
	fates := k.judgeAll(all, lib)
	reasons := readSurvivors(t)
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
	var stale []string
	for line := range reasons {
		stale = append(stale, line)
	}
	sort.Strings(stale)
	for _, line := range stale {
		t.Errorf("no longer survives, or is no mutant; delete it from survivors.txt:\n%s", line)
	}
	for _, k := range mutantKinds {
		c := counts[k.name]
		t.Logf("%-9s killed %4d, refused by a case %3d, refused by the library %3d, survived %2d: %s", k.name, c["killed"], c["refused by a case"], c["refused by the library"], c[survived], k.what)
	}
}

// judgeAll judges on all processors.
func (k killers) judgeAll(all []mutant, lib *costmodel.Library) []fate {
	fates := make([]fate, len(all))
	next := make(chan int)
	var wg sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for i := range next {
				fates[i] = k.judge(changedLibrary(lib, all[i]), all[i].item)
			}
		}()
	}
	for i := range all {
		next <- i
	}
	close(next)
	wg.Wait()
	return fates
}

// line is how survivors.txt names a mutant.
func (u mutant) line() string { return fmt.Sprintf("%s, %s (%s): %s", u.file, u.item, u.kind, u.text) }

// readSurvivors reads the reasons: a mutant on a line, then its reason on a line that begins with a tab.
func readSurvivors(t *testing.T) map[string]string {
	raw, err := os.ReadFile(filepath.Join(secondCaseDir, "survivors.txt"))
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
			t.Errorf("survivors.txt gives no reason for\n%s", line)
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
			for i, it := range tmpl.Items {
				if tmpl.File == file && it.Name == item && strings.Count(it.Is, from) == 1 {
					return mutant{file: file, item: item, number: i, text: strings.Replace(it.Is, from, to, 1)}
				}
			}
		}
		t.Fatalf("%s of %s has no %q", item, file, from)
		return mutant{}
	}
	crew := breaks("equations/7-operation.yaml", "crew_step_cost", " + plant.working_capital_share", "")
	energy := breaks("equations/4-machine.yaml", "rate_energy", " * (1 - unplanned_downtime_share)", "")
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
