package scenarios

import (
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/rogpeppe/go-internal/txtar"

	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/costmodel/units"
	"piececost/templates"
)

const publishedDir = "../testdata/published"

// A wanted is one line of a section want; testdata/published/README.md gives the grammar.
type wanted struct {
	scenario   string
	volume     float64 // 1/yr
	scope, key string
	quantity   string
	value      float64 // in unit, as is within
	unit       string
	within     float64
	other      string // the second scenario of a cross-over, with
	low, high  float64
}

// wantedWords splits a line at blanks; a name with blanks stands in quotation marks.
func wantedWords(line string) ([]string, error) {
	var out []string
	for rest := strings.TrimSpace(line); rest != ""; rest = strings.TrimSpace(rest) {
		end := strings.IndexByte(rest, ' ')
		if rest[0] == '"' {
			end = strings.IndexByte(rest[1:], '"') + 2
			if end < 2 {
				return nil, fmt.Errorf("a quotation mark is not closed")
			}
		} else if end < 0 {
			end = len(rest)
		}
		out = append(out, strings.Trim(rest[:end], `"`))
		rest = rest[end:]
	}
	return out, nil
}

// parseWanted reads a line that is neither empty nor a remark.
func parseWanted(line string) (wanted, error) {
	w, err := wantedWords(line)
	if err != nil {
		return wanted{}, err
	}
	if len(w) > 0 && w[0] == "cross-over" {
		return parseCrossOver(w)
	}
	if len(w) > 4 && (w[4] == "scenario" || w[4] == "case") {
		w = append(w[:5], append([]string{""}, w[5:]...)...)
	}
	if len(w) != 12 || w[0] != "scenario" || w[2] != "volume" || w[7] != "=" || w[10] != "within" {
		return wanted{}, fmt.Errorf("not of the form: scenario NAME volume N SCOPE KEY QUANTITY = NUMBER UNIT within NUMBER")
	}
	out := wanted{scenario: w[1], scope: w[4], key: w[5], quantity: w[6], unit: w[9]}
	err = wantedNumbers([]string{w[3], w[8], w[11]}, &out.volume, &out.value, &out.within)
	if err == nil && (out.volume <= 0 || out.within <= 0) {
		err = fmt.Errorf("the volume and the tolerance must be above 0")
	}
	return out, err
}

func parseCrossOver(w []string) (wanted, error) {
	if len(w) != 7 || w[3] != "between" || w[5] != "and" {
		return wanted{}, fmt.Errorf("not of the form: cross-over NAME NAME between N and N")
	}
	out := wanted{scenario: w[1], other: w[2]}
	err := wantedNumbers([]string{w[4], w[6]}, &out.low, &out.high)
	if err == nil && !(out.low > 0 && out.low < out.high) {
		err = fmt.Errorf("the second volume must be above the first, and both above 0")
	}
	return out, err
}

func wantedNumbers(texts []string, into ...*float64) error {
	for i, text := range texts {
		v, err := strconv.ParseFloat(text, 64)
		if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("%q is no number", text)
		}
		*into[i] = v
	}
	return nil
}

// publishedCase is an archive read and compiled.
type publishedCase struct {
	comment string
	plans   map[string]*costmodel.Plan // by scenario
	want    []wanted
}

func readPublished(t *testing.T, path string, lib *costmodel.Library) publishedCase {
	a, err := txtar.ParseFile(path)
	if err != nil {
		t.Fatal(err)
	}
	p := publishedCase{comment: string(a.Comment), plans: map[string]*costmodel.Plan{}}
	tables := fstest.MapFS{}
	for _, f := range a.Files {
		if f.Name != "want" {
			tables[f.Name] = &fstest.MapFile{Data: f.Data}
			continue
		}
		for i, line := range strings.Split(string(f.Data), "\n") {
			if line = strings.TrimSpace(line); line == "" || line[0] == '#' {
				continue
			}
			w, err := parseWanted(line)
			if err != nil {
				t.Errorf("line %d of want, %s: %v", i+1, line, err)
			}
			p.want = append(p.want, w)
		}
	}
	onlyTables(t, tables)
	p.compile(t, costmodel.New(imported(t, tables, lib, ImportOptions{}), lib))
	return p
}

