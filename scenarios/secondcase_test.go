package scenarios

import (
	"fmt"
	"maps"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/rogpeppe/go-internal/txtar"

	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/templates"
)

// longCases are the archives, the one that notices most first.
var longCases = []string{"module", "bare", "edges", "limits", "masses", "layout", "tools", "sized"}

const secondCaseDir = "../testdata/second-case"

// A longCase is an archive with what longhand finds for its scenarios at some volumes.
type longCase struct {
	name     string
	archive  *txtar.Archive
	tables   *table.Case
	expected []longExpected
}

// longExpected is a scenario at a volume.
type longExpected struct {
	scenario int
	volume   float64
	longhand *longhand
}

// longVolumes are the annual volumes at which the scenarios of an archive are compared, its own among them.
var longVolumes = map[string][]float64{"module": {52000, 700, 940000}}

func readLongCase(t testing.TB, name string) *longCase {
	t.Helper()
	a, err := txtar.ParseFile(filepath.Join(secondCaseDir, name+".txtar"))
	if err != nil {
		t.Fatal(err)
	}
	c := &longCase{name: name, archive: a, tables: archiveTables(t, a, name)}
	for i, s := range longColumns(t, a, "scenarios", "scenario", 2, 3) {
		volumes := longVolumes[name]
		if volumes == nil {
			volumes = []float64{s.must("annual_volume")}
		}
		for _, v := range volumes {
			c.expected = append(c.expected, longExpected{i, v, reckon(t, a, i, v)})
		}
	}
	return c
}

func archiveTables(t testing.TB, a *txtar.Archive, name string) *table.Case {
	t.Helper()
	tables := fstest.MapFS{}
	for _, f := range a.Files {
		tables[f.Name] = &fstest.MapFile{Data: f.Data}
	}
	c, err := ReadTables(tables, name)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// row finds what longhand has for a line of the engine.
func (c *longhand) row(l costmodel.Entry, scope string) *longRow {
	key := l.Record().Key
	switch scope {
	case "case":
		return c.facts
	case "scenario":
		return c.scenario
	case "plant":
		return c.plants[key]
	case "material":
		return c.materials[key]
	case "machine":
		plant, _ := l.Follow("plant")
		return c.machines[key+" in "+plant.Record().Key].longRow
	case "part":
		return c.parts[key].longRow
	case "operation":
		for _, s := range c.steps() {
			if s.key == key {
				return s.longRow
			}
		}
	case "tool kind":
		return c.kinds[strings.ToLower(key)]
	case "joint":
		for _, s := range c.steps() {
			for _, j := range s.listed {
				if j.key == key {
					return j
				}
			}
		}
	case "link":
		for _, p := range c.usedParts() {
			for _, b := range p.children {
				if b.key == key {
					return b.longRow
				}
			}
		}
	}
	return nil
}

// compare reports each quantity, choice and check that differs from longhand's; told returns false to end.
func (c *longhand) compare(d *costmodel.Detail, told func(string) bool) {
	for _, sc := range d.Plan.Model.Schema.Scopes {
		for _, l := range d.Entries(sc.Name) {
			r := c.row(l, sc.Name)
			checks := map[string]bool{}
			for _, q := range sc.Quantities {
				what := ""
				if q.Check == nil {
					what = r.differs(l, q)
				} else if got, ok := l.Value(q.Name); ok {
					checks[q.Check.Say] = got != 0
				}
				if what != "" && !told(fmt.Sprintf("%s %s, %s: %s", sc.Name, r.key, q.Name, what)) {
					return
				}
			}
			if what := differingChecks(checks, r.holds); what != "" && !told(fmt.Sprintf("%s %s: %s", sc.Name, r.key, what)) {
				return
			}
		}
	}
}

// differingChecks says which checks hold or not otherwise than in longhand, or are looked at by one of the two alone.
func differingChecks(got, want map[string]bool) string {
	if maps.Equal(got, want) {
		return ""
	}
	word := func(of map[string]bool, say string) string {
		if holds, looked := of[say]; looked {
			return map[bool]string{true: "holds", false: "does not hold"}[holds]
		}
		return "is not looked at"
	}
	said := map[string]bool{}
	for _, of := range []map[string]bool{got, want} {
		for say := range of {
			if a, b := word(got, say), word(want, say); a != b {
				said[fmt.Sprintf("the check %q %s, in longhand it %s", say, a, b)] = true
			}
		}
	}
	return strings.Join(slices.Sorted(maps.Keys(said)), "; ")
}

// differs says what a quantity is and should be, or nothing.
func (r *longRow) differs(l costmodel.Entry, q *costmodel.Quantity) string {
	got, ok := l.Value(q.Name)
	if len(q.Options) > 0 {
		if want, known := r.choice[q.Name]; ok && (!known || l.Choice(q.Name) != want) {
			return fmt.Sprintf("%s, in longhand %q", l.Choice(q.Name), want)
		}
		return ""
	}
	want, known := r.number[q.Name]
	known = known && !math.IsNaN(want)
	got /= q.Unit.Factor
	if known != ok || ok && !near(got, want) {
		return fmt.Sprintf("%v (%v), in longhand %v (%v)", got, ok, want, known)
	}
	return ""
}

// TestLonghand compares every quantity of the second case with the same reckoned in longhand.
func TestLonghand(t *testing.T) {
	lib, err := costmodel.LoadLibrary(templates.Files)
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range longCases {
		c := readLongCase(t, name)
		m := costmodel.New(c.tables, lib)
		reportProblems(t, m.Diagnostics)
		for _, e := range c.expected {
			p, ds := m.Compile(m.Scenarios[e.scenario], costmodel.CompileOptions{})
			if p == nil {
				reportProblems(t, ds)
				continue
			}
			told := 0
			e.longhand.compare(p.Detail(e.volume), func(what string) bool {
				told++
				t.Errorf("%s, %s at %v: %s", name, m.Scenarios[e.scenario].Name, e.volume, what)
				return told < 40
			})
		}
	}
}
