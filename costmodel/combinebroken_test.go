package costmodel

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"piececost/costmodel/plan"
)

// TestCombineBroken holds that a row with an error takes those combinations away that have it, no others, and changes no
// cost: of each kind of row, found with the tables or only when costed.
func TestCombineBroken(t *testing.T) {
	lib, err := libraryOfTests()
	if err != nil {
		t.Fatal(err)
	}
	base := manyAlternatives(t)
	base["Bill of materials"] = strings.Replace(base["Bill of materials"], "TRAY_A,P02,28,30,,", "TRAY_A,P02,28,30,nuts,", 1) +
		"TRAY_A,P02,30,30,more nuts,invented\n"
	sets := tagSets(t, base.model(t))
	for name, of := range map[string]struct{ sheet, old, with, row string }{
		"a gauge with a comma":         {"Parts", ",thin,sheet,M01,0.65,", `,thin,sheet,M01,"0,65",`, "part A01 of thin"},
		"a gauge that is missing":      {"Parts", ",thin,sheet,M01,0.65,", ",thin,sheet,M01,,", "part A01 of thin"},
		"a material that is not there": {"Parts", ",sheet,M01,0.65,", ",sheet,M91,0.65,", "part A01 of thin"},
		"a machine that is not there":  {"Operations", "E03,,transfer,", "E93,,transfer,", "operation A01/20 of transfer"},
		"a process that is not there": {"Operations", "tandem press forming,E05,,fluid", "tandem press farming,E05,,fluid",
			"operation A01/20 of fluid"},
		"an optional operation": {"Operations", "E13,,sealed,10,1,", `E13,,sealed,"1,5",1,`, "operation TRAY_A/20 of sealed"},
		"an operation without its time": {"Operations", "adhesive application,E13,,sealed,10,", "end cutting and washing,E13,,sealed,,",
			"operation TRAY_A/20 of sealed"},
		"the operation at which parts join":   {"Operations", "spot welding,E11,,spot", "spot melting,E11,,spot", ""},
		"an operation whose number is a word": {"Operations", "TRAY_A,40,", "TRAY_A,last,", "operation TRAY_A/last of checked"},
		"an operation of no part":             {"Operations", "TRAY_A,40,", "TRAY_Q,40,", "operation TRAY_Q/40 of checked"},
		"a link":                              {"Bill of materials", "P02,30,30,more nuts", `P02,"3,0",30,more nuts`, "link TRAY_A/P02 of more nuts"},
		"a link to no part":                   {"Bill of materials", "P02,30,30,more nuts", "Q02,30,30,more nuts", "link TRAY_A/Q02 of more nuts"},
	} {
		t.Run(name, func(t *testing.T) {
			tables := csvCase{}
			for k, v := range base {
				tables[k] = v
			}
			if n := strings.Count(tables[of.sheet], of.old); n == 0 || n > 1 && of.row != "" {
				t.Fatalf("%q stands %d times", of.old, n)
			}
			tables[of.sheet] = strings.ReplaceAll(tables[of.sheet], of.old, of.with)
			m, left, aside := New(tables.read(t), lib).ForCombining()
			c, ds := m.Combiner(m.Scenarios[0])
			if c == nil {
				t.Fatal(m.Diagnostics, ds)
			}
			left = append(left, c.LeftOut()...)
			if len(left) == 0 || of.row != "" && (len(left) != 1 || left[0].Row+" of "+strings.Join(left[0].Tags, ", ") != of.row) {
				t.Fatalf("left out: %+v, %v", left, aside)
			}
			broken := map[string]bool{}
			for _, l := range left {
				broken[fmt.Sprint(l.record.Sheet, l.record.Row)] = true
			}
			compareBroken(t, sets, c, broken)
		})
	}
}

// tagSet is a set of tags of a sound model: whether it is a combination, and then what it costs and which rows it has.
type tagSet struct {
	tags  []string
	valid bool
	cost  float64
	rows  map[string]bool
}

// tagSets looks at every set of tags.
func tagSets(t *testing.T, m *Model) []tagSet {
	t.Helper()
	c, ds := m.Combiner(m.Scenarios[0])
	if c == nil {
		t.Fatal(ds)
	}
	var out []tagSet
	in := make([]bool, len(c.Tags()))
	for bits := range 1 << len(in) {
		for i := range in {
			in[i] = bits>>i&1 == 1
		}
		s := tagSet{tags: c.With(in).Alternatives, rows: map[string]bool{}}
		if s.valid = c.Add(in, 60_000); s.valid {
			cost, _ := c.Cost()
			s.cost = cost[0]
			p := mustCompile(t, m, c.With(in), CompileOptions{})
			for e := range p.Entities() {
				r := p.RowRecord(plan.Entity(e))
				s.rows[fmt.Sprint(r.Sheet, r.Row)] = true
			}
		}
		out = append(out, s)
	}
	return out
}

// compareBroken holds that a set of tags is a combination where it is one of the sound model without a broken row, and
// costs the same.
func compareBroken(t *testing.T, sets []tagSet, c *Combiner, broken map[string]bool) {
	t.Helper()
	has, without := 0, 0
	for _, s := range sets {
		in, known, hit := make([]bool, len(c.Tags())), true, false
		for _, tag := range s.tags {
			if n := c.Tag(tag); n >= 0 {
				in[n] = true
			} else {
				known = false // it stood on the broken row alone
			}
		}
		for row := range broken {
			hit = hit || s.rows[row]
		}
		ok := known && c.Add(in, 60_000)
		if ok != (s.valid && !hit) {
			t.Fatalf("%v: a combination of the sound model %v, has a broken row %v, is a combination %v", s.tags, s.valid, hit, ok)
		}
		if hit {
			has++
		}
		if !ok {
			continue
		}
		without++
		if got, _ := c.Cost(); !(math.Abs(got[0]-s.cost) <= 1e-12*s.cost) {
			t.Fatalf("%v: %v, without an error %v", s.tags, got[0], s.cost)
		}
	}
	if has == 0 || without == 0 {
		t.Errorf("%d combinations have a broken row, %d have none: no test", has, without)
	}
}

// TestCombineNotBroken: errors elsewhere, in rows that a scenario counts, and two rows of one key and tag stay errors.
func TestCombineNotBroken(t *testing.T) {
	lib, err := libraryOfTests()
	if err != nil {
		t.Fatal(err)
	}
	for name, change := range map[string]func(csvCase){
		"a row without a tag": func(c csvCase) {
			c.replace(t, "Operations", "A01,10,blank from coil,coil blanking,E01", "A01,10,blank from coil,coil blanking,E91")
		},
		"a machine": func(c csvCase) { c["Machines"] = strings.Replace(c["Machines"], "shared", "shered", 1) },
		"a row that counts": func(c csvCase) {
			c.replace(t, "Operations", "E03,,transfer,", "E93,,transfer,")
			c.replace(t, "Scenarios", ",,Alternatives,,", ",,Alternatives,transfer,")
		},
		"two rows of one key": func(c csvCase) {
			c["Parts"] += "A01,again,thin,sheet,M01,0.6,1760,1340,,97,14,,,invented\n"
		},
	} {
		t.Run(name, func(t *testing.T) {
			c := manyAlternatives(t)
			change(c)
			m, _, _ := New(c.read(t), lib).ForCombining()
			if !m.Diagnostics.HasErrors() {
				t.Error("no error is left")
			}
			if c, _ := m.Combiner(m.Scenarios[0]); c != nil {
				t.Error("it is combined")
			}
		})
	}
}
