package scenarios

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"piececost/scenarios/ooxml"
	"piececost/templates"
)

// Other programs open what is written, and read of every formula the value and the format that are meant: gnumeric
// (gnumeric.org), which computes all formulas anew, openpyxl (openpyxl.readthedocs.io), exceljs (github.com/exceljs/exceljs)
// and SheetJS (sheetjs.com). `make interop` runs all that are there; without -interop only gnumeric is asked.
var interop = flag.Bool("interop", false, "open written workbooks with openpyxl, exceljs and SheetJS too (make interop)")

// interopBooks writes the workbooks that are opened: empty, the sample, the sample costed, and a workbook that another
// program wrote, with sheets of its own, costed in place; with them the result of make demo, which has a sheet of every
// study. Without -interop it is the costed sample alone.
func interopBooks(t *testing.T) []string {
	t.Helper()
	dir := t.TempDir()
	costed := filepath.Join(dir, "costed.xlsx")
	saveSample(t, costed)
	writeLive(t, costed)
	if !*interop {
		return []string{costed}
	}
	empty, sample, foreign := filepath.Join(dir, "empty.xlsx"), filepath.Join(dir, "sample.xlsx"), filepath.Join(dir, "foreign.xlsx")
	tables, err := fs.Sub(templates.Files, "samples/empty")
	if err != nil {
		t.Fatal(err)
	}
	saveTables(t, tables, empty)
	saveSample(t, sample)
	foreignBook(t, sample, foreign)
	writeLive(t, foreign)
	books := []string{empty, sample, costed, foreign, bareBook(t, sample)}
	if demo := filepath.Join("..", "demo", "battery-tray.xlsx"); fileThere(demo) {
		full, err := filepath.Abs(demo)
		if err != nil {
			t.Fatal(err)
		}
		books = append(books, full)
	}
	return books
}

func fileThere(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}

// bareBook is the sample without any style, as some programs write workbooks, with the results in it.
func bareBook(t *testing.T, from string) (path string) {
	t.Helper()
	path = filepath.Join(filepath.Dir(from), "bare.xlsx")
	parts := unzip(t, from)
	delete(parts, "xl/styles.xml")
	for name, without := range map[string]string{"xl/_rels/workbook.xml.rels": `<Relationship [^>]*styles\.xml[^>]*>(</Relationship>)?`,
		"[Content_Types].xml": `<Override [^>]*styles\.xml[^>]*>(</Override>)?`} {
		parts[name] = regexp.MustCompile(without).ReplaceAll(parts[name], nil)
	}
	for name := range parts {
		if strings.HasPrefix(name, "xl/worksheets/sheet") {
			parts[name] = regexp.MustCompile(`(<[a-z]+ [^>]*?) (s|style)="\d+"`).ReplaceAll(parts[name], []byte("$1"))
		}
	}
	rezip(t, path, parts)
	w, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := w.Write(t.Context(), resultOf(t, from)); err != nil {
		t.Fatal(err)
	}
	if err := w.Save(t.Context(), path, SaveOptions{Replace: true}); err != nil {
		t.Fatal(err)
	}
	return path
}

// foreignBook is the sample as the library saves it, with a sheet of a user's and other properties.
func foreignBook(t *testing.T, from, to string) {
	t.Helper()
	f, err := excelize.OpenFile(from)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	share := "0.0##%"
	style, err1 := f.NewStyle(&excelize.Style{CustomNumFmt: &share, Font: &excelize.Font{Italic: true, Family: "Arial", Size: 9}})
	_, err2 := f.NewSheet("My own")
	err3 := f.SetCellFloat("My own", "B2", 12, -1, 64)
	err4 := f.SetCellFormula("My own", "B2", "Case!C7*2")
	err5 := f.SetCellStyle("My own", "B2", "B2", style)
	f.Pkg.Store("docProps/core.xml", []byte(`<cp:coreProperties xmlns:cp="http://schemas.openxmlformats.org/package/2006/metadata/core-properties" `+
		`xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:dcterms="http://purl.org/dc/terms/" `+
		`xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance"><dc:creator>somebody</dc:creator><cp:lastModifiedBy>somebody `+
		`else</cp:lastModifiedBy><dcterms:created xsi:type="dcterms:W3CDTF">2025-03-04T05:06:07Z</dcterms:created></cp:coreProperties>`))
	if err := f.SaveAs(to); err != nil || err1 != nil || err2 != nil || err3 != nil || err4 != nil || err5 != nil {
		t.Fatal(err, err1, err2, err3, err4, err5)
	}
}

