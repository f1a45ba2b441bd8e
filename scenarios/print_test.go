package scenarios

import (
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// printedPages is how many pages each result sheet of the sample takes on A4.
var printedPages = map[string]int{
	statementSheet: 1, summarySheet: 2, breakdownSheet: 6, billSheet: 3, partSheet: 56, ratesSheet: 3, investmentSheet: 6, curveSheet: 1,
	crossoverSheet: 5, sensitivitySheet: 4, volumeSheet: 6, compareSheet: 8, mapSheet: 2, solveSheet: 1,
	checksSheet: 4, inputsSheet: 35, methodSheet: 11,
}

var footer = regexp.MustCompile(`tray\.xlsx\s+(\S.*?)\s+\d+ / \d+`)

// TestPrintedSheets prints the sample's result workbook: no number is too wide for its column, and each sheet takes the
// pages it is laid out for.
func TestPrintedSheets(t *testing.T) {
	if _, err := exec.LookPath("pdftotext"); err != nil {
		t.Skip("pdftotext is not installed (Debian: poppler-utils); the printed sheets are NOT checked")
	}
	dir := t.TempDir()
	path := filepath.Join(dir, "tray.xlsx")
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
	pdf := filepath.Join(convert(t, "pdf", path), "tray.pdf")
	text, err := exec.Command("pdftotext", "-layout", pdf, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	pages := map[string]int{}
	for _, page := range strings.Split(string(text), "\f") {
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
		if pages[sheet] != want {
			t.Errorf("sheet %s takes %d pages, want %d", sheet, pages[sheet], want)
		}
	}
}
