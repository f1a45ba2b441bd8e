package scenarios

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"piececost/costmodel/table"
	"piececost/scenarios/ooxml"
)

// forceRecalculation makes LibreOffice compute every formula on loading; by default it trusts stored values, and a
// comparison would compare them with themselves.
const forceRecalculation = `<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>
`

// recalculate has LibreOffice compute all formulas of workbooks in one start, and returns the folder of the results.
func recalculate(t testing.TB, paths ...string) string {
	t.Helper()
	return convert(t, "xlsx", paths...)
}

// convert has LibreOffice write workbooks in another form, all formulas computed anew.
func convert(t testing.TB, form string, paths ...string) string {
	t.Helper()
	if _, err := exec.LookPath("soffice"); err != nil {
		t.Skip("LibreOffice is not installed (Debian: libreoffice-calc-nogui); the formulas are NOT checked by an independent program")
	}
	dir := t.TempDir()
	profile, out := filepath.Join(dir, "profile"), filepath.Join(dir, "out")
	if err := os.MkdirAll(filepath.Join(profile, "user"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(profile, "user", "registrymodifications.xcu"), []byte(forceRecalculation), 0o644); err != nil {
		t.Fatal(err)
	}
	args := append([]string{"--convert-to", form, "--outdir", out}, paths...)
	if text, err := office(profile, args...).CombinedOutput(); err != nil {
		t.Fatalf("soffice: %v: %s", err, text)
	}
	return out
}

// gnumericRecalculates has gnumeric compute all formulas of a workbook, and returns the path of the result.
func gnumericRecalculates(t testing.TB, path string) string {
	t.Helper()
	if _, err := exec.LookPath("ssconvert"); err != nil {
		t.Skip("gnumeric is not installed (Debian: gnumeric); the formulas are NOT computed by it")
	}
	out := filepath.Join(t.TempDir(), filepath.Base(path))
	if said, err := exec.Command("ssconvert", "--recalc", path, out).CombinedOutput(); err != nil {
		t.Fatalf("%s: ssconvert: %v: %s", filepath.Base(path), err, said)
	}
	return out
}

// gnumericValues has gnumeric compute all formulas of a workbook, and returns the values of its cells by Sheet!Cell. It writes them as tables
// of texts, which takes it and us half the time of a workbook; a number has all its digits in them.
func gnumericValues(t testing.TB, path string) map[string]string {
	t.Helper()
	if _, err := exec.LookPath("ssconvert"); err != nil {
		t.Skip("gnumeric is not installed (Debian: gnumeric); the formulas are NOT computed by it")
	}
	dir := t.TempDir()
	if said, err := exec.Command("ssconvert", "--recalc", "-S", "-T", "Gnumeric_stf:stf_assistant", "-O", "format=raw separator=,", path,
		filepath.Join(dir, "%n.csv")).CombinedOutput(); err != nil {
		t.Fatalf("%s: ssconvert: %v: %s", filepath.Base(path), err, said)
	}
	out := map[string]string{}
	for n, sheet := range sheetNames(t, path) {
		f, err := os.Open(filepath.Join(dir, fmt.Sprintf("%d.csv", n)))
		if err == nil {
			err = eachValue(f, func(row, col int, value string) {
				out[fmt.Sprintf("%s!%s%d", sheet, table.ColumnName(col), row)] = value
			})
			f.Close()
		}
		if err != nil {
			t.Fatal(path, sheet, err)
		}
	}
	return out
}

// sheetNames are the names of a workbook's sheets in their order.
func sheetNames(t testing.TB, path string) (names []string) {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	p, err := ooxml.Open(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range p.Sheets {
		names = append(names, s.Name)
	}
	return names
}

// eachValue visits the cells of a table of texts that hold something. A row is where its line is, less the lines within values before it:
// the reader passes over empty lines, which are rows too.
func eachValue(f io.Reader, visit func(row, col int, value string)) error {
	r := csv.NewReader(f)
	r.FieldsPerRecord, r.ReuseRecord = -1, true
	for within := 0; ; {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			return nil
		} else if err != nil {
			return err
		}
		line, _ := r.FieldPos(0)
		row := line - within
		for i, value := range cells {
			within += strings.Count(value, "\n")
			if value != "" {
				visit(row, i+1, value)
			}
		}
	}
}

// recomputed has gnumeric compute all formulas of a workbook, or LibreOffice with -office-files, which takes three times as long;
// it returns the path of the result.
func recomputed(t testing.TB, path string) string {
	t.Helper()
	if *officeFiles {
		return filepath.Join(recalculate(t, path), filepath.Base(path))
	}
	return gnumericRecalculates(t, path)
}

// recomputedSheet is the sheet of a workbook that recomputed would return, as allCells has it. Of one sheet gnumeric writes the texts alone, which
// is done in half the time.
func recomputedSheet(t *testing.T, path, sheet string) map[string]string {
	t.Helper()
	if *officeFiles {
		return allCells(t, recomputed(t, path), sheet)
	}
	if _, err := exec.LookPath("ssconvert"); err != nil {
		t.Skip("gnumeric is not installed (Debian: gnumeric); the formulas are NOT computed by it")
	}
	out := filepath.Join(t.TempDir(), "sheet.csv")
	if said, err := exec.Command("ssconvert", "--recalc", "-T", "Gnumeric_stf:stf_assistant", "-O", "format=raw separator=, sheet='"+sheet+"'", path,
		out).CombinedOutput(); err != nil {
		t.Fatalf("%s: ssconvert: %v: %s", filepath.Base(path), err, said)
	}
	cells := map[string]string{}
	f, err := os.Open(out)
	if err == nil {
		defer f.Close()
		err = eachValue(f, func(row, col int, value string) { cells[fmt.Sprintf("%s%d", table.ColumnName(col), row)] = value })
	}
	if err != nil {
		t.Fatal(path, sheet, err)
	}
	return cells
}

// office is a start of LibreOffice without a window, with a profile of its own.
func office(profile string, args ...string) *exec.Cmd {
	return exec.Command("soffice", append([]string{"-env:UserInstallation=file://" + profile, "--headless"}, args...)...)
}

// formulaCells lists the formula cells of a workbook as Sheet!Cell.
func formulaCells(t testing.TB, path string) map[string]ooxml.Cell {
	t.Helper()
	out := map[string]ooxml.Cell{}
	eachFormula(t, path, func(sheet string, c *ooxml.Cell) {
		out[fmt.Sprintf("%s!%s%d", sheet, table.ColumnName(c.Col), c.Row)] = *c
	})
	return out
}

// eachFormula visits the formula cells of a workbook.
func eachFormula(t testing.TB, path string, visit func(sheet string, c *ooxml.Cell)) {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	p, err := ooxml.Open(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	for i := range p.Sheets {
		g, err := p.Read(&p.Sheets[i])
		if err != nil {
			t.Fatal(err)
		}
		for j := range g.Cells {
			if g.Cells[j].Formula != "" {
				visit(p.Sheets[i].Name, &g.Cells[j])
			}
		}
	}
}

// compareFormulas compares the values of all formula cells of a workbook with those of its recalculated copy, and returns
// how many there were.
func compareFormulas(t testing.TB, path, recalculated string) int {
	t.Helper()
	n, differences := formulaDifferences(t, path, recalculated)
	sayDifferences(t, path, differences)
	return n
}

// comparePoisoned has gnumeric, or LibreOffice with -office-files, compute a poisoned copy of a workbook, and compares as compareFormulas does.
func comparePoisoned(t testing.TB, path, poisoned string) int {
	t.Helper()
	if *officeFiles {
		return compareFormulas(t, path, recomputed(t, poisoned))
	}
	n, differences := poisonedDifferences(t, path, poisoned)
	sayDifferences(t, path, differences)
	return n
}

func sayDifferences(t testing.TB, path string, differences []string) {
	t.Helper()
	for i, d := range differences {
		if i == 15 {
			t.Errorf("%s: %d cells differ", filepath.Base(path), len(differences))
			break
		}
		t.Error(d)
	}
}

// formulaDifferences compares the values of all formulas of a workbook with those of its recalculated copy; it returns how
// many formulas there are and what differs.
func formulaDifferences(t testing.TB, path, recalculated string) (formulas int, differences []string) {
	t.Helper()
	got := formulaCells(t, recalculated)
	return differencesFrom(path, formulaCells(t, path), func(at string) (string, bool) {
		c, ok := got[at]
		return c.Value, ok
	})
}

// poisonedDifferences is formulaDifferences with the values that gnumeric computes in a poisoned copy: a formula that it did not take for one
// keeps its wrong value.
func poisonedDifferences(t testing.TB, path, poisoned string) (formulas int, differences []string) {
	t.Helper()
	got := gnumericValues(t, poisoned)
	return differencesFrom(path, formulaCells(t, path), func(at string) (string, bool) { return got[at], true })
}

// differencesFrom compares formula cells with what another program has for them, and whether it has a formula there.
func differencesFrom(path string, want map[string]ooxml.Cell, other func(at string) (value string, there bool)) (formulas int, differences []string) {
	for _, at := range sortedKeys(want) {
		w := want[at]
		g, ok := other(at)
		if !ok || !sameCell(w.Value, g) && !cancelled(want, at, g) {
			differences = append(differences, fmt.Sprintf("%s %s: piececost %q, recalculated %q (formula there: %v): %s", filepath.Base(path), at, w.Value,
				g, ok, w.Formula))
		}
	}
	return len(want), differences
}

// cancelled tells whether a value differs from another only by what is lost in a difference of large numbers: the floor is
// 1e-9 of the largest operand, the cells that the formula names.
func cancelled(cells map[string]ooxml.Cell, at, other string) bool {
	x, err1 := strconv.ParseFloat(cells[at].Value, 64)
	y, err2 := strconv.ParseFloat(other, 64)
	if err1 != nil || err2 != nil {
		return false
	}
	sheet, _, _ := strings.Cut(at, "!")
	largest := 0.0
	for _, m := range operand.FindAllStringSubmatch(cells[at].Formula, -1) {
		on, cell := strings.ReplaceAll(m[1], "''", "'"), strings.ReplaceAll(m[2], "$", "")
		if on == "" {
			on = sheet
		}
		if v, err := strconv.ParseFloat(cells[on+"!"+cell].Value, 64); err == nil {
			largest = math.Max(largest, math.Abs(v))
		}
	}
	return math.Abs(x-y) <= 1e-9*largest
}

// operand is a cell in a formula, of its own sheet or another.
var operand = regexp.MustCompile(`(?:'((?:[^']|'')+)'!)?(\$?[A-Z]{1,3}\$?[0-9]+)\b`)

// sameCell compares numbers with a relative tolerance of 1e-9 and an absolute floor for what cancels out to nothing.
func sameCell(a, b string) bool {
	if a == b {
		return true
	}
	x, err1 := strconv.ParseFloat(a, 64)
	y, err2 := strconv.ParseFloat(b, 64)
	return err1 == nil && err2 == nil && math.Abs(x-y) <= 1e-9*math.Max(math.Abs(x), math.Abs(y))+1e-9
}

// saveResults writes results into their workbook.
func saveResults(t testing.TB, path string, r *Result) {
	t.Helper()
	w, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := w.Write(t.Context(), r); err != nil {
		t.Fatal(err)
	}
	if err := w.Save(t.Context(), path, SaveOptions{Replace: true}); err != nil {
		t.Fatal(err)
	}
}

// writtenLive are workbooks with results by the workbook that was costed: several tests begin with the same one.
var writtenLive = map[string][]byte{}

// writeLive runs a case and saves the workbook with its results.
func writeLive(t testing.TB, path string) {
	t.Helper()
	before, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if after, ok := writtenLive[string(before)]; ok {
		if err := os.WriteFile(path, after, 0o600); err != nil {
			t.Fatal(err)
		}
		return
	}
	saveResults(t, path, resultOf(t, path))
	after, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	writtenLive[string(before)] = after
}

// TestDemoRecalculated has an independent program compute the sample's result workbook.
func TestDemoRecalculated(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "tray.xlsx")
	saveSample(t, path)
	writeLive(t, path)
	poisoned := filepath.Join(dir, "poisoned.xlsx")
	poison(t, path, poisoned)
	out := recalculate(t, poisoned) // the test proves itself: wrong stored values do not survive
	if n := compareFormulas(t, path, filepath.Join(out, "poisoned.xlsx")); n < 5000 {
		t.Errorf("only %d formula cells", n)
	} else {
		t.Logf("%d formula cells", n)
	}
}

// poison copies a workbook with every stored value of a formula replaced by a wrong one.
func poison(t testing.TB, from, to string) {
	t.Helper()
	raw := unzip(t, from)
	changed := 0
	for name, data := range raw {
		if strings.HasPrefix(name, "xl/worksheets/") {
			text := string(data)
			var b strings.Builder
			for {
				i := strings.Index(text, "</f><v>")
				if i < 0 {
					break
				}
				j := strings.Index(text[i:], "</v>")
				b.WriteString(text[:i] + "</f><v>-77</v>")
				text = text[i+j+len("</v>"):]
				changed++
			}
			b.WriteString(text)
			raw[name] = []byte(b.String())
		}
	}
	if changed < formulasAtLeast {
		t.Fatalf("only %d values poisoned", changed)
	}
	rezip(t, to, raw)
}
