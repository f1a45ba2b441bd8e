package costing_test

import (
	"archive/zip"
	"io"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"piececost/scenarios"
	"piececost/scenarios/costing"
)

// quotesFile makes the workbook of the sample case with other tables.
func quotesFile(t *testing.T, change func(name, text string) string) string {
	t.Helper()
	files := fstest.MapFS{}
	names, err := fs.Glob(sampleTables(), "*.csv")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		data, err := fs.ReadFile(sampleTables(), name)
		if err != nil {
			t.Fatal(err)
		}
		files[name] = &fstest.MapFile{Data: []byte(change(name, string(data)))}
	}
	lib, err := costing.Library()
	if err != nil {
		t.Fatal(err)
	}
	w, err := scenarios.Starter(files, lib)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "quotes.xlsx")
	if err := w.Save(t.Context(), path, scenarios.SaveOptions{}); err != nil {
		t.Fatal(err)
	}
	return path
}

// TestRunWithQuotes: a run of a workbook with quotes writes their sheets, without a should-cost too; with errors in them nothing is written.
func TestRunWithQuotes(t *testing.T) {
	for _, c := range []struct {
		name, from, to string
		sheets         bool
		finding        string
	}{
		{"sound", "", "", true, ""},
		{"no rate", "Currency,,,EUR,CZK,EUR", "Currency,,,EUR,HUF,EUR", false, "the sheet Currencies has no rate of HUF"},
		{"no such part", "Part,,B05", "Part,,NONE", true, "no scenario makes the part"},
	} {
		t.Run(c.name, func(t *testing.T) {
			file := quotesFile(t, func(name, text string) string {
				if name == "quotes.csv" && !strings.Contains(text, c.from) {
					t.Fatalf("no %q", c.from)
				}
				return strings.Replace(text, c.from, c.to, 1)
			})
			w, err := costing.Open(t.Context(), file, costing.Options{})
			if err != nil {
				t.Fatal(err)
			}
			r, err := w.Cost(t.Context())
			if err != nil {
				t.Fatal(err)
			}
			out, err := r.Write(t.Context())
			if !c.sheets {
				if err == nil || !strings.Contains(err.Error(), c.finding) {
					t.Errorf("the error is %v", err)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			names := sheetNames(t, file)
			for _, name := range []string{"Quotes on equal terms", "Quotes against should-cost", "Quote findings", "Calculation Quotes"} {
				if !strings.Contains(names, `"`+name+`"`) {
					t.Errorf("no sheet %s", name)
				}
			}
			if !strings.Contains(names, `"Summary"`) {
				t.Error("no Summary")
			}
			found := slices.ContainsFunc(out.Findings, func(d costing.Diagnostic) bool { return strings.Contains(d.Summary, c.finding) })
			if c.finding != "" && !found || out.Findings.HasErrors() || out.Results.Quotes == nil {
				t.Errorf("findings %v, notices %v", out.Findings, out.Notices)
			}
		})
	}
}

// sheetNames is the part of a workbook that names its sheets.
func sheetNames(t *testing.T, file string) string {
	t.Helper()
	z, err := zip.OpenReader(file)
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	f, err := z.Open("xl/workbook.xml")
	if err != nil {
		t.Fatal(err)
	}
	data, err := io.ReadAll(f)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}
