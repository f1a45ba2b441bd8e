package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/xuri/excelize/v2"

	"piececost/scenarios/costing/wire"
)

// TestAnswersKeepTheirSchema: what every command answers with --json over the sample is what `piececost schema` says; each
// kind of answer is among them. A key that is renamed or gone, at any depth, is noticed.
func TestAnswersKeepTheirSchema(t *testing.T) {
	file := filepath.Join(t.TempDir(), "tray.xlsx")
	wordsCommand(t, 0, "new", "--sample", "battery-tray", file)
	faulty := filepath.Join(filepath.Dir(file), "faulty.xlsx")
	setCells(t, file, faulty, map[string]any{"Parts!D2": "cast", "Materials!A2": "M05"})
	withFormulas(t, faulty)
	coil := "Materials/M04/Base price"
	seen := map[string]bool{}
	for _, c := range []struct {
		answer string
		args   []string
	}{
		{"check", []string{"check"}},
		{"run", []string{"run"}},
		{"sweep", []string{"sweep"}},
		{"crossover", []string{"crossover", "--from", "20000", "--to", "60000"}},
		{"stability", []string{"crossover", "--stability", "--scenario", "C", "--from", "20000", "--to", "60000"}},
		{"compare", []string{"compare", "--equipment-allocation"}},
		{"volumes", []string{"volumes", "--volumes", "20000,60000"}},
		{"combine", []string{"combine", "--volume", "60000", "--max-mass", "70"}},
		{"combine", []string{"combine", "--volume", "60000"}},
		{"solve", []string{"solve", "--scenario", "B", "--equals", "A", "--input", coil}},
		{"solve", []string{"solve", "--scenario", "B", "--parity", "A", "--volume", "60000"}},
		{"sensitivity", []string{"sensitivity", "--difference", "A,C", "--volume", "60000"}},
		{"sensitivity", []string{"sensitivity", "--scenario", "A", "--elasticities"}},
		{"table", []string{"sensitivity", "--scenario", "A", "--x", "Annual volume", "--y", coil}},
		{"map", []string{"map", "--x", "Annual volume", "--y", coil}},
		{"fit", []string{"fit", pastToolsBook(t, filepath.Dir(file))}},
		{"fit", []string{"fit", filepath.Join(filepath.Dir(file), "tools.xlsx"), "--accept", "--unreliable"}},
		{"explain", []string{"explain", "--scenario", "A", "--quantity", "piece_cost"}},
		{"lint", []string{"lint", "--all"}},
		{"lint", []string{"lint", faulty}},
		{"check", []string{"check", faulty}},
		{"quotes", []string{"quotes"}},
		{"split", []string{"quotes", "--split"}},
		{"clause", []string{"quotes", "--clause", "Q3", "--notice", "12"}},
		{"change", []string{"quotes", "--quote", "Q1", "--change", "1=0.2"}},
		{"processes", []string{"processes", "tube hydroforming"}},
		{"grades", []string{"grades", "1.0338"}},
		{"trial", []string{"trial", "--scenario", "A", "--part", "A01"}},
		{"functions", []string{"processes", "--functions"}},
	} {
		seen[c.answer] = true
		what := strings.Join(c.args, " ")
		if !slices.Contains(c.args, faulty) && c.args[0] != "processes" && c.args[0] != "fit" && c.args[0] != "grades" {
			c.args = slices.Insert(c.args, 1, file)
		}
		raw := answerOf(t, append(c.args, "--json")...)
		one, any := schemaOf(t, c.answer), schemaOf(t, "")
		if err := one.Validate(parsed(t, raw)); err != nil {
			t.Errorf("%s: %v", what, err)
		}
		if err := any.Validate(parsed(t, raw)); err != nil {
			t.Errorf("%s is none of the answers: %v", what, err)
		}
		all := brokenKeys(parsed(t, raw))
		if len(all) < 10 && slices.Contains(c.args, faulty) || len(all) < 4 {
			t.Errorf("%s: only %d keys seen", what, len(all))
		}
		for _, broken := range all {
			if one.Validate(broken.answer) == nil {
				t.Errorf("%s: nobody notices that %s is called otherwise", what, broken.key)
			}
		}
	}
	for _, name := range wire.Names() {
		if !seen[name] {
			t.Errorf("no command answers with %s", name)
		}
	}
}

