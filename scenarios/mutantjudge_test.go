package scenarios

import (
	"fmt"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"

	"piececost/costmodel"
	"piececost/costmodel/table"
)

// A fate is what became of a mutant: refused by the library (its units do not fit), refused by a case that is costed
// otherwise, killed by a number, or survived.
type fate struct{ what, by string }

const survived = "survived"

// changedLibrary is a library with one mutant in it.
func changedLibrary(lib *costmodel.Library, u mutant) *costmodel.Library {
	out := *lib
	for _, list := range []*[]*costmodel.Template{&out.Scopes, &out.Forms, &out.Processes, &out.Tools, &out.Sizes} {
		for i, t := range *list {
			if c := u.in(t); c != nil {
				*list = slices.Clone(*list)
				(*list)[i] = c
			}
		}
	}
	return &out
}

// in is a template with the mutant, which it may have from the file that it is based on; nil where it has not.
func (u mutant) in(t *costmodel.Template) *costmodel.Template {
	c := *t
	if u.check {
		at := slices.IndexFunc(t.Checks, func(k costmodel.Check) bool { return k.DefinedIn() == u.file && k.Say == u.item })
		if at < 0 {
			return nil
		}
		c.Checks = slices.Clone(t.Checks)
		c.Checks[at].Holds = u.text
		return &c
	}
	at := slices.IndexFunc(t.Items, func(it costmodel.Item) bool { return it.DefinedIn() == u.file && it.Name == u.item })
	if at < 0 {
		return nil
	}
	c.Items = slices.Clone(t.Items)
	if u.otherwise > 0 {
		c.Items[at].Otherwise = slices.Clone(c.Items[at].Otherwise)
		c.Items[at].Otherwise[u.otherwise-1] = u.text
	} else {
		c.Items[at].Is = u.text
	}
	return &c
}

// killers are what may notice a mutant, the quickest first.
type killers struct {
	relations map[string]relationKiller // by file of a process
	cases     []*longCase
	refusals  []refusal
}

// A relationKiller is a process with its points.
type relationKiller struct {
	process string
	points  []relationPoint
	tables  *table.Case
}

func readRelationKillers(t testing.TB) map[string]relationKiller {
	t.Helper()
	out := map[string]relationKiller{}
	lib := testLibrary(t)
	for name, points := range readRelations(t) {
		p := lib.Find(name)
		out[p.File] = relationKiller{name, points, relationCase(t, p, points)}
	}
	return out
}

func readKillers(t testing.TB) (k killers) {
	t.Helper()
	k.relations = readRelationKillers(t)
	for _, name := range longCases {
		k.cases = append(k.cases, readLongCase(t, name))
	}
	k.refusals = readRefusals(t)
	return k
}

// judgeMutant tries one: a process at its own points first.
func (k killers) judgeMutant(u mutant, lib *costmodel.Library) fate {
	changed := changedLibrary(lib, u)
	if r, ok := k.relations[u.file]; ok {
		if f := differsFromRelations(changed.Find(r.process), r.tables, r.points, changed); f.what != survived {
			return f
		}
	}
	return k.judge(changed, u.item)
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
		if d.Severity == table.Error && strings.HasSuffix(d.Place.File, ".yaml") {
			return fate{"refused by the library", d.Summary}
		} else if d.Severity == table.Error {
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
				fates[i] = k.judgeMutant(all[i], lib)
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
