package scenarios

import (
	"archive/zip"
	"io"
	"io/fs"
	"os"
	"sort"
	"testing"

	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/templates"
)

// testLibrary loads the equations.
func testLibrary(t testing.TB) *costmodel.Library {
	t.Helper()
	lib, err := costmodel.LoadLibrary(templates.Files)
	if err != nil {
		t.Fatal(err)
	}
	return lib
}

// saveSample writes the sample workbook.
func saveSample(t testing.TB, path string) {
	t.Helper()
	tables, err := fs.Sub(templates.Files, "samples/battery-tray")
	if err != nil {
		t.Fatal(err)
	}
	saveTables(t, tables, path)
}

// saveTables writes a workbook from CSV tables.
func saveTables(t testing.TB, tables fs.FS, path string) {
	t.Helper()
	w, err := Starter(tables, testLibrary(t))
	if err != nil {
		t.Fatal(err)
	}
	if err := w.Save(path, SaveOptions{Replace: true}); err != nil {
		t.Fatal(err)
	}
}

// resultOf reads and costs a workbook; a case with errors fails the test.
func resultOf(t testing.TB, path string) *Result {
	t.Helper()
	c, err := Read(path)
	if err != nil {
		t.Fatal(err)
	}
	return resultOfCase(t, c)
}

// resultOfCase costs a case; one with errors fails the test.
func resultOfCase(t testing.TB, c *costmodel.Case) *Result {
	t.Helper()
	m := costmodel.New(c, testLibrary(t))
	ds := m.Diagnostics
	r := &Result{}
	for _, s := range m.Scenarios {
		p, more := m.Compile(s, costmodel.CompileOptions{})
		ds = append(ds, more...)
		if p == nil {
			continue
		}
		r.Details = append(r.Details, p.Detail(s.Volume))
		sweep, err := p.Sweep([]float64{s.Volume / 2, s.Volume, 2 * s.Volume})
		if err != nil {
			t.Fatal(err)
		}
		r.Sweeps = append(r.Sweeps, sweep)
	}
	for _, d := range ds.Sorted() {
		if d.Severity == costmodel.Error {
			t.Fatal(d)
		}
	}
	r.Compare = &CompareStudy{Comparison: study.Compare(r.Details, 0)}
	return r
}

func unzip(t testing.TB, path string) map[string][]byte {
	t.Helper()
	z, err := zip.OpenReader(path)
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	out := map[string][]byte{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		if out[f.Name], err = io.ReadAll(r); err != nil {
			t.Fatal(err)
		}
		r.Close()
	}
	return out
}

func rezip(t testing.TB, path string, parts map[string][]byte) {
	t.Helper()
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	z := zip.NewWriter(f)
	var names []string
	for n := range parts {
		names = append(names, n)
	}
	sort.Strings(names)
	for _, n := range names {
		w, err := z.Create(n)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write(parts[n]); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
}