// pastToolsBook is a workbook with past tools of two kinds, one of them too few.
func pastToolsBook(t *testing.T, dir string) string {
	t.Helper()
	empty, file := filepath.Join(dir, "empty.xlsx"), filepath.Join(dir, "tools.xlsx")
	wordsCommand(t, 0, "new", empty)
	cells := map[string]any{}
	for i, d := range [][4]float64{{30000, 40, 6, 4}, {42500, 70, 8, 6}, {51000, 90, 9, 1}, {58000, 110, 7, 9}, {75000, 100, 12, 14},
		{91000, 160, 14, 3}, {40000, 900, 1, 2}} {
		kind := "progressive die"
		if i == 6 {
			kind = "press die"
		}
		for c, v := range []any{fmt.Sprintf("T%d", i), kind, d[0], nil, d[1], d[2], d[3]} {
			if v != nil {
				cells[fmt.Sprintf("Past tools!%s%d", string(rune('A'+c)), i+2)] = v
			}
		}
	}
	setCells(t, empty, file, cells)
	return file
}

// withFormulas adds a sheet with weak spots for lint to a workbook.
func withFormulas(t *testing.T, file string) {
	t.Helper()
	f, err := excelize.OpenFile(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if _, err := f.NewSheet("Own"); err != nil {
		t.Fatal(err)
	}
	for i := 1; i <= 6; i++ {
		at := fmt.Sprint(i)
		if err := errors.Join(f.SetCellValue("Own", "A"+at, i), f.SetCellFormula("Own", "B"+at, "A"+at+"*1.0375")); err != nil {
			t.Fatal(err)
		}
	}
	if err := f.Save(); err != nil {
		t.Fatal(err)
	}
}

// schemaOf is the schema that the command prints, ready to judge.
func schemaOf(t *testing.T, answer string) *jsonschema.Schema {
	t.Helper()
	args := []string{"schema"}
	if answer != "" {
		args = append(args, answer)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("schema.json", parsed(t, answerOf(t, args...))); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// answerOf is what a command writes to standard output.
func answerOf(t *testing.T, args ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	if code := run(args, strings.NewReader(""), &out, &errs); code != 0 && errs.Len() > 0 {
		t.Fatalf("%v: exit %d, %s", args, code, errs.String())
	}
	return out.String()
}

func parsed(t *testing.T, raw string) any {
	t.Helper()
	v, err := jsonschema.UnmarshalJSON(strings.NewReader(raw))
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// A brokenAnswer is an answer with one key called otherwise.
type brokenAnswer struct {
	key    string
	answer any
}

// brokenKeys are the answers with the first key of each name called otherwise, wherever it is; those under elements, which
// are the case's, are left out.
func brokenKeys(answer any) []brokenAnswer {
	var out []brokenAnswer
	var walk func(v any, seen map[string]bool)
	walk = func(v any, seen map[string]bool) {
		switch v := v.(type) {
		case []any:
			for _, x := range v {
				walk(x, seen)
			}
		case map[string]any:
			for _, key := range slices.Sorted(maps.Keys(v)) {
				if !seen[key] {
					seen[key] = true
					value := v[key]
					delete(v, key)
					v[key+"_"] = value
					out = append(out, brokenAnswer{key, cloned(answer)})
					delete(v, key+"_")
					v[key] = value
				}
				if m, isMap := v[key].(map[string]any); !isMap || key != "elements" || len(m) == 0 {
					walk(v[key], seen)
				}
			}
		}
	}
	walk(answer, map[string]bool{})
	return out
}

func cloned(v any) any {
	raw, err := json.Marshal(v)
	if err != nil {
		panic(err)
	}
	out, err := jsonschema.UnmarshalJSON(bytes.NewReader(raw))
	if err != nil {
		panic(err)
	}
	return out
}