// TestInteropGnumeric: gnumeric computes every formula of poisoned copies as the engine does.
func TestInteropGnumeric(t *testing.T) {
	if _, err := exec.LookPath("ssconvert"); err != nil {
		t.Skip("gnumeric is not installed (Debian: gnumeric); the formulas are NOT computed by it")
	}
	for _, path := range interopBooks(t) {
		dir := t.TempDir()
		poisoned, out := path, filepath.Join(dir, "out.xlsx")
		costed := len(formulaCells(t, path)) > 1000
		if costed {
			poisoned = filepath.Join(dir, "poisoned.xlsx")
			poison(t, path, poisoned)
		}
		if said, err := exec.Command("ssconvert", "--recalc", poisoned, out).CombinedOutput(); err != nil {
			t.Errorf("%s: ssconvert: %v: %s", filepath.Base(path), err, said)
			continue
		}
		n := compareFormulas(t, path, out)
		if t.Logf("%s: %d formulas", filepath.Base(path), n); costed && n < 5000 {
			t.Errorf("%s: only %d formulas", filepath.Base(path), n)
		}
	}
}

// TestInteropReaders: what the libraries read is what is meant.
func TestInteropReaders(t *testing.T) {
	if !*interop {
		t.Skip("openpyxl, exceljs and SheetJS are asked by make interop")
	}
	tools := filepath.Join("..", "testdata", "interop")
	books := interopBooks(t)
	for _, p := range []struct {
		name, missing string
		check, read   []string
	}{
		{"openpyxl", "Debian: python3-openpyxl", []string{"/usr/bin/python3", "-c", "import openpyxl"}, []string{"/usr/bin/python3", "read-openpyxl.py"}},
		{"exceljs", "npm ci in testdata/interop", []string{"node", "-e", "require('exceljs')"}, []string{"node", "read-exceljs.js"}},
		{"SheetJS", "npm ci in testdata/interop", []string{"node", "-e", "require('xlsx')"}, []string{"node", "read-sheetjs.js"}},
	} {
		t.Run(p.name, func(t *testing.T) {
			check := exec.Command(p.check[0], p.check[1:]...)
			check.Dir = tools
			if check.Run() != nil {
				t.Skipf("%s is missing (%s): written workbooks are NOT opened with it", p.name, p.missing)
			}
			for _, path := range books {
				read := exec.Command(p.read[0], append(slices.Clone(p.read[1:]), path)...)
				var out, said bytes.Buffer
				read.Dir, read.Stdout, read.Stderr = tools, &out, &said
				if err := read.Run(); err != nil {
					t.Errorf("%s: %v: %s", filepath.Base(path), err, said.String())
					continue
				}
				compareReading(t, path, out.Bytes())
			}
		})
	}
}

// A readBack is what a library reads of a workbook; a cell is its value and its format.
type readBack struct {
	Sheets []string
	Normal bool // it has a default cell style
	Cells  map[string][2]any
}

func compareReading(t *testing.T, path string, out []byte) {
	t.Helper()
	var got readBack
	if err := json.Unmarshal(out, &got); err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenFile(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	book := filepath.Base(path)
	if !slices.Equal(got.Sheets, f.GetSheetList()) || !got.Normal {
		t.Errorf("%s: sheets %q, default cell style: %v", book, got.Sheets, got.Normal)
	}
	want, values, formats := formulaCells(t, path), 0, 0
	for _, at := range sortedKeys(want) {
		g, ok := got.Cells[at]
		if value := readValue(g[0]); !ok || !sameCell(want[at].Value, value) {
			if values++; values < 10 {
				t.Errorf("%s %s: stored %q, read %q (formula there: %v)", book, at, want[at].Value, value, ok)
			}
		}
		if format := formatOfCell(t, f, want[at]); ok && g[1] != format {
			if formats++; formats < 10 {
				t.Errorf("%s %s: format %q, read %q", book, at, format, g[1])
			}
		}
	}
	if t.Logf("%s: %d formulas", book, len(want)); len(got.Cells) != len(want) || values+formats > 0 {
		t.Errorf("%s: %d formulas, read %d; %d other values, %d other formats", book, len(want), len(got.Cells), values, formats)
	}
}

// readValue is a value as a cell stores it.
func readValue(v any) string {
	switch v := v.(type) {
	case nil:
		return ""
	case float64:
		return strconv.FormatFloat(v, 'g', -1, 64)
	case bool:
		if v {
			return "1"
		}
		return "0"
	}
	return fmt.Sprint(v)
}

// formatOfCell is the number format of a cell's style.
func formatOfCell(t *testing.T, f *excelize.File, c ooxml.Cell) string {
	t.Helper()
	style, err := f.GetStyle(c.Style)
	if err != nil {
		t.Fatal(err)
	}
	switch {
	case style.CustomNumFmt != nil:
		return *style.CustomNumFmt
	case style.NumFmt == 0:
		return "General"
	}
	return strings.TrimSpace(fmt.Sprint(builtInFormats[style.NumFmt]))
}

// builtInFormats are those of ECMA-376 part 1, 18.8.30 that are used.
var builtInFormats = map[int]string{1: "0", 2: "0.00", 3: "#,##0", 4: "#,##0.00", 9: "0%", 10: "0.00%"}
