package costmodel

import (
	"bytes"
	"strings"
	"testing"
)

// TestRulesAtStart: a rule that no check states any more, one that is unknown, and one that compares what can't be compared are
// errors when the library is loaded.
func TestRulesAtStart(t *testing.T) {
	files := templatesInMemory(t)
	for _, c := range []struct{ file, old, new, message string }{
		{"equations/2-plant.yaml", ", rule: day,", ",", `no check states the rule "day"`},
		{"", ", rule: force,", ",", `no check states the rule "force"`},
		{"equations/2-plant.yaml", "rule: day,", "rule: week,", `there is no rule "week"`},
		{"equations/4-machine.yaml", "needs: pool_lines_needed", "needs: lines_of_pool", `there is no quantity "lines_of_pool" of a machine`},
		{"equations/4-machine.yaml", "needs: pool_lines_needed, ", "", `there is no quantity "" of a machine`},
		{"equations/4-machine.yaml", "needs: pool_lines_needed", "needs: pool_hours", "pool_hours and pool_machines have different units"},
		{"processes/strip-layout-and-coil-blanking.yaml", "has: machine.rated_force", "has: machines.rated_force", "machines.rated_force leads to no row"},
	} {
		found := false
		err := loadWith(files, func(path string, text []byte) []byte {
			if c.file != "" && path != c.file {
				return text
			}
			found = found || bytes.Contains(text, []byte(c.old))
			return bytes.ReplaceAll(text, []byte(c.old), []byte(c.new))
		})
		if !found {
			t.Errorf("%s has no %q", c.file, c.old)
		} else if err == nil || !strings.Contains(err.Error(), c.message) {
			t.Errorf("%s for %s: %v", c.new, c.old, err)
		}
	}
}

// TestForceByDeclaration: a force is what a check says must not be more than the machine gives, whatever its name.
func TestForceByDeclaration(t *testing.T) {
	files := templatesInMemory(t)
	for path, f := range files {
		if strings.HasPrefix(path, "processes/") {
			for _, word := range []string{"cutting", "forming", "closing"} {
				f.Data = bytes.ReplaceAll(f.Data, []byte(word+"_force"), []byte(word+"_thrust"))
			}
			files[path] = f
		}
	}
	lib, err := LoadLibrary(files)
	if err != nil {
		t.Fatal(err)
	}
	tables := sampleTables(t)
	for _, limit := range []string{"", "1"} {
		if limit != "" { // kN, of every machine
			rows := strings.Split(strings.TrimSpace(tables["Machines"]), "\n")
			for i := range rows {
				rows[i] += "," + map[bool]string{true: "Rated force [kN]", false: limit}[i == 0]
			}
			tables["Machines"] = strings.Join(rows, "\n")
			steps := strings.Split(strings.TrimSpace(tables["Operations"]), "\n")
			for i := range steps {
				thrust := map[bool]string{true: "50"}[strings.Contains(steps[i], "coil blanking")]
				steps[i] += "," + map[bool]string{true: "Cutting thrust [kN]", false: thrust}[i == 0]
			}
			tables["Operations"] = strings.Join(steps, "\n")
		}
		m := New(tables.read(t), lib)
		broken := 0
		for _, s := range m.Scenarios {
			p, ds := m.Compile(s, CompileOptions{})
			if p == nil {
				t.Fatal(m.Diagnostics, ds)
			}
			for _, l := range p.Detail(s.Volume).Entries("operation") {
				for _, b := range l.Breaks(ForceRule) {
					if broken++; b.Has != 1000 || b.Needs <= b.Has || b.Limit.Label != "Rated force" {
						t.Errorf("%+v", b)
					}
				}
			}
		}
		if (broken > 0) != (limit != "") {
			t.Errorf("rated force %q: %d operations break it", limit, broken)
		}
	}
}
