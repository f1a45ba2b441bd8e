package scenarios

import (
	"html"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"piececost/costmodel/table"

	"piececost/costmodel/study"
)

// printedPages is how many pages each result sheet of the sample takes on A4; the inputs and the method are those of its quotes too.
var printedPages = map[string]int{
	statementSheet: 1, summarySheet: 2, breakdownSheet: 6, billSheet: 3, partSheet: 56, ratesSheet: 3, investmentSheet: 6, curveSheet: 1,
	crossoverSheet: 5, sensitivitySheet: 4, volumeSheet: 6, compareSheet: 9, mapSheet: 2, solveSheet: 1, trialSheet: 4,
	checksSheet: 5, inputsSheet: 40, methodSheet: 16,
}

// longPrints are sheets of many pages, which take LibreOffice as long as all others together: they are printed with -office-files, as in make
// check, and else hidden.
var longPrints = []string{partSheet, inputsSheet, methodSheet}

var footer = regexp.MustCompile(`tray\.xlsx\s+(\S.*?)\s+\d+ / \d+`)

// printed are the pages of the sample's result workbook with all studies and the sheets of its quotes, printed once for all tests that look at
// pages: LibreOffice takes longer to print a workbook than to compute it.
var printed struct {
	once  sync.Once
	pages []string
}

// printedSample returns the pages of printed as texts.
func printedSample(t *testing.T) []string {
	t.Helper()
	for _, needed := range []string{"pdftotext", "soffice"} {
		if _, err := exec.LookPath(needed); err != nil {
			t.Skip(needed + " is not installed (Debian: poppler-utils, libreoffice-calc-nogui); the printed sheets are NOT checked")
		}
	}
	printed.once.Do(func() {
		path := filepath.Join(t.TempDir(), "tray.xlsx")
		writeSampleWithAll(t, path)
		if !*officeFiles {
			hideSheets(t, path)
		}
		pdf := filepath.Join(convert(t, "pdf", path), "tray.pdf")
		text, err := exec.Command("pdftotext", "-layout", pdf, "-").Output()
		if err != nil {
			t.Fatal(err)
		}
		printed.pages = strings.Split(string(text), "\f")
	})
	if printed.pages == nil {
		t.Fatal("the sample was not printed; the first test that looked at its pages says why")
	}
	return printed.pages
}

// hideSheets hides inputs, calculations and the sheets of many pages: they are not printed.
func hideSheets(t *testing.T, path string) {
	t.Helper()
	parts := unzip(t, path)
	parts["xl/workbook.xml"] = sheetTag.ReplaceAllFunc(parts["xl/workbook.xml"], func(tag []byte) []byte {
		name := html.UnescapeString(string(sheetTag.FindSubmatch(tag)[1]))
		if table.LayoutOf(name) != nil || strings.HasPrefix(name, "Calculation ") || slices.Contains(longPrints, name) {
			return append([]byte(`<sheet state="hidden"`), tag[len("<sheet"):]...)
		}
		return tag
	})
	rezip(t, path, parts)
}

var sheetTag = regexp.MustCompile(`<sheet [^>]*name="([^"]*)"[^>]*>`)

// writeSampleWithAll saves the sample with its results, all studies and the sheets of its quotes.
func writeSampleWithAll(t *testing.T, path string) {
	t.Helper()
	saveSample(t, path)
	r := resultOf(t, path)
	for i, d := range r.Details {
		s, err := d.Plan.Sweep([]float64{5000, 10000, 20000, 40000, 60000, 80000, 100000, 150000, 200000, 300000})
		if err != nil {
			t.Fatal(err)
		}
		r.Sweeps[i] = s
	}
	addStudies(t, r)
	r.Trials = []*study.Trial{tryCover(t, r)}
	r.Quotes = askModel(t, r.Details[0].Plan.Model)
	saveResults(t, path, r)
}

// tryCover tries the cover of the sample in three grades at five gauges.
func tryCover(t *testing.T, r *Result) *study.Trial {
	t.Helper()
	p := r.Details[0].Plan
	out, err := study.Try(t.Context(), p.Model, p, study.TrialAsk{Part: "A01", Grades: []string{"M01", "M02", "M05"}})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// TestPrintedSheets looks at the sample's printed result workbook: no number is too wide for its column, and each sheet takes the
// pages it is laid out for.
func TestPrintedSheets(t *testing.T) {
	pages := map[string]int{}
	for _, page := range printedSample(t) {
		m := footer.FindAllStringSubmatch(page, -1)
		if len(m) == 0 {
			continue
		}
		sheet := "" // labels of a chart may stand in the same line, on either side of the name
		for _, words := range strings.Split(m[len(m)-1][1], "   ") {
			if _, listed := printedPages[strings.TrimSpace(words)]; listed {
				sheet = strings.TrimSpace(words)
			}
		}
		pages[sheet]++
		if strings.Contains(page, "###") {
			t.Errorf("sheet %s: a number is too wide for its column", sheet)
		}
	}
	for sheet, want := range printedPages {
		if !*officeFiles && slices.Contains(longPrints, sheet) {
			want = 0
		}
		if pages[sheet] != want {
			t.Errorf("sheet %s takes %d pages, want %d", sheet, pages[sheet], want)
		}
	}
}
