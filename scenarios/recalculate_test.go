package scenarios

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"piececost/costmodel"
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
	office, err := exec.LookPath("soffice")
	if err != nil {
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
	args := append([]string{"-env:UserInstallation=file://" + profile, "--headless", "--convert-to", form, "--outdir", out}, paths...)
	if text, err := exec.Command(office, args...).CombinedOutput(); err != nil {
		t.Fatalf("soffice: %v: %s", err, text)
	}
	return out
}

// formulaCells lists the formula cells of a workbook as Sheet!Cell: stored value.
func formulaCells(t testing.TB, path string) map[string]string {
	t.Helper()
	out := map[string]string{}
	eachFormula(t, path, func(sheet string, c *ooxml.Cell) {
		out[fmt.Sprintf("%s!%s%d", sheet, costmodel.ColumnName(c.Col), c.Row)] = c.Value
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
	want, got := formulaCells(t, path), formulaCells(t, recalculated)
	bad := 0
	for at, w := range want {
		g, ok := got[at]
		if !ok || !sameCell(w, g) {
			if bad++; bad <= 15 {
				t.Errorf("%s %s: piececost %q, recalculated %q (formula there: %v)", filepath.Base(path), at, w, g, ok)
			}
		}
	}
	if bad > 15 {
		t.Errorf("%s: %d cells differ", filepath.Base(path), bad)
	}
	return len(want)
}

// sameCell compares numbers with a relative tolerance of 1e-9 and an absolute floor for what cancels out to nothing.
func sameCell(a, b string) bool {
	if a == b {
		return true
	}
	x, err1 := strconv.ParseFloat(a, 64)
	y, err2 := strconv.ParseFloat(b, 64)
	return err1 == nil && err2 == nil && math.Abs(x-y) <= 1e-9*math.Max(math.Abs(x), math.Abs(y))+1e-9
}

// writeLive runs a case and saves the workbook with its results.
func writeLive(t testing.TB, path string) {
	t.Helper()
	r := resultOf(t, path)
	w, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := w.Write(r); err != nil {
		t.Fatal(err)
	}
	if err := w.Save(path, SaveOptions{Replace: true}); err != nil {
		t.Fatal(err)
	}
}

// TestDemoRecalculated has an independent program compute the sample's result workbook.
func TestDemoRecalculated(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "tray.xlsx")
	saveSample(t, path)
	writeLive(t, path)
	poisoned := filepath.Join(dir, "poisoned.xlsx")
	poison(t, path, poisoned)
	out := recalculate(t, path, poisoned)
	if n := compareFormulas(t, path, filepath.Join(out, "tray.xlsx")); n < 5000 {
		t.Errorf("only %d formula cells", n)
	} else {
		t.Logf("%d formula cells", n)
	}
	// the test proves itself: wrong stored values do not survive
	compareFormulas(t, path, filepath.Join(out, "poisoned.xlsx"))
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
	if changed < 1000 {
		t.Fatalf("only %d values poisoned", changed)
	}
	rezip(t, to, raw)
}