// emptyStarters are empty workbooks as new makes them, one for each library: many tests fill one.
var emptyStarters = map[*costmodel.Library][]byte{}

// imported fills an empty workbook from tables, as the command does, and reads it.
func imported(t testing.TB, tables fs.FS, lib *costmodel.Library, options ImportOptions) *table.Case {
	t.Helper()
	path := filepath.Join(t.TempDir(), "imported.xlsx")
	if emptyStarters[lib] == nil {
		empty, err := fs.Sub(templates.Files, "samples/empty")
		if err != nil {
			t.Fatal(err)
		}
		w, err := Starter(empty, lib)
		if err == nil {
			err = w.Save(t.Context(), path, SaveOptions{})
		}
		if err != nil {
			t.Fatal(err)
		}
		emptyStarters[lib], _ = os.ReadFile(path)
	}
	if err := os.WriteFile(path, emptyStarters[lib], 0o600); err != nil {
		t.Fatal(err)
	}
	w, err := OpenStarter(path)
	if err != nil {
		t.Fatal(err)
	}
	options.Library = lib
	if _, err := w.Import(tables, options); err != nil {
		t.Fatal(err)
	}
	c, err := caseOf(w.f, "imported.xlsx")
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// onlyTables reports a section that an import would pass over.
func onlyTables(t *testing.T, tables fstest.MapFS) {
	known := map[string]bool{}
	for _, l := range table.Layouts {
		known[table.Normalise(l.Sheet)+".csv"] = true
	}
	for name := range tables {
		if !known[name] {
			t.Errorf("section %s is no input table", name)
		}
	}
}

func (p *publishedCase) compile(t *testing.T, m *costmodel.Model) {
	reportProblems(t, m.Diagnostics)
	for _, s := range m.Scenarios {
		plan, ds := m.Compile(s, costmodel.CompileOptions{})
		reportProblems(t, ds)
		if plan == nil {
			t.Fatalf("scenario %s is not costed", s.Name)
		}
		p.plans[s.Name] = plan
	}
}

// reportProblems fails on errors and shows warnings with -v.
func reportProblems(t *testing.T, ds table.Diagnostics) {
	for _, d := range ds.Sorted() {
		if d.Severity == table.Error {
			t.Error(d)
		} else {
			t.Log(d)
		}
	}
}

func (p *publishedCase) check(t *testing.T, w wanted) {
	plan := p.plans[w.scenario]
	if plan == nil {
		t.Fatalf("no scenario %q", w.scenario)
	}
	if w.other != "" {
		p.checkCrossOver(t, plan, w)
		return
	}
	at := fmt.Sprintf("%s, %v per year, %s %s %s", w.scenario, w.volume, w.scope, w.key, w.quantity)
	var found []costmodel.Entry
	for _, l := range plan.Detail(w.volume).Entries(w.scope) {
		if w.key == "" || l.Record().Key == w.key {
			found = append(found, l)
		}
	}
	if len(found) != 1 {
		t.Fatalf("%s: %d rows, wanted is one", at, len(found))
	}
	got, err := lineInUnit(found[0], w.quantity, w.unit, plan.Model.Schema.Units)
	if err != nil {
		t.Fatalf("%s: %v", at, err)
	}
	// the last binary digit, where a rounded half was printed; a got that is no number fails
	if !(math.Abs(got-w.value) <= w.within+1e-12*math.Abs(w.value)) {
		t.Errorf("%s: %v %s, published %v within %v", at, got, w.unit, w.value, w.within)
	}
}

// lineInUnit returns a quantity in the unit of the line, which must measure the same as its own.
func lineInUnit(l costmodel.Entry, quantity, unit string, sys *units.System) (float64, error) {
	v, own, ok := l.In(quantity)
	if !ok {
		return 0, fmt.Errorf("no such quantity")
	}
	have, err := sys.Parse(own)
	if err != nil {
		return 0, err
	}
	want, err := sys.Parse(unit)
	if err != nil {
		return 0, err
	}
	if have.Dim != want.Dim {
		return 0, fmt.Errorf("it is in %s, not in %s", own, unit)
	}
	return v * have.Factor / want.Factor, nil
}

// checkCrossOver checks that the first scenario is the cheaper one at the low volume and the more expensive one at the high.
func (p *publishedCase) checkCrossOver(t *testing.T, plan *costmodel.Plan, w wanted) {
	other := p.plans[w.other]
	if other == nil {
		t.Fatalf("no scenario %q", w.other)
	}
	difference := func(volume float64) float64 {
		return plan.Detail(volume).Scenario().Must("annual_cost") - other.Detail(volume).Scenario().Must("annual_cost")
	}
	if low, high := difference(w.low), difference(w.high); !(low < 0 && high > 0) {
		t.Errorf("%s less %s is %v at %v and %v at %v; wanted is a cost below at first and above then", w.scenario, w.other, low, w.low, high, w.high)
	}
}

// TestPublished runs worked examples and table values of the literature through the product.
func TestPublished(t *testing.T) {
	lib, err := costmodel.LoadLibrary(templates.Files)
	if err != nil {
		t.Fatal(err)
	}
	readme, err := os.ReadFile(filepath.Join(publishedDir, "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	paths, err := filepath.Glob(filepath.Join(publishedDir, "*.txtar"))
	listed := regexp.MustCompile(`(?m)^- [A-Z][0-9]{2} `).FindAll(readme, -1)
	if err != nil || len(paths) != len(listed) {
		t.Errorf("%d archives (%v), README.md lists %d", len(paths), err, len(listed))
	}
	for _, path := range paths {
		id := strings.TrimSuffix(filepath.Base(path), ".txtar")
		t.Run(id, func(t *testing.T) {
			if !strings.Contains(string(readme), "- "+id+" ") {
				t.Errorf("README.md has no line for %s", id)
			}
			p := readPublished(t, path, lib)
			for _, say := range []string{id + ": ", "\nInputs: ", "\nPublished: ", "\nTolerance: ", "\nSource: ", "\nHow sure: ", "\nModel: "} {
				if !strings.Contains("\n"+p.comment, say) {
					t.Errorf("the comment has no line %q", strings.TrimSpace(say))
				}
			}
			if len(p.want) == 0 {
				t.Error("nothing is wanted")
			}
			for _, w := range p.want {
				p.check(t, w)
			}
		})
	}
}

// TestPublishedGrammar holds that a line of want that can't be read is an error.
func TestPublishedGrammar(t *testing.T) {
	for _, line := range []string{
		`scenario "A" volume 10 scenario piece_cost = 1.23 EUR within 0.005`,
		`scenario "A b" volume 10 operation P/10 required_hours = 1e3 h/yr within 1`,
		`cross-over "A" "B" between 9.5 and 10.5`,
	} {
		if _, err := parseWanted(line); err != nil {
			t.Errorf("%s: %v", line, err)
		}
	}
	for _, line := range []string{
		`scenario "A" volume 10 scenario piece_cost = 1.23 EUR`,
		`scenario "A" volume 10 scenario piece_cost = 1.23 EUR within 0`,
		`scenario "A" volume 10 scenario piece_cost = 1.23 within 0.005`,
		`scenario "A" volume 10 operation required_hours = 12 h/yr within 0.005`,
		`scenario "A" volume ten scenario piece_cost = 1.23 EUR within 0.005`,
		`scenario "A" volume 10 scenario piece_cost = NaN EUR within 0.005`,
		`scenario "A volume 10 scenario piece_cost = 1.23 EUR within 0.005`,
		`cross-over "A" "B" between 10.5 and 9.5`,
		`cross-over "A" "B" near 10`,
	} {
		if w, err := parseWanted(line); err == nil {
			t.Errorf("%s: read as %+v", line, w)
		}
	}
}
